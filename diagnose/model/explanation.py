"""Why a diagnosis says what it says; its JSON form is a contract (see `diagnose schema explanation`)."""

from __future__ import annotations

from typing import Literal

from diagnose.model.comparison import GoodRun
from diagnose.model.diagnosis import Diagnosis, Evidence
from diagnose.model.record import Record


class Outcome(Record):
    """One way that something not yet known may turn out (any of some answers), and what it would do to one cause."""

    answers: tuple[str, ...]
    chance: float
    probability: float
    first: str


class Unknown(Record):
    """Something not known that would move a cause: what to ask, and where each answer would put it."""

    name: str
    kind: str
    question: str
    effort: str
    outcomes: tuple[Outcome, ...]


class Balance(Record):
    """The evidence on one cause laid out: for, against, said by another sign already, and not known."""

    cause: str
    name: str
    stage: str
    probability: float
    often: str
    how: str = ""
    here: str = ""
    speaks_for: tuple[Evidence, ...] = ()
    speaks_against: tuple[Evidence, ...] = ()
    says_the_same: tuple[Evidence, ...] = ()
    would_matter: tuple[Unknown, ...] = ()


class Input(Record):
    """What a calculation used: told, computed before, of the material, or assumed within bounds."""

    name: str
    value: str
    origin: Literal["told", "computed", "material", "assumed"]
    bounds: str = ""
    source: str = ""


class Unfolded(Record):
    """A computed number opened up: formula in words, the same with the values put in, inputs, sources."""

    name: str
    value: str
    range: str = ""
    says: str = ""
    calculator: str
    title: str
    formula: tuple[str, ...] = ()
    with_values: tuple[str, ...] = ()
    inputs: tuple[Input, ...] = ()
    sources: tuple[str, ...] = ()


class Change(Record):
    """One fact that would have to be otherwise."""

    name: str
    now: str
    then: str


class Way(Record):
    """A smallest set of changes that would make a cause first, and its probability then."""

    changes: tuple[Change, ...]
    probability: float


class WhyNot(Record):
    """Why a cause is not first: what speaks against it, what is missing, and what would have to be different."""

    cause: str
    name: str
    probability: float
    first: str
    first_name: str
    speaks_against: tuple[Evidence, ...] = ()
    missing: tuple[str, ...] = ()
    ways: tuple[Way, ...] = ()


class Shift(Record):
    """What one outcome of a test would make of a cause."""

    cause: str
    name: str
    now: float
    then: tuple[float, ...]


class Settling(Record):
    """A test that would settle most for its effort: its outcomes, and the ranking before and after each."""

    name: str
    kind: str
    question: str
    effort: str
    steps: tuple[str, ...] = ()
    caution: str = ""
    outcomes: tuple[tuple[str, ...], ...]
    """Answers that lead to the same are one outcome."""
    chances: tuple[float, ...]
    table: tuple[Shift, ...]


class Link(Record):
    """One link of the chain from what was set to what is seen; `open` where it is not known yet how it begins."""

    kind: Literal["open", "setting", "computed", "cause", "sign", "defect"]
    words: str
    because: str = ""
    stage: str = ""


class Explanation(Record):
    """Everything that stands behind one diagnosis, and behind the earlier fault that it points to."""

    schema_version: int = 1
    defect: str
    defect_name: str
    stage: str
    balances: tuple[Balance, ...]
    numbers: tuple[Unfolded, ...] = ()
    why_not: tuple[WhyNot, ...] = ()
    settling: tuple[Settling, ...] = ()
    chain: tuple[Link, ...] = ()
    upstream: Explanation | None = None


class ExplainedDiagnosis(Diagnosis):
    """A diagnosis together with why it says so, and what a good run says to it if one was named."""

    explanation: Explanation
    good_run: GoodRun | None = None
