"""The settable value at which a number that rules compare just comes out of its accused band."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from diagnose.consult.revise_limits import Limit, Room
from diagnose.consult.revise_settable import Scale

REFUSED = 1e300  # stands for a gap that cannot be computed

Gap = Callable[[float], float | None]
"""How far the number compared still is from where it must come, for a value of the setting; None when not known."""


class Reached(NamedTuple):
    """Where a search along one setting ended: the first place that will do, or the limit that stopped it."""

    place: int | None
    upwards: bool
    stopped: Limit | None = None


def reach(
    gap: Gap, recorded: float, step: float, scale: Scale, room: Room, plausible: tuple[float, float],
    start: float | None = None,
) -> Reached | None:  # fmt: skip
    """Return the first settable value, counted from the recorded one, at which nothing is left of the gap.

    The gap is taken to fall steadily in one direction; None when it falls in neither, or when there is none. `start` is
    a value to begin at when the answer is thought to lie near it.
    """
    upwards = _direction(gap, recorded, step, room, plausible)
    if upwards is None:
        return None
    limit = room.high if upwards else room.low
    lowest, highest = scale.within(room.lowest, room.highest)
    end = highest if upwards else lowest
    sign = 1 if upwards else -1
    first = (scale.up(recorded) if upwards else scale.down(recorded)) + (sign if _on(scale, recorded) else 0)
    # A recorded value outside the room comes at least back into it.
    first = max(first, lowest) if upwards else min(first, highest)
    if (end - first) * sign < 0:
        return Reached(None, upwards, limit)
    stride = max(round(step / scale.apart), 1)
    begin = first + sign * stride if start is None else (scale.up(start) if upwards else scale.down(start))
    begin = _between(begin, first, end)
    place = _first(lambda p: _at(gap, scale, p), first, end, begin, stride, sign)
    return Reached(place, upwards, None if place is not None else limit)


def _on(scale: Scale, value: float) -> bool:
    return scale.up(value) == scale.down(value)


def _between(place: int, first: int, end: int) -> int:
    return max(min(place, max(first, end)), min(first, end))


def _at(gap: Gap, scale: Scale, place: int) -> float:
    left = gap(scale.value(place))
    return 2.0 * REFUSED if left is None else left


def _direction(gap: Gap, recorded: float, step: float, room: Room, plausible: tuple[float, float]) -> bool | None:
    """Say whether the gap falls upwards (True), downwards (False) or neither way (None)."""
    now = gap(recorded)
    if now is None or now <= 0.0:
        return None
    # Where there is no room to move either way, the limit on the side that would help is still worth naming.
    for low, high in ((room.lowest, room.highest), plausible):
        for upwards in (True, False):
            tried = min(recorded + step, high) if upwards else max(recorded - step, low)
            if tried != recorded and (tried > recorded) is upwards:
                then = gap(tried)
                if then is not None and then < now:
                    return upwards
    return None


def _first(gap: Callable[[int], float], first: int, end: int, begin: int, stride: int, sign: int) -> int | None:
    """Return the place nearest to `first` with nothing left of the gap, between `first` and `end`."""
    here = gap(begin)
    if here <= 0.0:
        good, good_gap = begin, here
        while good != first:
            bad = _between(good - sign * stride, first, end)
            bad_gap = gap(bad)
            if bad_gap > 0.0:
                return _narrow(gap, bad, bad_gap, good, good_gap)
            good, good_gap, stride = bad, bad_gap, 2 * stride
        return good
    bad, bad_gap = begin, here
    while bad != end:
        good = _between(bad + sign * stride, first, end)
        good_gap = gap(good)
        if good_gap >= REFUSED > bad_gap:
            good, good_gap = _last_known(gap, bad, bad_gap, good)
            end = good
        if good_gap <= 0.0:
            return _narrow(gap, bad, bad_gap, good, good_gap)
        bad, bad_gap, stride = good, good_gap, 2 * stride
    return None


def _last_known(gap: Callable[[int], float], known: int, known_gap: float, refused: int) -> tuple[int, float]:
    """Return the last place, on the way to one that is refused, at which the gap can be computed."""
    while abs(refused - known) > 1:
        middle = (refused + known) // 2
        here = gap(middle)
        if here >= REFUSED:
            refused = middle
        else:
            known, known_gap = middle, here
    return known, known_gap


def _narrow(gap: Callable[[int], float], bad: int, bad_gap: float, good: int, good_gap: float) -> int:
    """Close in on the first good place: by proportion and by halves in turn, so that a bent curve costs little."""
    halve = False
    while abs(good - bad) > 1:
        if halve or bad_gap >= REFUSED:
            middle = (good + bad) // 2
        else:
            middle = bad + round((good - bad) * bad_gap / (bad_gap - good_gap))
        inner = sorted((bad, good))
        middle = max(min(middle, inner[1] - 1), inner[0] + 1)
        here = gap(middle)
        if here <= 0.0:
            good, good_gap = middle, here
        else:
            bad, bad_gap = middle, here
        halve = not halve
    return good
