"""An exercise for a class, and how an attempt at it was marked."""

from __future__ import annotations

from typing import Literal

from diagnose.model.case import Case
from diagnose.model.record import Record

Level = Literal[1, 2, 3]
LEVELS: dict[int, str] = {
    1: "the settings and two signs are told",
    2: "the settings are told, the signs must be asked for",
    3: "only the defect is told, and it is not one of the likeliest causes",
}


class Exercise(Record):
    """A bad part whose cause is hidden: all that asking can bring out, and what is told at the start."""

    title: str
    level: Level
    case: Case
    told: tuple[str, ...] = ()
    """Names of the facts that the student is given."""
    cause: str
    origin: str = ""
    """Where the part comes from, for the student to know."""
    story: str = ""
    """What happened, in plain words; it never names the cause."""
    ending: tuple[str, ...] = ()
    """What is said of the part after the marking."""


class Asked(Record):
    """A fact the student asked for, and what it did for the hidden cause."""

    name: str
    answer: str
    minutes: float
    bits: float
    """How much it raised the hidden cause, given everything else that was known. [bit]"""


class NumberMark(Record):
    """A setting the student would change, beside the computed one."""

    setting: str
    proposed: str
    computed: str
    steps_off: float
    """Distance in usual steps of that setting."""


class Points(Record):
    """A part of the score."""

    what: str
    got: float
    most: float


class Marking(Record):
    """What an attempt was worth, and why."""

    exercise: str
    defect: str
    level: int
    hidden: str
    hidden_name: str
    named: str
    right: bool
    followed_the_evidence: bool
    """Whether the named cause was the likeliest on what the student had asked for."""
    probability: float
    """Of the hidden cause, on what the student knew."""
    asked: tuple[Asked, ...] = ()
    decisive: tuple[str, ...] = ()
    redundant: tuple[str, ...] = ()
    missed: tuple[Asked, ...] = ()
    ending: tuple[str, ...] = ()
    how: str = ""
    """How the hidden cause works."""
    mend: str = ""
    """What to do about it, and how to tell that it worked."""
    cautions: tuple[str, ...] = ()
    minutes: float
    minutes_enough: float
    """What the program's own questions cost on the same part."""
    numbers: tuple[NumberMark, ...] = ()
    score: int = 0
    points: tuple[Points, ...] = ()
    """What the score is made of."""
