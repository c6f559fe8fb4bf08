"""The ranking as a shop's confirmed cases correct it: other shares of the causes, other factors of the rules.

*Shares.* The confirmed causes of a defect are counts of a multinomial. Its prior is a Dirichlet: the mean is what the
rules base's words say, the total is two imagined cases for each cause. That leaves a share open to about a factor of
two, one step of the words common, occasional, rare (the ln of a share of a imagined cases spreads by 1 / sqrt(a)). No
share falls under a tenth of what the rules base says: a cause can become unlikely, never impossible.

*Factors.* A rule's factor w stands for P(it speaks | its cause) / P(it speaks | a cause that it says nothing of).
Both are counted among the confirmed cases in which all that the rule looks at was told: it spoke in a of n cases with
its cause, and in b of m cases with a cause none of whose rules look at the same facts (a cause with a rule of its own
on them would blur the comparison). Of the times it spoke, the share with its cause - how often it spoke truly - has a
Beta distribution: before any case its mean is what the word says, n w / (n w + m), and its total is one imagined
case. The odds of that share over n / m are the factor that was counted: exactly w while nothing was. The ln of it is
as uncertain as the ln of a ratio of two shares (Katz, Baptista, Azen & Pike, Biometrics 34, 469, 1978; from memory),
the word by one unit of ln, half the width of the middle bands of Kass & Raftery; the two are weighted by their
precision.

A rule keeps its direction and the cap of its scale: one that proves worthless falls silent, never says the opposite.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import exp, log

from diagnose.consult.rank import CAP, UNLISTED, log_weight, priors
from diagnose.model.condition import facts_of
from diagnose.model.experience import Experience, RuleCount
from diagnose.model.knowledge import Defect, Rule

LEAST_SHARE = 0.1
"""Of the rules base's share of a cause, whatever was confirmed."""
IMAGINED_CASES = 2.0
"""For each cause, before the first case."""
WORD_SPREAD = 1.0
"""Standard deviation of the ln of a factor, as its word leaves it open."""
IMAGINED_TIMES = 1.0
"""That a rule spoke, before the first time, for how often it spoke truly."""


@dataclass(frozen=True)
class Here:
    """How a rule fared in this shop: times it spoke in confirmed cases, and how many of them truly; its factor now."""

    spoke: int
    truly: int
    factor: float


@dataclass(frozen=True)
class Learned:
    """What a shop's cases make of one defect: shares, ln weights, and the counts to show them with."""

    cases: float = 0.0
    confirmed: Mapping[str, float] = field(default_factory=dict)
    prior: Mapping[str, float] = field(default_factory=dict)
    weights: Mapping[str, float] = field(default_factory=dict)
    here: Mapping[str, Here] = field(default_factory=dict)


def learn(defect: Defect, experience: Experience, by_words: Mapping[str, float] | None = None) -> Learned:
    """Return what the confirmed cases of a defect teach; the same as the rules base where there were none.

    `by_words` are the ln weights, by rule, with which the rules count before any case; those of their words if none.
    """
    elsewhere = _elsewhere(defect)
    weights: dict[str, float] = {}
    here: dict[str, Here] = {}
    for rule in defect.rules():
        count = experience.rules.get(rule.key)
        if count is None:
            continue
        said = by_words[rule.id] if by_words else None
        weights[rule.id] = learned_weight(rule, count, elsewhere[rule.id], said)
        spoke = sum(count.spoke.values())
        with_cause = count.spoke.get(rule.cause, 0)
        truly = with_cause if rule.speaks == "for" else spoke - with_cause
        if spoke:
            here[rule.id] = Here(spoke, truly, exp(abs(weights[rule.id])))
    shares = learned_shares(priors(defect), experience.confirmed)
    return Learned(experience.cases, experience.confirmed, shares, weights, here)


def learned_shares(prior: Mapping[str, float], confirmed: Mapping[str, float]) -> dict[str, float]:
    """Return the shares of the causes after the confirmed ones, a cause that is no candidate counting as unlisted."""
    total, imagined = sum(prior.values()), IMAGINED_CASES * len(prior)
    counts = dict.fromkeys(prior, 0.0)
    for cause, count in confirmed.items():
        counts[cause if cause in counts else UNLISTED] += count
    cases = sum(counts.values())
    found = {}
    for cause, share in prior.items():
        said = share / total
        found[cause] = max((imagined * said + counts[cause]) / (imagined + cases), LEAST_SHARE * said)
    return found


def learned_weight(rule: Rule, count: RuleCount, elsewhere: frozenset[str], said: float | None = None) -> float:
    """Return the ln weight of a rule after what was counted; `said` is that before any case, by its word if None.

    `elsewhere` are the causes it is compared with.
    """
    said = log_weight(rule) if said is None else said
    told_with, told_without = count.told.get(rule.cause, 0), _over(count.told, elsewhere)
    if not told_with or not told_without:
        return said  # nothing to compare
    ratio = told_with / told_without
    truly = ratio * exp(said) / (ratio * exp(said) + 1.0)
    spoke_with = count.spoke.get(rule.cause, 0) + IMAGINED_TIMES * truly
    spoke_without = _over(count.spoke, elsewhere) + IMAGINED_TIMES * (1.0 - truly)
    counted = log(spoke_with / spoke_without / ratio)
    unsure = _unsure(spoke_with, told_with) + _unsure(spoke_without, told_without)
    trust = WORD_SPREAD**2 / (WORD_SPREAD**2 + unsure)
    found = said + trust * (counted - said)
    return min(max(found, 0.0), log(CAP)) if rule.speaks == "for" else max(min(found, 0.0), -log(CAP))


def _unsure(spoke: float, told: int) -> float:
    """Return the variance of the ln of a share that was counted."""
    return 1.0 / spoke - 1.0 / (told + IMAGINED_TIMES)


def _over(counts: Mapping[str, int], causes: frozenset[str]) -> int:
    return sum(count for cause, count in counts.items() if cause in causes)


def _elsewhere(defect: Defect) -> dict[str, frozenset[str]]:
    """Return for each rule the causes of which nothing is said by any of the facts that it looks at."""
    looks = {c.cause: {fact for rule in c.rules for fact in facts_of(rule.when)} for c in defect.candidates}
    looks[UNLISTED] = set()
    found = {}
    for rule in defect.rules():
        facts = set(facts_of(rule.when))
        found[rule.id] = frozenset(cause for cause, theirs in looks.items() if not facts & theirs)
    return found
