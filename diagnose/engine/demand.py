"""What a condition demands of one known value, and what two demands on the same value come to."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, NamedTuple

Kind = Literal["answer", "number", "side", "ratio", "difference"]


class Look(NamedTuple):
    """One value that conditions look at: a fact, its side of the window, or how it compares with another."""

    kind: Kind
    fact: str
    other: str | None = None


@dataclass(frozen=True)
class OneOf:
    """The answer is one of these."""

    answers: frozenset[str]


@dataclass(frozen=True)
class NoneOf:
    """The answer is known and is none of these."""

    answers: frozenset[str]


@dataclass(frozen=True)
class Span:
    """The number lies between two ends; a shut end belongs to the span."""

    low: float = -math.inf
    high: float = math.inf
    low_shut: bool = False
    high_shut: bool = False

    def is_empty(self) -> bool:
        """Tell whether no number can lie in it."""
        return self.low > self.high or (self.low == self.high and not (self.low_shut and self.high_shut))


Demand = OneOf | NoneOf | Span


def both(first: Demand, second: Demand) -> Demand | None:
    """Return the demand that holds when both hold; None when they contradict each other."""
    if isinstance(first, Span) and isinstance(second, Span):
        return _overlap(first, second)
    if isinstance(first, NoneOf) and isinstance(second, NoneOf):
        return NoneOf(first.answers | second.answers)
    if isinstance(first, OneOf) and not isinstance(second, Span):
        return _answers(first, second)
    if isinstance(second, OneOf) and isinstance(first, NoneOf):
        return _answers(second, first)
    raise TypeError(f"a number and an answer cannot be demanded of one value: {first}, {second}")


def _answers(allowed: OneOf, other: OneOf | NoneOf) -> OneOf | None:
    if isinstance(other, OneOf):
        left = allowed.answers & other.answers
    else:
        left = allowed.answers - other.answers
    return OneOf(left) if left else None


def _overlap(first: Span, second: Span) -> Span | None:
    # At equal ends the open one is the narrower.
    low, low_open = max((first.low, not first.low_shut), (second.low, not second.low_shut))
    high, high_shut = min((first.high, first.high_shut), (second.high, second.high_shut))
    span = Span(low, high, not low_open, high_shut)
    return None if span.is_empty() else span
