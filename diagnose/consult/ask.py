"""What to ask next: the expected fall in entropy of the ranking per minute of effort.

The chance of each answer follows from the rules: P(answer | cause) is the answer's usual share times the
cause's Bayes factor under that answer, normalised over the answers; the usual share of an answer that speaks
for some cause is first divided by its strongest factor, so that the ratio between causes stays that factor.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from math import exp
from typing import Any, NamedTuple

from diagnose.consult.rank import Ranking, Votes, Weigh, entropy
from diagnose.consult.signs import shares_of
from diagnose.consult.standing import Desk, Facts, Standing, scalars, side_of, window_of
from diagnose.consult.to_tell import ToTell
from diagnose.derive.resolve import Resolver
from diagnose.model.knowledge import Rule

# Both chosen with `diagnose rules simulate`: asking longer, or for less, costs questions and finds hardly more causes.
SETTLED = 0.96
WORTH_ASKING = 0.03  # [bit]
LIKELY_ENOUGH = 0.003  # an answer rarer than this does not keep the inquiry open


class OpenQuestion(NamedTuple):
    """Something not yet known, what finding out would tell and cost, and what each outcome would put first."""

    name: str
    kind: str
    bits: float
    effort: float  # [s]
    about: str
    would_change_first: bool
    outcomes: tuple[tuple[str, float, str], ...]  # answer, chance, leading cause then
    fact: str = ""  # what the rules look at once this is known

    @property
    def worth(self) -> float:
        """Return the expected information per minute. [bit/min]"""
        return self.bits / max(self.effort / 60.0, 0.25)


def open_questions(standing: Standing, resolver: Resolver, asked: frozenset[str]) -> list[OpenQuestion]:
    """Return the open observations, bench tests, settings and materials, best first.

    `asked` holds the names already answered, `not known` included: they are not asked twice.
    """
    return best_first(in_file_order(standing, resolver, asked))


def best_first(questions: Iterable[OpenQuestion]) -> list[OpenQuestion]:
    """Return the questions that are worth asking, best first."""
    return sorted((q for q in questions if q.bits >= WORTH_ASKING), key=lambda q: (-q.worth, q.name))


def in_file_order(standing: Standing, resolver: Resolver, asked: frozenset[str]) -> list[OpenQuestion]:
    """Return everything that the rules look at and that is not known yet, in the order of the defect's file."""
    found: dict[str, OpenQuestion] = {}
    telling = ToTell(standing.resolved, resolver, standing.desk.base.words, asked)
    for fact in standing.desk.rule_facts:
        for question in _about(fact, standing, telling):
            old = found.get(question.name)
            if old is None or question.bits > old.bits:
                found[question.name] = question
    return list(found.values())


def settled(standing: Standing, questions: list[OpenQuestion]) -> bool:
    """Say whether the first cause is likely enough and no open question would put another first."""
    first = standing.ranking.first()
    likely = first != "unlisted" and standing.ranking.probabilities[first] >= SETTLED
    return likely and not any(q.would_change_first for q in questions)


def _about(fact: str, standing: Standing, telling: ToTell) -> Iterator[OpenQuestion]:
    words, asked = standing.desk.base.words, telling.asked
    if fact in asked or fact in standing.resolved.facts:
        return
    if fact in words.observations:
        observation = words.observations[fact]
        kind = "bench test" if observation.bench_test else "observation"
        yield score(fact, kind, observation.effort, shares_of(observation), fact, standing)
        return
    if fact in words.slots or words.slot_of_kind(fact):
        slot = fact.removesuffix(" kind")
        if slot not in asked and slot not in standing.resolved.facts:
            yield score(slot, "material", 15.0, _alike(words.answers(fact)), fact, standing)
        return
    values = values_between(fact, standing.desk, standing.resolved.facts)
    if not values:
        return
    missing = [fact] if fact in words.settings else telling.for_fact(fact)
    if not missing:
        return
    effort = sum(words.settings[m].effort for m in missing if m in words.settings)
    for name in missing[:1]:
        kind = "setting" if name in words.settings else "material" if name in words.slots else "observation"
        yield score(name, kind, max(effort, 15.0), _alike(values), fact, standing)


