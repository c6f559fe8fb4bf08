"""A word of the trade and what it means in plain words."""

from __future__ import annotations

from diagnose.model.record import Record


class Word(Record):
    """One entry of the glossary; `also` are other names for the same thing."""

    name: str
    stage: str
    says: str
    also: tuple[str, ...] = ()
    source: str
