"""From SI to the units of an axis."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from diagnose import units
from diagnose.consult.show import Shower

LONG = 3.0 * 3600.0  # [s], from which an axis of time is in hours


class Scale(NamedTuple):
    """A dimension and the unit that the person chose for it."""

    dimension: str
    unit: str

    def of(self, si: float) -> float:
        """Return an SI value in the unit."""
        return units.from_si(si, self.unit, self.dimension)

    def each(self, values: Iterable[float]) -> tuple[float, ...]:
        """Return SI values in the unit."""
        return tuple(self.of(value) for value in values)

    def text(self, si: float) -> str:
        """Return an SI value as people write it."""
        unit = "min" if self.dimension == "time" and self.unit == "h" else self.unit  # 42 min, never 0.7 h
        return units.show(si, self.dimension, unit)

    def title(self, what: str) -> str:
        """Return the title of an axis: what it shows, and its unit."""
        symbol = units.unit_named(self.unit, self.dimension).symbol if self.unit else ""
        return f"{what} ({symbol})" if symbol else what


def scale_of(show: Shower, fact: str) -> Scale:
    """Return the scale in which a fact is shown."""
    return Scale(*show.unit(fact))


def time_scale(longest: float) -> Scale:
    """Return the scale for a clock that runs so long [s]."""
    return Scale("time", "min" if longest <= 1.001 * LONG else "h")


NUMBER = Scale("number", "")
