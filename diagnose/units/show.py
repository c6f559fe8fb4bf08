"""Writes quantities for people; what it writes can be typed back in."""

from __future__ import annotations

from diagnose.units.convert import out_of_si, plain
from diagnose.units.dimension import Dimension, Unit
from diagnose.units.result import Value
from diagnose.units.table import dimension_named, unit_named

MINUTE, HOUR = 60.0, 3600.0


def show(si: float, dimension: str, unit: str, digits: int = 3, *, fractions: bool = False) -> str:
    """Write an SI value in a unit, with so many significant digits and no whole digits dropped.

    From an hour on, minutes and hours are written together. With `fractions`, inches that are exact to 1/64
    are written as on a rule.

    >>> show(425.928, "temperature", "F"), show(4500.0, "time", "min")
    ('307 °F', '1 h 15 min')
    >>> show(0.0047625, "length", "in", fractions=True)
    '3/16 in'
    """
    kind, found = dimension_named(dimension), unit_named(unit, dimension)
    if dimension == "time" and (text := _mixed_time(si, found.symbol, digits)):
        return text
    number = out_of_si(si, found, kind)
    written = (fractions and found.symbol == "in" and _on_the_rule(number)) or plain(number, digits)
    return _with_unit(written, found)


def show_both(si: float, dimension: str, unit_us: str, unit_metric: str, system: str, digits: int = 3) -> str:
    """Write an SI value in the person's system first, then in the other: 307 °F (153 °C)."""
    units = {"us": (unit_us, unit_metric), "metric": (unit_metric, unit_us)}[system]
    first, second = (show(si, dimension, unit, digits, fractions=system == "us") for unit in units)
    return first if first == second else f"{first} ({second})"


def say(value: Value, other_unit: str | None = None) -> str:
    """Say back what was understood, and the same in another unit: about 28 inHg gauge (94.8 kPa)."""
    kind = dimension_named(value.dimension)
    text = ("about " if value.about else "") + ends(value)
    if value.vacuum:
        text += " of vacuum"
    elif value.basis:
        text += f" {value.basis}"
    if other_unit is None or unit_named(other_unit, value.dimension).symbol == value.unit:
        return text
    return f"{text} ({span(value.si, value.to_si, kind, unit_named(other_unit, value.dimension))})"


def ends(value: Value) -> str:
    """Write a value as typed, or both ends of a range, in the unit typed."""
    unit = unit_named(value.unit, value.dimension)
    if value.to_number is None:
        return _with_unit(plain(value.number), unit)
    return _with_unit(f"{plain(value.number)} to {plain(value.to_number)}", unit)


def span(si: float, to_si: float | None, kind: Dimension, unit: Unit, digits: int = 3) -> str:
    """Write one SI value, or a range of two, in a unit."""
    numbers = [plain(out_of_si(end, unit, kind), digits) for end in (si, to_si) if end is not None]
    return _with_unit(" to ".join(numbers), unit)


def show_time(si: float) -> str:
    """Write a time in the unit that suits its length."""
    unit = next((unit for unit, top in (("s", MINUTE), ("min", 2 * HOUR), ("h", 72 * HOUR)) if si < top), "d")
    return show(si, "time", unit)


def _with_unit(number: str, unit: Unit) -> str:
    return f"{number} {unit.symbol}".strip()


def _mixed_time(si: float, symbol: str, digits: int) -> str | None:
    """Write 75 min as 1 h 15 min and 125 s as 2 min 5 s; None where one unit reads better."""
    if symbol in ("min", "h") and HOUR <= si < 100 * HOUR:
        big, small, names = HOUR, MINUTE, ("h", "min")
    elif symbol == "s" and 2 * MINUTE <= si < HOUR:
        big, small, names = MINUTE, 1.0, ("min", "s")
    else:
        return None
    whole, rest = divmod(round(si / small), round(big / small))
    return f"{whole} {names[0]} {rest} {names[1]}" if rest else f"{whole} {names[0]}"


def _on_the_rule(inches: float) -> str | None:
    """Write inches as a mixed fraction when they are a whole number of 64ths."""
    parts = round(inches * 64)
    if parts <= 0 or abs(inches * 64 - parts) > 1e-5 * parts or inches > 1000:
        return None
    whole, over = divmod(parts, 64)
    below = 64
    while over and over % 2 == 0:
        over, below = over // 2, below // 2
    return " ".join(([str(whole)] if whole else []) + ([f"{over}/{below}"] if over else []))
