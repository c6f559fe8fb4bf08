"""Where a formula holds: refuse what lies outside, never extrapolate in silence."""

from __future__ import annotations

from math import isfinite

from diagnose.errors import OutOfRange


def within(name: str, value: float, low: float, high: float, unit: str = "", next_step: str = "") -> float:
    """Return the value of a named input, or refuse it when it is not a number from `low` to `high`."""
    if not (isfinite(value) and low <= value <= high):
        gap = f" {unit}" if unit else ""
        raise OutOfRange(
            f"{name} is {value:g}{gap}; this holds from {low:g} to {high:g}{gap}.",
            next_step=next_step or f"Check {name}.",
        )
    return value


def above_zero(name: str, value: float, unit: str = "") -> float:
    """Return the value of a named input, or refuse it when it is not a number above zero."""
    if not (isfinite(value) and value > 0.0):
        gap = f" {unit}" if unit else ""
        raise OutOfRange(
            f"{name} is {value:g}{gap}; it must be above zero.",
            next_step=f"Check {name}.",
        )
    return value
