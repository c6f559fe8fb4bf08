"""The glossary from its files, one for each stage; read only when somebody asks what a word means."""

from __future__ import annotations

from diagnose.model.glossary import Word
from diagnose.rulebase import formats
from diagnose.rulebase.cursor import Cursor


def read_words(c: Cursor, stage: str) -> list[tuple[Word, int]]:
    """Return the words that a stage's glossary file explains, each with its line."""
    c.only("glossary")
    found = []
    for name, entry in c.children("glossary"):
        entry.only(*formats.WORD.keys)
        word = entry.attempt(
            lambda name=name, entry=entry: Word(  # type: ignore[misc]
                name=name, stage=stage, says=entry.text("says"), also=entry.texts("also"), source=entry.source()
            )
        )
        if word:
            found.append((word, entry.line))
    return found
