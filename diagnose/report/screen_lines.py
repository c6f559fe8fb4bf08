"""A page of wrapped lines for a terminal of any width."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Sequence
from typing import NamedTuple

from diagnose.model.clean import clean


class Line(NamedTuple):
    """One line of a screen and its style: plain, head, strong or faint."""

    text: str
    style: str = "plain"


class Page:
    """Collects wrapped lines of a fixed width; `says` gives each sentence in the units of its reader."""

    def __init__(self, width: int, says: Callable[[str], str] = str) -> None:
        self.width, self.says = max(min(width, 100), 30), says
        self.lines: list[Line] = []

    def head(self, text: str) -> None:
        """Add a heading with an empty line before it."""
        if self.lines:
            self.lines.append(Line(""))
        self.say(self.says(text).upper(), style="head")

    def say(self, text: str, indent: int = 0, hang: int | None = None, style: str = "plain") -> None:
        """Add a wrapped paragraph."""
        first, rest = " " * indent, " " * (indent if hang is None else hang)
        body = textwrap.wrap(clean(self.says(text)), self.width, initial_indent=first, subsequent_indent=rest) or [""]
        self.lines += [Line(line, style) for line in body]

    def item(self, text: str, indent: int = 2) -> None:
        """Add a wrapped list item."""
        self.say("- " + text, indent, indent + 2)

    def table(self, head: tuple[str, ...], rows: Sequence[tuple[str, ...]]) -> None:
        """Add a table whose cells are wrapped to fit; the first row of it stands out."""
        count = len(head)
        longest = [max(len(clean(row[n])) for row in (head, *rows)) for n in range(count)]
        room = self.width - 2 * (count - 1)
        widths = [min(wanted, max(room // count, 8)) for wanted in longest]
        spare = room - sum(widths)
        for n in sorted(range(count), key=lambda n: widths[n] - longest[n]):
            more = min(longest[n] - widths[n], spare)
            widths[n], spare = widths[n] + more, spare - more
        for style, row in (("faint", head), *(("plain", row) for row in rows)):
            cells = [textwrap.wrap(clean(cell), widths[n]) or [""] for n, cell in enumerate(row)]
            for line in range(max(map(len, cells))):
                parts = [(c[line] if line < len(c) else "").ljust(w) for c, w in zip(cells, widths, strict=True)]
                self.lines.append(Line("  ".join(parts).rstrip(), style))
