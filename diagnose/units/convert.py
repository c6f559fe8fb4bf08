"""Between SI and the units of the closed lists, and how a number is written."""

from __future__ import annotations

from math import floor, isfinite, log10

from diagnose.errors import BadInput
from diagnose.units.dimension import Dimension, Unit
from diagnose.units.factors import FACTORS
from diagnose.units.table import dimension_named, dimensions, spelled, unit_named

STORED_DIGITS = 6


def factor(unit: Unit, dimension: Dimension) -> tuple[float, float]:
    """Return what pint says a unit is worth: SI = number * factor + offset."""
    if not unit.pint:
        return 1.0, 0.0
    known = FACTORS.get((unit.pint, dimension.si))
    if known is None:
        from diagnose.units.authority import ask_pint

        known = FACTORS[unit.pint, dimension.si] = ask_pint(unit.pint, dimension.si)
    return known


def rounded(value: float, digits: int = STORED_DIGITS) -> float:
    """Return a number with so many significant digits, free of the noise of conversion."""
    if value == 0.0 or not isfinite(value):
        return value
    return float(f"{value:.{digits - 1}e}")


def into_si(number: float, unit: Unit, dimension: Dimension) -> float:
    """Convert without rounding."""
    scale, offset = factor(unit, dimension)
    return number * scale + offset


def out_of_si(si: float, unit: Unit, dimension: Dimension) -> float:
    """Convert back without rounding."""
    scale, offset = factor(unit, dimension)
    return (si - offset) / scale


def to_si(number: float, unit: str, dimension: str = "") -> float:
    """Return a number with a unit in SI, rounded to six significant digits.

    >>> to_si(307, "F")
    425.928
    """
    kind, found = _found(unit, dimension)
    return rounded(into_si(number, found, kind))


def from_si(si: float, unit: str, dimension: str = "") -> float:
    """Return an SI value in a unit, rounded to six significant digits.

    >>> from_si(358.15, "F")
    185.0
    """
    kind, found = _found(unit, dimension)
    return rounded(out_of_si(si, found, kind))


def _found(unit: str, dimension: str) -> tuple[Dimension, Unit]:
    """Return the unit a program names; without a dimension the name must mean one thing.

    A degree alone is a temperature, not a change of one.
    """
    if dimension:
        return dimension_named(dimension), unit_named(unit, dimension)
    kinds = [kind for kind in dimensions().values() if spelled(unit, kind)]
    exact = [kind for kind in kinds if any(one.symbol == unit for one in kind.units)] or kinds
    if len({factor(unit_named(unit, kind.name), kind) for kind in exact if kind.name != "temperature change"}) > 1:
        names = ", ".join(kind.name for kind in exact)
        raise BadInput(f'"{unit}" means different things.', next_step=f"Name the dimension, one of: {names}.")
    if not exact:
        raise BadInput(f'"{unit}" is not a known unit.')
    return exact[0], unit_named(unit, exact[0].name)


def plain(value: float, digits: int = STORED_DIGITS) -> str:
    """Write a number as people do: so many significant digits, but whole digits are never dropped.

    >>> plain(184.99999), plain(1853.2, 3), plain(0.0381, 3), plain(9.0e-8)
    ('185', '1853', '0.0381', '9e-8')
    """
    if value == 0.0:
        return "0"
    power = floor(log10(abs(rounded(value, digits))))
    if not -4 <= power < 7:
        mantissa, exponent = f"{value:.{digits - 1}e}".split("e")
        if "." in mantissa:
            mantissa = mantissa.rstrip("0").rstrip(".")
        return f"{mantissa}e{int(exponent)}"
    text = f"{value:.{max(digits - 1 - power, 0)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
