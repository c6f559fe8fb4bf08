"""Where a formula holds: refuse what lies outside, never extrapolate in silence."""

from __future__ import annotations

from math import isfinite

from diagnose.errors import OutOfRange


def within(name: str, value: float, low: float, high: float, unit: str = "", next_step: str = "") -> float:
    """Return the value of a named input, or refuse it when it is not a number from `low` to `high`."""
    if not (isfinite(value) and low <= value <= high):
        least, most = f"least {name}", f"most {name}"
        raise OutOfRange(
            f"{name} is {{{name}:{unit}}}; this holds from {{{least}:{unit}}} to {{{most}:{unit}}}.",
            {name: value, least: low, most: high},
            next_step=next_step or f"Check {name}.",
        )
    return value


def above_zero(name: str, value: float, unit: str = "") -> float:
    """Return the value of a named input, or refuse it when it is not a number above zero."""
    if not (isfinite(value) and value > 0.0):
        raise OutOfRange(
            f"{name} is {{{name}:{unit}}}; it must be above zero.", {name: value}, next_step=f"Check {name}."
        )
    return value


def not_negative(name: str, value: float, unit: str = "") -> float:
    """Return the value of a named input, or refuse it when it is no number or below zero."""
    if not (isfinite(value) and value >= 0.0):
        raise OutOfRange(
            f"{name} is {{{name}:{unit}}}; it cannot be below zero.", {name: value}, next_step=f"Check {name}."
        )
    return value
