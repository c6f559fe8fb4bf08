"""Between what a pressure gauge says and the pressure that physics counts with."""

from __future__ import annotations

from typing import Literal

from diagnose.errors import BadInput
from diagnose.units.result import Value
from diagnose.units.show import ends, show

Basis = Literal["gauge", "absolute", "vacuum"]


def absolute(value: Value, ambient: float, unsaid: Basis | None = None) -> float:
    """Return the absolute pressure [Pa] of a reading, given the pressure of the air around it [Pa].

    `unsaid` is the basis taken when the person gave none; without it such a reading is refused. A vacuum
    deeper than the air around is refused too: the gauge is wrong, or the place is higher than was thought.
    """
    if value.dimension != "pressure":
        raise BadInput(f"{ends(value)} is not a pressure.")
    basis = "vacuum" if value.vacuum else value.basis or unsaid
    if basis is None:
        raise BadInput(
            f"{ends(value)} can be a gauge reading or an absolute pressure.",
            next_step=f"Write {ends(value)} gauge or {ends(value)} absolute.",
        )
    if basis == "absolute":
        return value.si
    result = ambient - value.si if basis == "vacuum" else ambient + value.si
    if result < 0.0:
        around = show(ambient, "pressure", value.unit)
        raise BadInput(
            f"A vacuum of {ends(value).lstrip('-')} is impossible where the air has only {around}.",
            next_step="Check the gauge and the height of the place.",
        )
    return result


def gauge(value: Value, ambient: float, unsaid: Basis | None = "gauge") -> float:
    """Return how far a reading lies above the pressure of the air around [Pa]; a vacuum is negative."""
    return absolute(value, ambient, unsaid) - ambient


def vacuum_depth(value: Value, ambient: float, unsaid: Basis | None = "vacuum") -> float:
    """Return how far a reading lies below the pressure of the air around [Pa], whichever way it was given."""
    return ambient - absolute(value, ambient, unsaid)
