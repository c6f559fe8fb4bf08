"""Refusals for several measured values at once, named by keyword."""

from __future__ import annotations

from diagnose.calc.allowed_range import above_zero, within


def require_positive(**values: float) -> None:
    """Refuse values that are not finite and above zero."""
    for name, value in values.items():
        above_zero(name.replace("_", " "), value)


def require_not_negative(**values: float) -> None:
    """Refuse values that are not finite or are below zero."""
    for name, value in values.items():
        within(name.replace("_", " "), value, 0.0, float("inf"))
