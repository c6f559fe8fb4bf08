"""Conditions over facts: a closed set, so that every one can be read, checked and explained.

A fact that is unknown makes no condition true, not even a negative one: `none` of something holds only
when that something is known and false. Numbers are SI floats here; the rules files carry units.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic import Field

from diagnose.model.record import Record

Side = Literal["below", "inside", "above"]


class Is(Record):
    """A fact with named answers has one of the answers given."""

    kind: Literal["is"] = "is"
    fact: str
    answers: tuple[str, ...]


class Within(Record):
    """A number lies strictly above `low` and strictly below `high` (SI); an open end is None."""

    kind: Literal["within"] = "within"
    fact: str
    low: float | None = None
    high: float | None = None


class Beyond(Record):
    """A number lies at or below `low`, or at or above `high`: the complement of Within, made by negation."""

    kind: Literal["beyond"] = "beyond"
    fact: str
    low: float | None = None
    high: float | None = None


class Window(Record):
    """A setting lies on one of the given sides of its recommended window."""

    kind: Literal["window"] = "window"
    fact: str
    sides: tuple[Side, ...]


class Against(Record):
    """A number compared with another number: below or above it by more than a share or an amount.

    `share` is relative to the other fact (0.1 is 10 %); `amount` is an SI difference. Exactly one is set.
    """

    kind: Literal["against"] = "against"
    fact: str
    other: str
    side: Literal["below", "above"]
    share: float | None = None
    amount: float | None = None


class All(Record):
    """Every part holds."""

    kind: Literal["all"] = "all"
    parts: tuple[Condition, ...]


class Any(Record):
    """At least one part holds."""

    kind: Literal["any"] = "any"
    parts: tuple[Condition, ...]


class Nothing(Record):
    """Every part is known and does not hold."""

    kind: Literal["none"] = "none"
    parts: tuple[Condition, ...]


class AtLeast(Record):
    """At least `count` of the parts hold."""

    kind: Literal["at least"] = "at least"
    count: int = Field(ge=1)
    parts: tuple[Condition, ...]


Leaf = Is | Within | Beyond | Window | Against
Condition = Annotated[
    Is | Within | Beyond | Window | Against | All | Any | Nothing | AtLeast, Field(discriminator="kind")
]
for _group in (All, Any, Nothing, AtLeast):
    _group.model_rebuild()


def leaves(condition: Condition) -> Iterator[Leaf]:
    """Yield every single comparison inside a condition, in order."""
    if isinstance(condition, (All, Any, Nothing, AtLeast)):
        for part in condition.parts:
            yield from leaves(part)
    else:
        yield condition


def facts_of(condition: Condition) -> tuple[str, ...]:
    """Return the names of the facts a condition looks at, each once, in order."""
    if condition.kind in ("is", "within", "window"):  # most of them, and looked at often
        return (condition.fact,)
    names: dict[str, None] = {}
    for leaf in leaves(condition):
        names.setdefault(leaf.fact)
        if isinstance(leaf, Against):
            names.setdefault(leaf.other)
    return tuple(names)
