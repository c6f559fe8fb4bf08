"""How far a setting may be moved here: plausible, safe, inside its window, and within what corrections allow."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from math import inf
from typing import NamedTuple

from diagnose.consult.revise_inside import QUARTER
from diagnose.consult.revise_settable import usual_step
from diagnose.consult.standing import window_of
from diagnose.model.knowledge import Bound, Move
from diagnose.model.vocabulary import Setting, SettingWindow

Facts = Mapping[str, object]
SAFETY = "the safety limit"


class Limit(NamedTuple):
    """One end of the room for a setting (SI), what sets it, and why."""

    value: float
    name: str
    because: str = ""
    source: str = ""
    telling: bool = True
    """Whether it says something of the trade; the plausible range only catches slips of the pen."""
    missing: str = ""
    """The fact that would say how far to go, when it is not known."""
    keep: float = 0.0
    """How far a proposed value stays from it: a safety limit is never itself a value to set."""


class Room(NamedTuple):
    """The values a setting may take here, from the tightest lower to the tightest upper limit."""

    low: Limit
    high: Limit

    @property
    def lowest(self) -> float:
        """Return the least value that may be proposed."""
        return self.low.value + self.low.keep

    @property
    def highest(self) -> float:
        """Return the greatest value that may be proposed."""
        return self.high.value - self.high.keep

    def nearest(self, value: float) -> Limit:
        """Return the limit that is nearer to a value."""
        return min(self, key=lambda limit: abs(limit.value - value))


def room(
    setting: Setting, recorded: float, facts: Facts, moves: Iterable[Move], entitled: Iterable[float] = ()
) -> Room:
    """Return the room for a recorded setting.

    `moves` are those of all corrections of the defect's causes: the limits they name bind whoever moves the setting.
    A setting that is moved ends inside its window; only `entitled` values, which a correction names, may lie outside.
    """
    lows = [Limit(setting.plausible_low, "the plausible range", telling=False)]
    highs = [Limit(setting.plausible_high, "the plausible range", telling=False)]
    safe = setting.safe
    if safe is not None and safe_here(setting, facts):
        keep = kept_from_safety(setting)
        if safe.low is not None:
            lows.append(Limit(safe.low, SAFETY, safe.because, safe.source, keep=keep))
        if safe.high is not None:
            highs.append(Limit(safe.high, SAFETY, safe.because, safe.source, keep=keep))
    for move in (m for m in moves if m.setting == setting.name):
        if move.floor is not None:
            lows.append(_bound(move.floor, recorded, facts))
        if move.ceiling is not None:
            highs.append(_bound(move.ceiling, recorded, facts))
    window = window_of(setting, facts)
    if window is not None:
        named = tuple(entitled)
        floor, ceiling = max(limit.value for limit in lows), min(limit.value for limit in highs)
        # Where the limits of a correction leave nothing of the window, it is not made for this case.
        if window.low is not None and min((window.low, *named)) <= ceiling:
            lows.append(_window_end(window, window.low, min((window.low, *named))))
        if window.high is not None and max((window.high, *named)) >= floor:
            highs.append(_window_end(window, window.high, max((window.high, *named))))
    return Room(max(lows, key=lambda x: x.value + x.keep), min(highs, key=lambda x: x.value - x.keep))


def kept_from_safety(setting: Setting) -> float:
    """Return how far a proposed value stays from a safety limit: a quarter of the usual step. [SI]"""
    safe = setting.safe
    if safe is None:
        return 0.0
    ends = [e for e in (safe.low, safe.high) if e is not None]
    room = QUARTER * (ends[1] - ends[0]) if len(ends) == 2 else inf
    return min(QUARTER * usual_step(setting, max(ends)), room)


def safe_here(setting: Setting, facts: Facts) -> bool:
    """Say whether the setting has safety limits that hold for these materials."""
    return setting.safe is not None and setting.safe.hold(facts)


def past_safety(setting: Setting, value: float, facts: Facts) -> Limit | None:
    """Return the safety limit that a value passes, if any."""
    safe = setting.safe
    if safe is None or not safe_here(setting, facts):
        return None
    slack = 1e-9 * max(abs(value), 1.0)
    if safe.low is not None and value < safe.low - slack:
        return Limit(safe.low, SAFETY, safe.because, safe.source)
    if safe.high is not None and value > safe.high + slack:
        return Limit(safe.high, SAFETY, safe.because, safe.source)
    return None


def _window_end(window: SettingWindow, end: float, far: float) -> Limit:
    name = "its window" if far == end else "what a correction names, outside its window"
    return Limit(far, name, window.because, window.source, far == end)


def _bound(bound: Bound, recorded: float, facts: Facts) -> Limit:
    value = bound.value if bound.fact is None else facts.get(bound.fact)
    name = "the correction's limit" if bound.fact is None else f"the {bound.fact}"
    if isinstance(value, float):
        return Limit(value, name)
    # A limit that cannot be worked out here is no reason to move without one.
    return Limit(recorded, f"{name}, which is not known", missing=bound.fact or "")
