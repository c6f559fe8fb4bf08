"""How far inside its window a setting is put: its end is where the trouble begins, not where a dial belongs."""

from __future__ import annotations

from math import inf
from typing import NamedTuple

from diagnose.consult.revise_settable import usual_step
from diagnose.consult.standing import side_of
from diagnose.model.vocabulary import Setting, SettingWindow

QUARTER = 0.25
WELL_INSIDE = "well inside its window"


class Inside(NamedTuple):
    """The part of a window that is well away from its ends. [SI]"""

    low: float
    high: float

    def holds(self, value: float) -> bool:
        """Say whether a value lies well inside, the ends of this part included."""
        slack = 1e-9 * max(abs(value), 1.0)
        return self.low - slack <= value <= self.high + slack

    def nearest(self, value: float) -> float:
        """Return the nearest value that lies well inside."""
        return min(max(value, self.low), self.high)


def inside_of(setting: Setting, window: SettingWindow) -> Inside:
    """Return what is well inside a window: its middle half; with one end, all that is a usual step away from it."""
    if window.low is not None and window.high is not None:
        margin = QUARTER * (window.high - window.low)
        return Inside(window.low + margin, window.high - margin)
    low = -inf if window.low is None else window.low + usual_step(setting, window.low)
    high = inf if window.high is None else window.high - usual_step(setting, window.high)
    return Inside(low, high)


def into_window(setting: Setting, window: SettingWindow, before: float) -> float:
    """Return the nearest value well inside for one that is outside a window; one inside it stays where it is."""
    return before if side_of(window, before) == "inside" else inside_of(setting, window).nearest(before)
