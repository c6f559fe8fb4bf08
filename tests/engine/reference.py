"""A naive reading of what conditions mean: three-valued, in exact fractions, no code of the engine room used.

True, False, or None for "cannot be told" (S. C. Kleene, Introduction to Metamathematics, 1952, sec. 64: the
strong tables; from memory). A rule holds when its condition is True.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction

from diagnose.model.condition import (
    Against,
    All,
    Any,
    AtLeast,
    Beyond,
    Condition,
    Is,
    Leaf,
    Nothing,
    Window,
    Within,
    facts_of,
)

Facts = Mapping[str, object]


def exact(value: object) -> Fraction:
    """Return a number as the decimal it is written as, not as the binary number next to it."""
    return Fraction(repr(float(value)))  # type: ignore[arg-type]


def truth(condition: Condition, facts: Facts, windows: Facts) -> bool | None:
    """Return whether a condition holds; None when the known facts do not tell."""
    match condition:
        case All():
            return all_of(truth(part, facts, windows) for part in condition.parts)
        case Any():
            return opposite(all_of(opposite(truth(part, facts, windows)) for part in condition.parts))
        case Nothing():
            return all_of(opposite(truth(part, facts, windows)) for part in condition.parts)
        case AtLeast():
            found = [truth(part, facts, windows) for part in condition.parts]
            if found.count(True) >= condition.count:
                return True
            return False if found.count(True) + found.count(None) < condition.count else None
        case Window():
            return windows[condition.fact] in condition.sides if condition.fact in windows else None
    return compared(condition, facts)


def compared(leaf: Is | Within | Beyond | Against, facts: Facts) -> bool | None:
    """Return whether a single comparison holds."""
    if leaf.fact not in facts or isinstance(facts[leaf.fact], tuple):
        return None
    value = facts[leaf.fact]
    match leaf:
        case Is():
            return any(value == answer for answer in leaf.answers)
        case Within():
            return inside(exact(value), leaf.low, leaf.high)
        case Beyond():
            return not inside(exact(value), leaf.low, leaf.high)
    if leaf.other not in facts or isinstance(facts[leaf.other], tuple):
        return None
    other, number = exact(facts[leaf.other]), exact(value)
    if leaf.share is not None and other <= 0:
        return None
    away = other * exact(leaf.share) if leaf.share is not None else exact(leaf.amount)
    return number < other - away if leaf.side == "below" else number > other + away


def inside(number: Fraction, low: float | None, high: float | None) -> bool:
    """Return whether a number lies strictly between two ends, either of which may be open."""
    return (low is None or number > exact(low)) and (high is None or number < exact(high))


def all_of(found: Iterable[bool | None]) -> bool | None:
    """Return the strong conjunction."""
    known = list(found)
    if False in known:
        return False
    return None if None in known else True


def opposite(found: bool | None) -> bool | None:
    """Return the strong negation."""
    return None if found is None else not found


def only_these(leaves: Iterable[Leaf], facts: Facts, windows: Facts) -> tuple[Facts, Facts]:
    """Return the facts and windows without everything that the leaves do not look at."""
    leaves = list(leaves)
    names = {name for leaf in leaves if not isinstance(leaf, Window) for name in facts_of(leaf)}
    sides = {leaf.fact for leaf in leaves if isinstance(leaf, Window)}
    return {n: v for n, v in facts.items() if n in names}, {n: v for n, v in windows.items() if n in sides}
