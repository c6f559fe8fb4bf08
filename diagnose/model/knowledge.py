"""What a craftsman knows: sources, hazards, causes with their corrections, defects with their rules."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from functools import cached_property
from typing import Literal

from diagnose.model.condition import Condition
from diagnose.model.record import Record

Weight = Literal["slight", "positive", "strong", "very strong"]
Often = Literal["common", "occasional", "rare"]
Speaks = Literal["for", "against"]


class Source(Record):
    """A published work."""

    key: str
    author: str
    title: str
    year: str
    published: str = ""
    read: Literal["whole", "part", "abstract", "no"] = "no"

    def citation(self) -> str:
        """Return the work as one line."""
        return f"{self.author}, {self.title}, {self.year}" + (f", {self.published}" if self.published else "")


class Hazard(Record):
    """A caution of a stage: always shown, or shown when a condition holds or a dangerous idea is typed."""

    name: str
    stage: str
    says: str
    always: bool = False
    when: Condition | None = None
    words: tuple[str, ...] = ()
    source: str


class Bound(Record):
    """A limit of a move: a number (SI) or the name of a fact that holds the number."""

    value: float | None = None
    fact: str | None = None


class Move(Record):
    """A change of one setting: to a value, to a fact, by a step, or into its window."""

    setting: str
    how: Literal["to value", "to fact", "by step", "into window"]
    value: float | None = None
    fact: str | None = None
    floor: Bound | None = None
    ceiling: Bound | None = None
    in_steps_of: float | None = None

    @property
    def stride(self) -> float | None:
        """Return how far it goes before one looks at the next part; None where it goes all the way at once. [SI]"""
        return abs(self.value) if self.how == "by step" and self.value is not None else self.in_steps_of


class Correction(Record):
    """What to do about a cause, what it costs, what it can worsen, and how to tell that it worked."""

    do: str
    moves: tuple[Move, ...] = ()
    minutes: float = 10.0
    material: Literal["none", "low", "medium", "high"] = "none"
    worsens: tuple[str, ...] = ()
    worsens_also: str = ""
    how_to_tell: str
    cautions: tuple[str, ...] = ()
    when: Condition | None = None
    source: str


class Cause(Record):
    """Why it happened: the mechanism and what to do about it."""

    id: str
    stage: str
    name: str
    how: str
    corrections: tuple[Correction, ...]


class Rule(Record):
    """A condition over facts that speaks for or against a cause of a defect."""

    id: str
    cause: str
    speaks: Speaks
    weight: Weight
    when: Condition
    about: str
    because: str
    source: str
    differs: str = ""
    line: int = 0

    @cached_property
    def key(self) -> str:
        """Return the id with a fingerprint of the condition: what was counted of another condition is not its own."""
        return f"{self.id} {hashlib.sha256(self.when.model_dump_json().encode()).hexdigest()[:8]}"


class Candidate(Record):
    """A cause (or, by hand-over, an earlier defect) that a defect may have."""

    cause: str
    often: Often
    rules: tuple[Rule, ...]
    hand_over: bool = False
    because: str = ""
    line: int = 1


class LookAlike(Record):
    """Another defect that this one is mistaken for, and how to tell."""

    defect: str
    tell: str
    when: Condition | None = None


class Expectation(Record):
    """What a worked example must lead to."""

    first: str | None = None
    verdict: str | None = None
    advise: tuple[str, ...] = ()
    never: tuple[str, ...] = ()


class Example(Record):
    """A worked example inside a defect file."""

    name: str
    facts: Mapping[str, str]
    expect: Expectation


class Defect(Record):
    """What is wrong, named for what is seen, with its candidate causes."""

    id: str
    stage: str
    name: str
    looks: str
    words: tuple[str, ...]
    mistaken_for: tuple[LookAlike, ...]
    candidates: tuple[Candidate, ...]
    examples: tuple[Example, ...] = ()
    file: str = ""

    def rules(self) -> tuple[Rule, ...]:
        """Return every rule of the defect, in file order."""
        return tuple(rule for candidate in self.candidates for rule in candidate.rules)
