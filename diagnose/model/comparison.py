"""Two cases side by side, and a bad run against a good one; their JSON forms are contracts."""

from __future__ import annotations

from typing import Literal

from diagnose.model.diagnosis import Diagnosis, Evidence
from diagnose.model.record import Record

FactKind = Literal["setting", "material", "computed", "observation"]


class FactPair(Record):
    """A fact in two cases, as a person would read it; empty where it was not told."""

    name: str
    kind: FactKind
    one: str
    other: str


class CausePair(Record):
    """A cause in two cases: its probability in each (None where it is no candidate), and what speaks in only one."""

    cause: str
    name: str
    one: float | None
    other: float | None
    only_one: tuple[Evidence, ...] = ()
    only_other: tuple[Evidence, ...] = ()


class SideBySide(Record):
    """Two cases side by side: what differs in facts, evidence and outcome."""

    schema_version: int = 1
    parts: tuple[str, str]
    defects: tuple[str, str]
    verdicts: tuple[str, str]
    differ: tuple[FactPair, ...]
    only_in_one: tuple[FactPair, ...]
    same: tuple[FactPair, ...]
    causes: tuple[CausePair, ...]


class SpokenAgainst(Record):
    """A cause that the good run speaks against, and the settings that were the same in it."""

    cause: str
    name: str
    same: tuple[str, ...]


class GoodRun(Record):
    """What a good run says about a bad one: what differs, what is the same, and which causes that speaks against."""

    part: str
    differ: tuple[FactPair, ...]
    only_in_one: tuple[FactPair, ...]
    same: tuple[FactPair, ...]
    against: tuple[SpokenAgainst, ...]
    source: str


class ComparedDiagnosis(Diagnosis):
    """A diagnosis in which a good run counted as evidence."""

    good_run: GoodRun
