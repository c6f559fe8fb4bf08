"""A rule's condition as a person would say it, with its numbers in the person's units."""

from __future__ import annotations

from diagnose import units
from diagnose.consult.show import Shower
from diagnose.model.condition import Against, All, AtLeast, Beyond, Condition, Is, Nothing, Window, Within
from diagnose.model.condition import Any as AnyOf


def in_words(condition: Condition, show: Shower) -> str:
    """Return a condition as words."""
    if isinstance(condition, Is):
        return f"{condition.fact}: {_or(condition.answers)}"
    if isinstance(condition, Within):
        return f"{condition.fact} {_within(condition, show)}"
    if isinstance(condition, Beyond):
        return f"{condition.fact} {_beyond(condition, show)}"
    if isinstance(condition, Window):
        return f"{condition.fact} {_or(tuple(_SIDES[s] for s in condition.sides))}"
    if isinstance(condition, Against):
        return _against(condition, show)
    parts = [in_words(part, show) for part in condition.parts]
    if isinstance(condition, All):
        return " and ".join(parts)
    if isinstance(condition, AnyOf):
        return " or ".join(parts)
    if isinstance(condition, Nothing):
        return "none of these: " + "; ".join(parts)
    assert isinstance(condition, AtLeast)
    return f"at least {condition.count} of these: " + "; ".join(parts)


_SIDES = {"below": "below its window", "inside": "inside its window", "above": "above its window"}


def _or(words: tuple[str, ...]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} or {words[-1]}"


def _within(c: Within, show: Shower) -> str:
    low = show.value(c.fact, c.low) if c.low is not None else ""
    high = show.value(c.fact, c.high) if c.high is not None else ""
    if low and high:
        return f"between {low} and {high}"
    return f"above {low}" if low else f"below {high}"


def _beyond(c: Beyond, show: Shower) -> str:
    ends = [f"{show.value(c.fact, c.low)} or less"] if c.low is not None else []
    ends += [f"{show.value(c.fact, c.high)} or more"] if c.high is not None else []
    return " or ".join(ends)


def _against(c: Against, show: Shower) -> str:
    by = f"{units.show(c.share, 'percent', '%')} " if c.share else ""
    by = f"{show.change(c.fact, c.amount)} " if c.amount else by
    return f"{c.fact} {f'more than {by}' if by else ''}{c.side} {c.other}"