def _alike(answers: Sequence[str] | Sequence[float]) -> dict[Any, float]:
    return {a: 1.0 / len(answers) for a in answers}


def values_between(fact: str, desk: Desk, facts: Facts) -> list[float]:
    """Return a value of a number on each side of every threshold of the rules and of its window's ends."""
    ends = list(desk.thresholds.get(fact, ()))
    setting = desk.base.words.settings.get(fact)
    window = window_of(setting, facts) if setting else None
    if window is not None:
        ends += [e for e in (window.low, window.high) if e is not None]
    ends = sorted(set(ends))
    if not ends:
        return []
    span = max(ends[-1] - ends[0], abs(ends[-1]) * 0.1, 1e-9)
    inner = [(a + b) / 2.0 for a, b in pairwise(ends)]
    return [ends[0] - 0.2 * span, *inner, ends[-1] + 0.2 * span]


def score(
    name: str, kind: str, effort: float, shares: Mapping[Any, float], fact: str, standing: Standing
) -> OpenQuestion:
    """Return what finding a fact out would tell, given the usual share of each of its answers."""
    now, desk = standing.ranking, standing.desk
    facts = scalars(standing.resolved.facts)
    before = standing.votes
    matcher, setting = desk.looking_at(fact), desk.base.words.settings.get(fact)
    window = window_of(setting, standing.resolved.facts) if setting else None
    factors: list[dict[str, float]] = []
    after: list[dict[str, float]] = []
    for answer in shares:
        windows = standing.windows
        if window is not None and isinstance(answer, float):
            windows = {**windows, fact: side_of(window, answer)}
        matches = matcher.evaluate({**facts, fact: answer}, windows)
        gain = {c: exp(g) for c, g in _gains(before, (desk.rules[m.rule] for m in matches), desk.weigh).items()}
        shifted = {c: p * gain.get(c, 1.0) for c, p in now.probabilities.items()}
        total = sum(shifted.values())
        factors.append(gain)
        after.append({c: p / total for c, p in shifted.items()})
    # A sign that makes one cause 50 times likelier must be rare under the others: P(answer | cause) <= 1.
    apart = [share / max((1.0, *gain.values())) for share, gain in zip(shares.values(), factors, strict=True)]
    chances = _chances(apart, factors, now)
    fall = now.entropy() - sum(p * entropy(then.values()) for p, then in zip(chances, after, strict=True))
    firsts = [max(then, key=then.__getitem__) for then in after]
    changes = any(p >= LIKELY_ENOUGH and first != now.first() for p, first in zip(chances, firsts, strict=True))
    shown = tuple(zip(map(str, shares), chances, firsts, strict=True))
    return OpenQuestion(name, kind, max(fall, 0.0), effort, desk.base.words.about(fact), changes, shown, fact)


def _gains(before: Votes, applied: Iterable[Rule], weigh: Weigh) -> dict[str, float]:
    """Return by how much more rules shift the log odds of each cause: a state's vote changes only to a stronger one.

    A fact that becomes known never makes an applied rule silent, so what applied before still does.
    """
    votes: Votes = {}
    gains: dict[str, float] = {}
    for rule in applied:
        state, weight = (rule.cause, rule.about), weigh(rule)
        old = votes.get(state, before.get(state, 0.0))
        if abs(weight) > abs(old):
            votes[state] = weight
            gains[rule.cause] = gains.get(rule.cause, 0.0) + weight - old
    return gains


def _chances(shares: list[float], factors: list[dict[str, float]], now: Ranking) -> list[float]:
    chances = [0.0] * len(shares)
    for cause, probability in now.probabilities.items():
        weights = [s * f.get(cause, 1.0) for s, f in zip(shares, factors, strict=True)]
        total = sum(weights)
        for i, weight in enumerate(weights):
            chances[i] += probability * weight / total
    return chances
