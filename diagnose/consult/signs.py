"""What a sign counts where one answer of a closed set must be given: its word, less what any answer would have said.

A rule's word says how much likelier its sign is with its cause than with a cause of which the rules say nothing. A
question has a closed set of answers, and each cause gives one of them, so the chances sum to one: P(answer | cause) is
the answer's share s times the cause's Bayes factor B under that answer, over Z, the sum of s B over all the answers.
Where only one answer is a sign, that answer is rare without its cause, Z is near 1 and the sign counts in full. Where
every answer is a sign of something, a cause of which nothing is said has to give one of them all the same: a sign
then counts B / Z. What speaks against a cause counts in full.

People slip: of all answers and readings a few are not what was there to be seen. A rule therefore counts the ratio of
the chances to *hear* its sign, which a slip can give as well, so that no single answer decides alone. What they work in
people know: a material is taken as told.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from math import exp, log

from diagnose.consult.rank import counted, log_weight
from diagnose.model.condition import All, Any, AtLeast, Condition, Is, Nothing, facts_of, leaves
from diagnose.model.knowledge import Rule
from diagnose.model.vocabulary import Observation

SLIP = 0.03
"""Share of answers and readings taken to be wrong. Chosen with `diagnose rules simulate`, where more costs questions
when everybody answers truly, and less believes a wrong answer for too long."""


def shares_of(observation: Observation) -> dict[str, float]:
    """Return how often each answer is met among bad parts; what `usual` leaves is shared evenly."""
    given = dict(observation.usual)
    left = max(1.0 - sum(given.values()), 0.0)
    rest = [a for a in observation.answers if a not in given]
    return {a: given.get(a, left / len(rest) if rest else 0.0) or 1e-3 for a in observation.answers}


def rare_signs(shares: Mapping[str, float], factors: Mapping[str, Mapping[str, float]]) -> dict[str, float]:
    """Return the shares of answers with a cause that the rules say nothing of, summing to one.

    A sign that makes a cause 50 times likelier is that much rarer without it. `factors` are ln Bayes factors by
    answer and cause.
    """
    apart = {a: share / exp(max((0.0, *factors.get(a, {}).values()))) for a, share in shares.items()}
    total = sum(apart.values())
    return {a: share / total for a, share in apart.items()}


def sign_weights(
    rules: Iterable[Rule], observations: Mapping[str, Observation], slip: float = SLIP
) -> dict[str, float]:
    """Return the ln weight with which each rule counts, by its id, when a share `slip` of all answers is wrong."""
    every = list(rules)
    found = {rule.id: log_weight(rule) for rule in every}
    about: dict[str, list[Rule]] = {}
    for rule in every:
        facts = facts_of(rule.when)
        if len(facts) == 1 and facts[0] in observations:
            about.setdefault(facts[0], []).append(rule)
    for fact, own in about.items():
        any_answer = _any_answer(observations[fact], own)
        for rule in own:
            if rule.speaks == "for":
                found[rule.id] = max(found[rule.id] - max(any_answer[rule.cause], 0.0), 0.0)
    return {r.id: found[r.id] if _taken_as_told(r, observations) else heard(found[r.id], slip) for r in every}


def _taken_as_told(rule: Rule, observations: Mapping[str, Observation]) -> bool:
    """Say whether a rule looks at no answer and no number: at materials, or at what was the same in a good run."""
    return all(leaf.kind == "is" and leaf.fact not in observations for leaf in leaves(rule.when))


def heard(weight: float, slip: float = SLIP) -> float:
    """Return what a ln weight counts when a slip can give its sign, or hide it: never more than ln 1/slip.

    A sign B times likelier with its cause than without is heard as often as it is there, or by a slip.
    """
    rare = (1.0 - slip) * exp(-abs(weight)) + slip
    return -log(rare) if weight > 0.0 else log(rare)


def _any_answer(observation: Observation, rules: list[Rule]) -> dict[str, float]:
    """Return ln Z of each cause that has a rule on an observation."""
    factors: dict[str, dict[str, float]] = {}
    for answer in observation.answers:
        own = factors.setdefault(answer, {})
        for rule in counted(r for r in rules if holds(r.when, answer)):
            own[rule.cause] = own.get(rule.cause, 0.0) + log_weight(rule)
    shares = rare_signs(shares_of(observation), factors)
    causes = {rule.cause for rule in rules}
    return {c: log(sum(s * exp(factors[a].get(c, 0.0)) for a, s in shares.items())) for c in causes}


def holds(condition: Condition, answer: str) -> bool:
    """Say whether a condition that looks at one answered fact only holds under an answer."""
    if isinstance(condition, Is):
        return answer in condition.answers
    if not isinstance(condition, (All, Any, Nothing, AtLeast)):
        return False
    count = sum(holds(part, answer) for part in condition.parts)
    if isinstance(condition, Nothing):
        return count == 0
    least = len(condition.parts) if isinstance(condition, All) else getattr(condition, "count", 1)
    return bool(count >= least)
