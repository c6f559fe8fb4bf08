"""Text from people or files made safe for a terminal: shown, never obeyed."""

from __future__ import annotations

import unicodedata

LIMIT = 2000


def clean(text: str, keep_lines: bool = False) -> str:
    """Return the text without control, format and private characters; line ends become spaces unless kept."""
    out = []
    for ch in text[:LIMIT] if not keep_lines else text:
        kind = unicodedata.category(ch)
        if ch == "\n" and keep_lines:
            out.append(ch)
        elif ch in "\t\r\n\v\f":
            out.append(" ")
        elif kind in ("Cc", "Cs"):
            out.append("\N{REPLACEMENT CHARACTER}")
        elif kind not in ("Cf", "Co", "Cn"):
            out.append(ch)
    return "".join(out)


def harmless_cell(text: str) -> str:
    """Return a text for a spreadsheet's cell: what would be taken for a formula is marked as text."""
    return "'" + text if text.lstrip()[:1] in ("=", "+", "-", "@", "|", "%") and not _is_number(text) else text


def _is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True
