"""What was learned from the shop, written out beside what it changed."""

from __future__ import annotations

from math import exp

from diagnose.consult.rank import priors
from diagnose.consult.standing import Desk, Standing
from diagnose.model.diagnosis import CauseHere, RuleHere
from diagnose.model.knowledge import Rule


def rule_here(desk: Desk, rule: Rule) -> RuleHere | None:
    """Return how a rule fared in this shop, or None where it never spoke in a confirmed case."""
    found = desk.learned.here.get(rule.id)
    if found is None:
        return None
    return RuleHere(
        spoke=found.spoke, truly=found.truly, word_factor=exp(abs(desk.by_words[rule.id])), factor=found.factor,
        words=f"here: right {found.truly} of {found.spoke} times",
    )  # fmt: skip


def cause_here(desk: Desk, cause: str) -> CauseHere | None:
    """Return how often a cause was confirmed in this shop, or None where no case of the defect was."""
    learned = desk.learned
    if not learned.cases:
        return None
    alone, confirmed = priors(desk.defect), learned.confirmed.get(cause, 0.0)
    return CauseHere(
        confirmed=confirmed, cases=learned.cases, word_share=alone[cause] / sum(alone.values()),
        share=desk.prior[cause] / sum(desk.prior.values()),
        words=f"in this shop {_count(confirmed)} of {_count(learned.cases)} such parts were this",
    )  # fmt: skip


def learned_words(standing: Standing) -> str:
    """Return what the ranking owes to the shop's own cases, or nothing when it owes nothing."""
    learned, first = standing.desk.learned, standing.ranking.first()
    if not learned.cases:
        return ""
    alone = standing.by_rules_alone
    name = _name(standing.desk, first)
    cases = f"{_count(learned.cases)} confirmed case{'s' if learned.cases != 1 else ''} of this defect"
    then = f"{name} would stand at {alone.probabilities[first]:.0%}"
    if alone.first() != first:
        then += f", and {_name(standing.desk, alone.first())} would be first"
    return f"This ranking has learned from {cases} in this shop. By the rules base alone (--without-shop) {then}."


def _name(desk: Desk, cause: str) -> str:
    return "something not listed" if cause == "unlisted" else desk.base.cause_name(cause)


def _count(number: float) -> str:
    """Write a number of cases; several causes of one case share it, so it need not be whole."""
    return f"{number:.0f}" if abs(number - round(number)) < 0.05 else f"{number:.1f}"
