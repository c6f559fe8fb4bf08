"""Facts that a calculator takes when they are known."""

from __future__ import annotations

from diagnose.calc.allowed_range import above_zero
from diagnose.derive.calculator import Facts, number
from diagnose.errors import OutOfRange


def told(facts: Facts, name: str, otherwise: float) -> float:
    """Return a number if it is known, else what to use without it."""
    return number(facts, name) if name in facts else otherwise


def positive(facts: Facts, name: str) -> float:
    """Return a number that must be above zero; raise OutOfRange for any other."""
    return above_zero(f"the {name}", number(facts, name))


def listed(facts: Facts, name: str) -> tuple[float, ...]:
    """Return a list of readings; a single one counts as a list of one."""
    value = facts[name]
    if isinstance(value, tuple):
        return value
    if isinstance(value, float):
        return (value,)
    raise OutOfRange(f"{name} is '{value}', not numbers.", next_step="Write numbers with units.")
