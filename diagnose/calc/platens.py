"""What readings over a platen's face say: how even it is, what that does to the cure, where to put molds."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from diagnose.calc.allowed_range import above_zero, within
from diagnose.calc.kinetics import COLDEST, HOTTEST, rate_factor
from diagnose.errors import OutOfRange

Evenness = Literal["even", "fair", "uneven yet usable", "not usable"]

EVEN, FAIR = 3.0, 5.0  # [K] either side of the set value; handed out to be read, not to be copied
SLOWEST_USABLE, FASTEST_USABLE = 0.5, 3.0


@dataclass(frozen=True)
class Survey:
    """Readings against the set value: temperatures and differences in kelvin, cure factors as multiples."""

    mean_error: float
    spread: float
    most_over: float
    most_under: float
    factors: tuple[float, ...]
    evenness: Evenness
    good_points: tuple[int, ...]


def survey(readings: tuple[float, ...], set_value: float, activation: float) -> Survey:
    r"""Compare readings over a platen with what it was set to.

    Parameters
    ----------
    readings
        Temperatures at several points of the face. [K]
    set_value
        What the press was set to, or showed, meanwhile. [K]
    activation
        Activation energy of the cure. [J/mol]

    Returns
    -------
    Survey
        Mean error, spread, greatest deviation up and down (0 if none), cure rate at each point over the
        rate at the set value, evenness in words, and the points within 5 K of the set value (counted from 1).

    Raises
    ------
    OutOfRange
        If there are fewer than two readings, or a temperature is not between 200 and 700 K.

    Notes
    -----
    Even: every point within 3 K. Fair: within 5 K. Uneven yet usable: some points further off, but the
    slowest still cures at half the set pace or more and the fastest at three times at most, so that a place
    for the mold and a time for that place can be chosen. Else not usable. The four steps are trade judgement.

    Examples
    --------
    >>> survey((426.15, 427.15, 425.15), 426.15, 1e5).evenness
    'even'
    """
    if len(readings) < 2:
        raise OutOfRange(
            f"{len(readings)} reading says nothing about evenness.",
            next_step="Read at least two points, better five: the middle and four near the edge.",
        )
    for kelvin in readings:
        within("a platen reading", kelvin, COLDEST, HOTTEST, "K")
    off = [kelvin - set_value for kelvin in readings]
    factors = tuple(rate_factor(kelvin, set_value, activation) for kelvin in readings)
    return Survey(
        mean_error=sum(off) / len(off),
        spread=max(off) - min(off),
        most_over=max(0.0, *off),
        most_under=max(0.0, *(-o for o in off)),
        factors=factors,
        evenness=_evenness(off, factors),
        good_points=tuple(i for i, o in enumerate(off, start=1) if abs(o) <= FAIR),
    )


def _evenness(off: list[float], factors: tuple[float, ...]) -> Evenness:
    worst = max(abs(o) for o in off)
    if worst <= EVEN:
        return "even"
    if worst <= FAIR:
        return "fair"
    if min(factors) >= SLOWEST_USABLE and max(factors) <= FASTEST_USABLE:
        return "uneven yet usable"
    return "not usable"


def trimmed_setting(set_value: float, mean_error: float, most_trim: float) -> float | None:
    """Setting that brings the mean of the platen to the value wanted.

    Parameters
    ----------
    set_value
        What the press is set to, and what the platen should have. [K]
    mean_error
        Mean of the readings less the set value. [K]
    most_trim
        Greatest error that may be trimmed away; more means that the press needs repair. [K]

    Returns
    -------
    float or None
        New setting [K]; none when the error is too great to trim.

    Raises
    ------
    OutOfRange
        If `most_trim` is not above zero or the set value not between 200 and 700 K.

    Examples
    --------
    A platen that is 4 degrees too cold is set 4 degrees higher:

    >>> trimmed_setting(426.15, -4.0, 10.0)
    430.15
    """
    within("the set value", set_value, COLDEST, HOTTEST, "K")
    above_zero("the greatest trim", most_trim, "K change")
    return set_value - mean_error if abs(mean_error) <= most_trim else None
