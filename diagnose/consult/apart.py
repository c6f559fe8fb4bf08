"""How far the facts that can be found out tell the causes of a defect apart, pair by pair."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import combinations
from math import exp, log
from typing import NamedTuple

from diagnose.consult.ask import values_between
from diagnose.consult.favourable import make, sides_of
from diagnose.consult.rank import BAYES_FACTOR, counted, log_weight
from diagnose.consult.standing import Desk
from diagnose.model.condition import Side, facts_of

ENOUGH = log(BAYES_FACTOR["positive"])  # ln of the factor that counts as telling apart


class Telling(NamedTuple):
    """Something that can be found out, and by what ln factor it shifts the odds of the causes it speaks of."""

    facts: Mapping[str, float | str]
    gains: Mapping[str, float]

    def between(self, cause: str, other: str) -> float:
        """Return by what ln factor it shifts the odds of one cause against another."""
        return abs(self.gains.get(cause, 0.0) - self.gains.get(other, 0.0))


class Pair(NamedTuple):
    """Two causes of a defect, and what tells them apart best."""

    cause: str
    other: str
    apart: float  # ln of the factor between their odds
    by: str

    def shown(self) -> str:
        """Return how far apart they come, and by what."""
        return f"{self.by}, a factor of {exp(self.apart):.1f}" if self.by else "nothing"


def not_apart(desk: Desk) -> list[Pair]:
    """Return the pairs of causes that no single finding tells apart by a `positive` factor."""
    return [pair for pair in pairs(desk) if pair.apart < ENOUGH - 1e-9]


def pairs(desk: Desk) -> list[Pair]:
    """Return every pair of causes with the finding that tells them apart best."""
    found = list(tellings(desk))
    causes = [c.cause for c in desk.defect.candidates]
    result = []
    for cause, other in combinations(causes, 2):
        best = max(found, key=lambda t: t.between(cause, other), default=None)
        apart = best.between(cause, other) if best else 0.0
        by = (
            ", ".join(f"{n}: {v if isinstance(v, str) else format(v, '.6g')}" for n, v in best.facts.items())
            if best
            else ""
        )
        result.append(Pair(cause, other, apart, by if apart > 0.0 else ""))
    return result


def tellings(desk: Desk) -> Iterator[Telling]:
    """Yield what each answer to each question would tell alone, and what each rule's own facts would together."""
    words = desk.base.words
    for fact in desk.rule_facts:
        for answer in words.answers(fact) or values_between(fact, desk, {}):
            yield _telling(desk, {fact: answer}, {})
        if fact in words.settings and words.settings[fact].windows:
            for side in ("below", "inside", "above"):
                yield _telling(desk, {}, {fact: side}, {f"{fact} against its window": side})
    for rule in desk.rules.values():
        if len(facts_of(rule.when)) > 1 and (made := make(rule.when, {})):
            yield _telling(desk, made, sides_of(rule.when))


def _telling(
    desk: Desk, facts: Mapping[str, float | str], sides: Mapping[str, Side], shown: Mapping[str, str] | None = None
) -> Telling:
    applied = [desk.rules[m.rule] for m in desk.matcher.evaluate(facts, sides)]
    gains: dict[str, float] = {}
    for rule in counted(applied):
        gains[rule.cause] = gains.get(rule.cause, 0.0) + log_weight(rule)
    return Telling(shown or facts, gains)
