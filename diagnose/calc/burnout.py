"""A burnout schedule for one flask, made so that it keeps every limit it is given."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import ceil

from diagnose.calc.allowed_range import within
from diagnose.calc.flask_heat import Mold, ramp_limit
from diagnose.calc.kiln_schedule import Schedule, Step, exposure_above
from diagnose.calc.mold_middle import soak_needed
from diagnose.errors import OutOfRange

BOILING = 373.15  # K
HOUR = 3600.0


@dataclass(frozen=True)
class BurnoutLimits:
    """What a mold asks of its burnout: temperatures [K], times [s], rates [K/s], all of them arguments."""

    loading: float
    drain: float
    drain_hold: float
    gentle_rate: float
    gentle_until: float
    dry: float
    dry_hold: float
    top: float
    top_hold: float
    ceiling: float
    fastest: float
    lag: float
    tolerance: float
    least_soak: float = HOUR

    def __post_init__(self) -> None:
        order = (self.loading, self.drain, self.gentle_until, self.dry, self.top)
        if list(order) != sorted(order):
            raise OutOfRange(
                "loading, draining, gentle heating, drying and top do not follow each other upwards: "
                "{loading:K}, {drain:K}, {gentle:K}, {dry:K}, {top:K}.",
                dict(zip(("loading", "drain", "gentle", "dry", "top"), order, strict=True)),
                next_step="A mold that may not get hotter than it dries cannot be burned out.",
            )
        if self.top > self.ceiling:
            raise OutOfRange(
                "a top of {top:K} is over the ceiling of this mold, {ceiling:K}.",
                {"top": self.top, "ceiling": self.ceiling},
                next_step="Stay under the ceiling; a dirty mold needs time and air, not heat.",
            )


def scaled_hold(hold: float, diameter: float, least: float = HOUR) -> float:
    """Hold for a flask of any size, from that for one of 100 mm.

    Parameters
    ----------
    hold
        Hold for a flask of 100 mm. [s]
    diameter
        Inside diameter. [m]
    least
        Shortest hold whatever the size. [s]

    Returns
    -------
    float
        Hold, rounded up to a quarter of an hour. [s]

    Raises
    ------
    OutOfRange
        If the diameter is not from 15 mm to 0.5 m or a hold is negative.

    Notes
    -----
    In proportion to the diameter: an hour at the top for each inch is the trade's habit.

    References
    ----------
    common practice.

    Examples
    --------
    4 h at 100 mm make 3 h at 75 mm:

    >>> scaled_hold(4 * 3600.0, 0.075) / 3600
    3.0
    """
    within("the flask diameter", diameter, 0.015, 0.5, "m", "Write the unit: mm or in.")
    within("the hold", hold, 0.0, 7 * 86400.0, "s")
    within("the least hold", least, 0.0, 7 * 86400.0, "s")
    return _next_quarter(max(hold * diameter / 0.1, least))


def ramp_for(mold: Mold, limits: BurnoutLimits, gentle: bool = False) -> float:
    """Ramp that a mold stands: slow enough for its middle to follow, and under the fastest allowed.

    Parameters
    ----------
    mold
        The mold.
    limits
        What the mold asks.
    gentle
        True while it is wet and passes its first change. [-]

    Returns
    -------
    float
        Rate. [K/s]

    Raises
    ------
    OutOfRange
        If the limits are absurd.

    Notes
    -----
    The least of `ramp_limit`, the fastest ramp, and the gentle one where it applies.

    Examples
    --------
    A small mold is held by the fastest ramp, not by its lag:

    >>> limits = BurnoutLimits(295., 423., 7200., .025, 523., 643., 3600., 1005., 7200., 1023., .0667, 50., 12.)
    >>> ramp_for(Mold(0.015, 2e-7), limits) == limits.fastest
    True
    """
    rate = min(limits.fastest, ramp_limit(mold, limits.lag))
    return min(rate, limits.gentle_rate) if gentle else rate


def plan_burnout(mold: Mold, limits: BurnoutLimits, dose: float, pour: float | None = None) -> Schedule:
    r"""Schedule for a flask: drain, dry, burn, and come to the temperature of the pour.

    Parameters
    ----------
    mold
        The mold.
    limits
        What it asks.
    dose
        Heat exposure over boiling that dries it to the middle (`drying_dose`). [K s]
    pour
        Flask temperature wanted at the pour; left out, the schedule ends with the top hold. [K]

    Returns
    -------
    Schedule
        Drain hold, end of the gentle ramp, dry hold, top hold and, with a pour temperature, the soak.

    Raises
    ------
    OutOfRange
        If the pour temperature is over the top, or as the parts.

    Notes
    -----
    All ramps, the way down included, keep `ramp_for`. The dry hold is lengthened until the exposure from loading
    to its end reaches the dose; holds end on quarters of an hour, upwards. The soak is `soak_needed` to the
    tolerance, the middle followed through the whole schedule.

    References
    ----------
    common practice for the order of the holds; the rest as the parts.

    Examples
    --------
    Five steps, the last at the pour:

    >>> limits = BurnoutLimits(295., 423., 7200., .025, 523., 643., 3600., 1005., 7200., 1023., .0667, 50., 12.)
    >>> [s.temperature for s in plan_burnout(Mold(0.03, 1.8e-7), limits, 1e6, 800.0).steps]
    [423.0, 523.0, 643.0, 1005.0, 800.0]
    """
    within("the drying dose", dose, 0.0, 1e9, "K s")
    gentle, quick = ramp_for(mold, limits, gentle=True), ramp_for(mold, limits)
    wet = (
        Step(limits.drain, limits.drain_hold, gentle),
        Step(limits.gentle_until, 0.0, gentle),
        Step(limits.dry, 0.0, quick),
    )
    missing = dose - exposure_above(Schedule(limits.loading, wet), BOILING)
    dry_hold = max(limits.dry_hold, missing / (limits.dry - BOILING))
    steps = (
        *wet[:2],
        replace(wet[2], hold=_next_quarter(dry_hold)),
        Step(limits.top, limits.top_hold, quick),
    )
    if pour is None:
        return Schedule(limits.loading, steps)
    if pour > limits.top:
        raise OutOfRange(
            "a pour at {pour:K} is over the top of the burnout, {top:K}.",
            {"pour": pour, "top": limits.top},
            next_step="Pour colder, or use a mold that stands more.",
        )
    ending = Schedule(limits.loading, (*steps, Step(pour, 0.0, quick)))
    soak = _next_quarter(max(soak_needed(ending, mold, limits.tolerance), limits.least_soak))
    return Schedule(limits.loading, (*steps, Step(pour, soak, quick)))


def start_time(wanted: float, duration: float) -> tuple[float, int]:
    """Clock time at which a kiln must start for a pour at a wanted clock time.

    Parameters
    ----------
    wanted
        Clock time of the pour, since midnight. [s]
    duration
        Time from loading to the pour. [s]

    Returns
    -------
    float
        Clock time since midnight. [s]
    int
        Days before the day of the pour. [-]

    Raises
    ------
    OutOfRange
        If the clock time is not from 0 to 24 hours or the duration not from 0 to 14 days.

    Examples
    --------
    For a pour at 10 h after 16 h in the kiln: 18 h of the day before.

    >>> start_time(10 * 3600.0, 16 * 3600.0)
    (64800.0, 1)
    """
    within("the clock time", wanted, 0.0, 86400.0, "s")
    within("the burnout", duration, 0.0, 14 * 86400.0, "s")
    start = wanted - duration
    days = -int(start // 86400.0)
    return start + days * 86400.0, days


def _next_quarter(time: float) -> float:
    """Round a time up to a quarter of an hour."""
    return ceil(time / (0.25 * HOUR) - 1e-9) * 0.25 * HOUR
