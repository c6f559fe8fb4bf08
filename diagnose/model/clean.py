"""Text from people or files made safe for a terminal: shown, never obeyed."""

from __future__ import annotations

import unicodedata

LIMIT = 2000
STACKED = 4  # marks on one letter: more than any script stacks, and they would run into the lines above and below
FORMULA = "=+-@|%\N{FULLWIDTH EQUALS SIGN}\N{FULLWIDTH PLUS SIGN}\N{FULLWIDTH HYPHEN-MINUS}\N{FULLWIDTH COMMERCIAL AT}"


def clean(text: str, keep_lines: bool = False) -> str:
    """Return the text without control, format and private characters; line ends become spaces unless kept."""
    out: list[str] = []
    marks = 0
    for ch in text[:LIMIT] if not keep_lines else text:
        kind = unicodedata.category(ch)
        if kind in ("Cf", "Co", "Cn"):
            continue
        marks = marks + 1 if kind in ("Mn", "Me") else 0
        if marks > STACKED:
            continue
        if ch == "\n" and keep_lines:
            out.append(ch)
        elif ch in "\t\r\n\v\f":
            out.append(" ")
        elif kind in ("Cc", "Cs"):
            out.append("\N{REPLACEMENT CHARACTER}")
        else:
            out.append(ch)
    return "".join(out)


def harmless_cell(text: str) -> str:
    """Return a text for a spreadsheet's cell: what would be taken for a formula is marked as text."""
    first = text.lstrip()[:1]
    return "'" + text if first and first in FORMULA and not _is_number(text) else text


def _is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True
