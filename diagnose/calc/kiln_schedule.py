"""A burnout as ramps and holds: how long, how hot, how steep."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from diagnose.calc.allowed_range import above_zero, within
from diagnose.errors import OutOfRange

COLDEST, HOTTEST = 250.0, 1500.0  # K, kilns for molds
FASTEST = 2.0  # K/s; a kiln that jumps faster is no ramp


@dataclass(frozen=True)
class Step:
    """One ramp and the hold at its end: temperature [K], hold [s], rate up or down [K/s, above zero]."""

    temperature: float
    hold: float
    rate: float

    def __post_init__(self) -> None:
        within("a hold temperature", self.temperature, COLDEST, HOTTEST, "K")
        within("a hold", self.hold, 0.0, 14 * 86400.0, "s")
        above_zero("a ramp", self.rate, "K/s")
        within("a ramp", self.rate, 0.0, FASTEST, "K/s", "Write the unit: °C/h or °C/min.")


@dataclass(frozen=True)
class Leg:
    """A straight piece of the kiln's curve."""

    start: float
    end: float
    time: float

    @property
    def rate(self) -> float:
        """Return the slope. [K/s]"""
        return (self.end - self.start) / self.time if self.time else 0.0


@dataclass(frozen=True)
class Schedule:
    """A kiln curve: the temperature at loading [K] and the steps after it."""

    start: float
    steps: tuple[Step, ...]

    def __post_init__(self) -> None:
        within("the temperature at loading", self.start, COLDEST, HOTTEST, "K")
        if not self.steps:
            raise OutOfRange("a schedule without a hold is none.", next_step="Give at least one hold.")

    def legs(self) -> Iterator[Leg]:
        """Yield ramps and holds in turn, those that take no time left out."""
        now = self.start
        for step in self.steps:
            change = abs(step.temperature - now)
            if change:
                yield Leg(now, step.temperature, change / step.rate)
            if step.hold:
                yield Leg(step.temperature, step.temperature, step.hold)
            now = step.temperature

    @property
    def duration(self) -> float:
        """Return the time from loading to the end of the last hold. [s]"""
        return sum(leg.time for leg in self.legs())

    @property
    def top(self) -> float:
        """Return the hottest temperature. [K]"""
        return max(self.start, *(step.temperature for step in self.steps))


def time_above(schedule: Schedule, temperature: float) -> float:
    """Time that the kiln spends at or above a temperature.

    Parameters
    ----------
    schedule
        The kiln's curve.
    temperature
        The temperature. [K]

    Returns
    -------
    float
        Time. [s]

    Raises
    ------
    OutOfRange
        If the temperature is not one of a kiln.

    Examples
    --------
    An hour's hold and the last and first ten degrees of two ramps of 1 K/s:

    >>> time_above(Schedule(300.0, (Step(1000.0, 3600.0, 1.0), Step(800.0, 0.0, 1.0))), 990.0)
    3620.0
    """
    within("the temperature", temperature, COLDEST, HOTTEST, "K")
    total = 0.0
    for leg in schedule.legs():
        low, high = sorted((leg.start, leg.end))
        if low >= temperature:
            total += leg.time
        elif high > temperature:
            total += leg.time * (high - temperature) / (high - low)
    return total


def exposure_above(schedule: Schedule, temperature: float, until: float = float("inf")) -> float:
    """Degrees above a temperature times the time they lasted: what dries a mold.

    Parameters
    ----------
    schedule
        The kiln's curve.
    temperature
        Temperature from which it counts. [K]
    until
        Stop when the kiln first gets hotter than this. [K]

    Returns
    -------
    float
        Exposure. [K s]

    Raises
    ------
    OutOfRange
        If the temperature is not one of a kiln.

    Examples
    --------
    100 degrees above for 1000 s, and two slopes of half that over 100 s each:

    >>> exposure_above(Schedule(373.0, (Step(473.0, 1000.0, 1.0), Step(373.0, 0.0, 1.0))), 373.0)
    110000.0
    """
    within("the temperature", temperature, COLDEST, HOTTEST, "K")
    total = 0.0
    for leg in schedule.legs():
        piece = leg
        if leg.end > until >= leg.start:
            piece = Leg(leg.start, until, leg.time * (until - leg.start) / (leg.end - leg.start))
        total += _area_above(piece, temperature)
        if piece is not leg or leg.start > until:
            break
    return total


def steepest(schedule: Schedule, low: float, high: float, rising: bool = False) -> float:
    """Steepest ramp, up or (unless only rising ones count) down, that crosses any part of a band of temperature.

    Parameters
    ----------
    schedule
        The kiln's curve.
    low
        Lower end of the band. [K]
    high
        Upper end of the band. [K]
    rising
        True to leave out the way down. [-]

    Returns
    -------
    float
        Rate, 0 when the kiln never moves within the band. [K/s]

    Raises
    ------
    OutOfRange
        If the band runs from high to low.

    Examples
    --------
    >>> steepest(Schedule(300.0, (Step(500.0, 60.0, 0.02), Step(900.0, 0.0, 0.05))), 400.0, 450.0)
    0.02
    """
    if not low < high:
        raise OutOfRange(
            "a band from {low:K} to {high:K} is none.",
            {"low": low, "high": high},
            next_step="Check the two ends: the first must be the colder one.",
        )
    crossing = [leg for leg in schedule.legs() if min(leg.start, leg.end) < high and max(leg.start, leg.end) > low]
    return max((abs(leg.rate) for leg in crossing if leg.rate > 0.0 or not rising), default=0.0)


def schedule_of(
    start: float, temperatures: Sequence[float], holds: Sequence[float], ramps: Sequence[float]
) -> Schedule:
    """Schedule from recorded lists, one entry a hold; the first ramp leads to the first hold.

    Parameters
    ----------
    start
        Temperature at loading. [K]
    temperatures
        Hold temperatures. [K]
    holds
        Hold times. [s]
    ramps
        Ramps to the holds, up or down, the sign does not matter. [K/s]

    Returns
    -------
    Schedule
        The kiln's curve.

    Raises
    ------
    OutOfRange
        If the lists differ in length, or as `Step`.

    Examples
    --------
    >>> schedule_of(300.0, [400.0], [60.0], [1.0]).duration
    160.0
    """
    if not len(temperatures) == len(holds) == len(ramps):
        raise OutOfRange(
            f"{len(temperatures)} hold temperatures, {len(holds)} hold times and {len(ramps)} ramps do not "
            "belong together.",
            next_step="Give one temperature, one time and one ramp for each hold, in order.",
        )
    steps = tuple(Step(t, h, abs(r)) for t, h, r in zip(temperatures, holds, ramps, strict=True))
    return Schedule(start, steps)


def _area_above(leg: Leg, temperature: float) -> float:
    low, high = sorted((leg.start, leg.end))
    if low >= temperature:
        return leg.time * (0.5 * (low + high) - temperature)
    if high <= temperature:
        return 0.0
    return 0.5 * leg.time * (high - temperature) ** 2 / (high - low)
