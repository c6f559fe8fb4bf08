"""What a shop's cases look like together: which faults, which causes, what worked, what it cost."""

from __future__ import annotations

from diagnose.model.record import Record


class Counted(Record):
    """How many cases were of something: a defect or a confirmed cause; several causes of one case share it."""

    id: str
    cases: float
    share: float
    so_far: float
    """Share of this one and of all more frequent ones."""


class Month(Record):
    """Cases of one month, written 2026-11, and how many of them are confirmed."""

    month: str
    cases: int
    confirmed: int


class Run(Record):
    """One run of a setting (SI): the case it was recorded in and when."""

    case: str
    date: str
    value: float


class Spread(Record):
    """Where the values of many runs lie (SI): quarters of them below `low`, up to `middle`, up to `high`, and above."""

    runs: int
    low: float
    middle: float
    high: float


class SettingRuns(Record):
    """A setting in bad runs, as recorded, and in good ones: as revised in a trial that cured the part."""

    defect: str
    setting: str
    bad: Spread
    good: Spread
    last_bad: tuple[Run, ...]
    last_good: tuple[Run, ...]
    materials: tuple[tuple[str, str], ...] = ()
    """The most frequent material of each slot among these cases."""
    window_low: float | None = None
    window_high: float | None = None
    window_source: str = ""


class Correction(Record):
    """What was changed in trials and what came of it; the share that worked with its 95 % Wilson interval."""

    changed: str
    cause: str
    tried: int
    cured: int
    better: int
    same: int
    worse: int
    worked: float
    worked_low: float
    worked_high: float


class Cost(Record):
    """Scrap of the cases that say what it cost, in hundredths of a currency."""

    currency: str
    defect: str
    cases: int
    hundredths: int


class Tenth(Record):
    """How often the first cause was confirmed when its chance was said to lie in a tenth, with the Wilson interval."""

    low: float
    high: float
    said: int
    mean: float
    right: int
    share: float
    share_low: float
    share_high: float


class ShopPicture(Record):
    """A shop's cases together."""

    schema_version: int = 1
    about: str = ""
    cases: int
    confirmed: int
    first_month: str = ""
    last_month: str = ""
    defects: tuple[Counted, ...] = ()
    causes: tuple[Counted, ...] = ()
    months: tuple[Month, ...] = ()
    settings: tuple[SettingRuns, ...] = ()
    corrections: tuple[Correction, ...] = ()
    costs: tuple[Cost, ...] = ()
    calibration: tuple[Tenth, ...] = ()
    calibration_error: float | None = None
    """Mean distance between the chance said and the share that was right, over all cases."""
