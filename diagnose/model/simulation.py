"""What came of playing causes through the interview: one play, one cause over its plays, all of them together."""

from __future__ import annotations

from collections.abc import Mapping

from diagnose.model.record import Record


class Play(Record):
    """One interview with a shop whose hidden cause was known, as far as it went."""

    defect: str
    cause: str
    share: float  # how often this cause is met, against the others of the defect
    first: str
    stated: float  # the probability stated for the first cause
    given: float  # the probability given to the hidden cause
    place: int  # of the hidden cause, 1 is first
    questions: int
    looks_again: int = 0  # of the questions, those that asked for a second look
    flipped: int = 0
    settled: bool
    in_file_order: int | None = None


class CauseScore(Record):
    """How one cause of one defect fared over its plays."""

    defect: str
    cause: str
    plays: int
    first: float
    first_three: float
    mean_questions: float
    log_loss: float
    confused_with: Mapping[str, int] = {}


class Bin(Record):
    """The plays whose first cause was stated with a probability in one tenth: how many, stated, come true."""

    plays: int
    stated: float
    true: float


class Simulation(Record):
    """All causes played: how often right, after how many questions, and whether stated probabilities come true."""

    noise: float
    seed: int
    defects: int
    causes: int
    plays: int
    first: float
    first_three: float
    median_questions: float
    mean_questions: float
    mean_looks_again: float
    settled: float
    log_loss: float
    calibration_error: float
    calibration_error_as_met: float
    first_as_met: float
    bins: tuple[Bin, ...]
    mean_in_file_order: float | None = None
    fewer_questions: float | None = None
    by_cause: tuple[CauseScore, ...] = ()
