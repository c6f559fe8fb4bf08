"""How well the rules base covers its defects: what tells each cause apart, and how soon it is found."""

from __future__ import annotations

from diagnose.model.record import Record


class CauseCovered(Record):
    """One cause of a defect: how often it is found, after how many questions, and what it is hardest to tell from."""

    cause: str
    name: str
    right_first: float
    questions: float
    hardest_from: str = ""
    factor: float | None = None  # by which the best finding for the pair shifts the odds; None without another cause
    told_by: str = ""


class DefectCovered(Record):
    """One defect: its size, its causes, and how often a truthful shop is told the right one first."""

    defect: str
    name: str
    rules: int
    right_first: float
    questions: float
    worst_factor: float | None = None
    causes: tuple[CauseCovered, ...]


class Coverage(Record):
    """Every defect asked about, in order."""

    plays: int  # of each cause
    seed: int
    defects: tuple[DefectCovered, ...]
