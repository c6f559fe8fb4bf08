"""Refusals for several measured values at once, named by keyword."""

from __future__ import annotations

from diagnose.calc.allowed_range import above_zero, not_negative


def require_positive(unit: str = "", /, **values: float) -> None:
    """Refuse values, all in one SI unit, that are not finite and above zero."""
    for name, value in values.items():
        above_zero(name.replace("_", " "), value, unit)


def require_not_negative(unit: str = "", /, **values: float) -> None:
    """Refuse values, all in one SI unit, that are not finite or are below zero."""
    for name, value in values.items():
        not_negative(name.replace("_", " "), value, unit)
