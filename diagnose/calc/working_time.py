"""The clock from powder in water to the moment the shine leaves: when each step must have ended."""

from __future__ import annotations

from typing import NamedTuple

from diagnose.calc.allowed_range import within
from diagnose.errors import OutOfRange

LONGEST = 4 * 3600.0  # s; no slurry stays pourable longer


class WorkClock(NamedTuple):
    """Latest ends of the steps, counted from powder into water. [s]"""

    mixing: float
    bowl_vacuum: float
    pouring: float
    flask_vacuum: float


def idle_time(gloss_off: float, hands_off: float) -> float:
    """Time that the slurry stands liquid and untouched before its shine leaves.

    Parameters
    ----------
    gloss_off
        From powder into water until the wet shine leaves the surface. [s]
    hands_off
        From powder into water until the flask is let stand. [s]

    Returns
    -------
    float
        Below zero when the flask was still handled after the shine had left. [s]

    Raises
    ------
    OutOfRange
        If a time is not from 0 to 4 hours.

    Examples
    --------
    >>> idle_time(600.0, 480.0)
    120.0
    """
    within("the time to gloss-off", gloss_off, 0.0, LONGEST, "s")
    within("the time until the flask stood", hands_off, 0.0, LONGEST, "s")
    return gloss_off - hands_off


def latest_ends(
    gloss_off: float, idle: float, bowl_vacuum: float, pouring: float, flask_vacuum: float, least_mixing: float
) -> WorkClock:
    """Latest ends of mixing, bowl vacuum, pouring and flask vacuum, worked back from the set.

    Parameters
    ----------
    gloss_off
        From powder into water until the wet shine leaves the surface. [s]
    idle
        Time that the slurry shall stand untouched before that. [s]
    bowl_vacuum
        Time the bowl is under vacuum. [s]
    pouring
        Time to pour the flask or flasks. [s]
    flask_vacuum
        Time the flask is under vacuum. [s]
    least_mixing
        Shortest time that mixes the powder through. [s]

    Returns
    -------
    WorkClock
        Ends, counted from powder into water. [s]

    Raises
    ------
    OutOfRange
        If a time is negative or over 4 hours, or what is left for mixing is less than it takes.

    Notes
    -----
    Sums, backwards. Mixing longer also makes the slurry set sooner, so the set is timed anew after a change.

    References
    ----------
    common practice.

    Examples
    --------
    Shine gone at 10 min, 1 3/4 min idle, 1 1/2 min vacuum, 1 min to pour, 1 1/2 min vacuum in the bowl:

    >>> latest_ends(600.0, 105.0, 90.0, 60.0, 90.0, 150.0)
    WorkClock(mixing=255.0, bowl_vacuum=345.0, pouring=405.0, flask_vacuum=495.0)
    """
    steps = {
        "the time to gloss-off": gloss_off,
        "the idle time": idle,
        "the bowl vacuum": bowl_vacuum,
        "the pouring time": pouring,
        "the flask vacuum": flask_vacuum,
        "the least mixing time": least_mixing,
    }
    for name, time in steps.items():
        within(name, time, 0.0, LONGEST, "s")
    flask_end = gloss_off - idle
    pour_end = flask_end - flask_vacuum
    bowl_end = pour_end - pouring
    mix_end = bowl_end - bowl_vacuum
    if mix_end < least_mixing:
        raise OutOfRange(
            "a slurry that sets in {gloss-off time:s} leaves {for mixing time:s} for mixing, "
            "and mixing takes {least mixing time:s}.",
            {"gloss-off time": gloss_off, "for mixing time": max(mix_end, 0.0), "least mixing time": least_mixing},
            next_step="Fewer flasks for one mix, or cooler water; then time the set anew.",
        )
    return WorkClock(mix_end, bowl_end, pour_end, flask_end)


def half_way_mixing(mixing: float, idle: float, wanted_idle: float, shortest: float, longest: float) -> float:
    """Mixing time that takes up half of what the slurry stands idle too long, or too short.

    Parameters
    ----------
    mixing
        Mixing time so far. [s]
    idle
        Idle time so far; below zero when the flask was handled too late. [s]
    wanted_idle
        Idle time wanted. [s]
    shortest
        Shortest mixing time that mixes through. [s]
    longest
        Longest that does the slurry good. [s]

    Returns
    -------
    float
        Next mixing time. [s]

    Raises
    ------
    OutOfRange
        If the times contradict each other.

    Notes
    -----
    Half, because mixing longer also shortens the set: the whole excess would overshoot.

    References
    ----------
    common practice.

    Examples
    --------
    4 min idle where 2 are wanted, after 3 min of mixing:

    >>> half_way_mixing(180.0, 240.0, 120.0, 150.0, 300.0)
    240.0
    """
    within("the mixing time", mixing, 0.0, LONGEST, "s")
    within("the idle time", idle, -LONGEST, LONGEST, "s")
    within("the wanted idle time", wanted_idle, 0.0, LONGEST, "s")
    if not 0.0 <= shortest <= longest:
        raise OutOfRange(
            "mixing from {shortest mixing time:s} to {longest mixing time:s} is no range.",
            {"shortest mixing time": shortest, "longest mixing time": longest},
            next_step="Check the shortest and the longest mixing time.",
        )
    return min(max(mixing + 0.5 * (idle - wanted_idle), shortest), longest)
