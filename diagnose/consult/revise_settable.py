"""What can be set on the machine: round numbers in the person's own unit, a fraction of the usual step apart."""

from __future__ import annotations

from math import ceil, floor, log10
from typing import NamedTuple

from diagnose import units
from diagnose.consult.show import Shower
from diagnose.model.vocabulary import Setting

PARTS = 3.0  # a usual step holds at least this many settable values
CLOSE = 0.01  # of the distance between two values: as good as on the value
EXACT = 1e-9
SMALL_SHARE = 0.03  # of a value, the distance for a setting that has no usual step
ROUND_TIMES = (1.0, 2.0, 5.0, 10.0, 20.0, 30.0)  # [s] or [min]


class Scale(NamedTuple):
    """The settable values of one setting: whole multiples of `every` in its unit, each with its place."""

    dimension: str
    unit: str
    every: float

    def value(self, place: int) -> float:
        """Return the value at a place, SI."""
        return units.to_si(place * self.every, self.unit, self.dimension)

    @property
    def apart(self) -> float:
        """Return the distance between two settable values, SI."""
        return self.value(1) - self.value(0)

    def up(self, si: float) -> int:
        """Return the place of the least settable value that is not below a value."""
        return ceil(self._place(si) - CLOSE)

    def down(self, si: float) -> int:
        """Return the place of the greatest settable value that is not above a value."""
        return floor(self._place(si) + CLOSE)

    def within(self, low: float, high: float) -> tuple[int, int]:
        """Return the first and the last place inside two limits; the first may come after the last."""
        first, last = self.up(low), self.down(high)
        first += 1 if self.value(first) < low - EXACT * abs(low) else 0
        last -= 1 if self.value(last) > high + EXACT * abs(high) else 0
        return first, last

    def _place(self, si: float) -> float:
        return units.from_si(si, self.unit, self.dimension) / self.every


def scale_of(setting: Setting, show: Shower, near: float) -> Scale:
    """Return the settable values of a setting in the person's unit; `near` serves where no usual step is known."""
    dimension, unit = show.unit(setting.name)
    step = usual_step(setting, near)
    if dimension == "number" and setting.usual_step is not None:
        return Scale(dimension, unit, step)  # turns and flasks are counted
    if dimension == "time":
        unit = "s" if step < 60.0 else "min"
    change = "temperature change" if dimension == "temperature" else dimension
    third = units.from_si(step, unit, change) / PARTS
    if dimension == "time":
        fitting = [t for t in ROUND_TIMES if t <= third * (1.0 + CLOSE)]
        return Scale(dimension, unit, fitting[-1] if fitting else round_down(third))
    return Scale(dimension, unit, round_down(third))


def usual_step(setting: Setting, near: float) -> float:
    """Return what a person would change a setting by; without one, a small share of its value. [SI]"""
    if setting.usual_step is not None:
        return setting.usual_step
    return max(abs(near), 1e-6 * (setting.plausible_high - setting.plausible_low)) * SMALL_SHARE


def round_down(number: float) -> float:
    """Return the greatest of 1, 2 or 5 times a power of ten that is not above a number.

    >>> round_down(1.7), round_down(0.167), round_down(8.3)
    (1.0, 0.1, 5.0)
    """
    power = floor(log10(number) + 1e-9)
    digit = number / 10.0**power
    best = next(d for d in (5.0, 2.0, 1.0) if d <= digit * (1.0 + CLOSE) or d == 1.0)
    return float(f"{best * 10.0**power:.6g}")
