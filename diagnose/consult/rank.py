"""Evidence into probabilities: ln prior plus the ln weights of the counted evidence, normalised.

The words for weights stand for bands of Bayes factors (Kass & Raftery, J. Am. Stat. Assoc. 90, 773, 1995,
table of section 3.2); each word counts as the geometric middle of its band, the last band capped at 200.
For one cause, among the applied rules about one state of the world only the strongest counts.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from math import exp, log, log2, sqrt
from typing import NamedTuple

from diagnose.model.knowledge import Defect, Rule, Weight

CAP = 200.0
BANDS: dict[Weight, tuple[float, float]] = {
    "slight": (1.0, 3.0), "positive": (3.0, 20.0), "strong": (20.0, 150.0), "very strong": (150.0, CAP)
}  # fmt: skip
BAYES_FACTOR: dict[str, float] = {word: sqrt(low * high) for word, (low, high) in BANDS.items()}
_LOG_WEIGHT = {
    (speaks, word): sign * log(factor)
    for word, factor in BAYES_FACTOR.items()
    for speaks, sign in (("for", 1.0), ("against", -1.0))
}
PRIOR = {"common": 4.0, "occasional": 2.0, "rare": 1.0}
UNLISTED = "unlisted"
UNLISTED_PRIOR = PRIOR["occasional"]
SURE = 0.5  # chance from which the evidence points to the first cause
SEVERAL = 0.25  # chance from which a cause is named beside another


Votes = dict[tuple[str, str], float]
"""The counted ln weight by cause and state of the world."""
Weigh = Callable[[Rule], float]
"""Gives a rule its ln weight: that of its word, or what a shop's cases made of it."""


class Ranking(NamedTuple):
    """Probabilities by cause (with `unlisted`), best first, and the rules that were counted."""

    probabilities: dict[str, float]
    counted: frozenset[str]

    def first(self) -> str:
        """Return the leading cause."""
        return next(iter(self.probabilities))

    def points_to_one(self) -> bool:
        """Say whether the first cause is one that the rules know and likelier than all the others together."""
        first = self.first()
        return first != UNLISTED and self.probabilities[first] >= SURE

    def entropy(self) -> float:
        """Return the uncertainty left. [bit]"""
        return entropy(self.probabilities.values())


def entropy(probabilities: Iterable[float]) -> float:
    """Return the uncertainty of a set of probabilities. [bit]"""
    return -sum(p * log2(p) for p in probabilities if p > 0.0)


def log_weight(rule: Rule) -> float:
    """Return the ln of the rule's Bayes factor, negative when it speaks against."""
    return _LOG_WEIGHT[rule.speaks, rule.weight]


def word_for(log_weight: float) -> Weight:
    """Return the word in whose band a ln weight lies, whichever way it speaks."""
    factor = exp(abs(log_weight))
    return next((word for word, (_, high) in BANDS.items() if factor <= high), "very strong")


def priors(defect: Defect) -> dict[str, float]:
    """Return the prior share of each candidate and of the unlisted cause, as ratios."""
    found = {c.cause: PRIOR[c.often] for c in defect.candidates}
    found[UNLISTED] = UNLISTED_PRIOR
    return found


def counted(applied: Iterable[Rule], weigh: Weigh = log_weight) -> list[Rule]:
    """Return the rules that count: for each cause, the strongest about each state of the world."""
    strongest: dict[tuple[str, str], Rule] = {}
    for rule in applied:
        state = (rule.cause, rule.about)
        if state not in strongest or abs(weigh(rule)) > abs(weigh(strongest[state])):
            strongest[state] = rule
    return list(strongest.values())


def rank(prior: Mapping[str, float], applied: Iterable[Rule], weigh: Weigh = log_weight) -> Ranking:
    """Return the ranking that the applied rules give."""
    count = counted(applied, weigh)
    odds = {cause: log(share) for cause, share in prior.items()}
    for rule in count:
        odds[rule.cause] += weigh(rule)
    top = max(odds.values())
    shares = {cause: exp(value - top) for cause, value in odds.items()}
    total = sum(shares.values())
    # Ties keep the file's order, with the unlisted cause last.
    best_first = sorted(shares, key=lambda c: -shares[c])
    return Ranking({c: shares[c] / total for c in best_first}, frozenset(r.id for r in count))
