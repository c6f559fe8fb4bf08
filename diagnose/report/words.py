"""What a word means, as lines."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from diagnose.consult.meaning import Meaning
from diagnose.report.screen_lines import Line, Page


def meaning_lines(found: Iterable[Meaning], width: int, says: Callable[[str], str] = str) -> list[Line]:
    """Return each meaning: the word, what kind of thing it is, what it says in a reader's units, its source."""
    page = Page(width)
    for meaning in found:
        page.say(f"{meaning.word} - {meaning.kind}", 0, 2, "strong")
        page.say(says(meaning.says), 2)
        if meaning.source:
            page.say(f"Source: {meaning.source}", 2, style="faint")
    return page.lines
