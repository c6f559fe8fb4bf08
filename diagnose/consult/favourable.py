"""Facts that suit a cause or a condition best: what is made to hold, beside what already does."""

from __future__ import annotations

from diagnose.consult.rank import log_weight, rank
from diagnose.consult.standing import Desk, stand_on
from diagnose.derive.resolve import Resolved
from diagnose.model.condition import All as AllOf
from diagnose.model.condition import Any as AnyOf
from diagnose.model.condition import AtLeast, Condition, Is, Nothing, Side, Window, Within


def best_chance(desk: Desk, cause: str) -> tuple[float, str]:
    """Return the probability a cause reaches on the most favourable consistent facts, and what is first then.

    Facts are chosen greedily, heaviest rule first: each rule for the cause is made to hold unless that
    contradicts a fact already chosen.
    """
    facts: dict[str, float | str] = {}
    sides: dict[str, Side] = {}
    rules = sorted(
        (r for r in desk.rules.values() if r.cause == cause and r.speaks == "for"), key=lambda r: -log_weight(r)
    )
    best = (0.0, "")
    for rule in rules:
        wanted = make(rule.when, facts)
        if wanted is None:
            continue
        trial = {**facts, **wanted}
        trial_sides = {**sides, **sides_of(rule.when)}
        standing = stand_on(desk, Resolved(dict(trial)))
        matches = desk.matcher.evaluate(trial, {**standing.windows, **trial_sides})
        ranking = rank(desk.prior, (desk.rules[m.rule] for m in matches), desk.weigh)
        p = ranking.probabilities[cause]
        if p >= best[0]:
            best, facts, sides = (p, ranking.first()), trial, trial_sides
    return best


def sides_of(condition: Condition) -> dict[str, Side]:
    """Return the sides of windows on which a condition wants settings to lie."""
    if isinstance(condition, Window):
        return {condition.fact: condition.sides[0]}
    parts = getattr(condition, "parts", ())
    if isinstance(condition, AllOf):
        return {k: v for p in parts for k, v in sides_of(p).items()}
    return sides_of(parts[0]) if parts and isinstance(condition, AnyOf) else {}


def make(condition: Condition, facts: dict[str, float | str]) -> dict[str, float | str] | None:
    """Return facts that make a condition hold beside those already chosen, or None."""
    if isinstance(condition, Is):
        old = facts.get(condition.fact)
        return {condition.fact: condition.answers[0]} if old is None else {} if old in condition.answers else None
    if isinstance(condition, Within):
        return _number(condition, facts)
    if isinstance(condition, AllOf):
        return _every(condition.parts, facts)
    if isinstance(condition, AtLeast):
        return _every(condition.parts[: condition.count], facts)
    if isinstance(condition, AnyOf):
        return next((made for part in condition.parts if (made := make(part, facts)) is not None), None)
    if isinstance(condition, Window):
        return {}
    if isinstance(condition, Nothing):
        return None
    return {} if condition.kind != "against" else _against(condition, facts)


def _against(condition: object, facts: dict[str, float | str]) -> dict[str, float | str] | None:
    fact, other, side = condition.fact, condition.other, condition.side  # type: ignore[attr-defined]
    if fact in facts or other in facts:
        return None
    share, amount = condition.share, condition.amount  # type: ignore[attr-defined]
    gap = amount * 1.5 if amount is not None else (share or 0.0) * 400.0 + 1.0
    return {other: 400.0, fact: 400.0 - gap if side == "below" else 400.0 + gap}


def _every(parts: tuple[Condition, ...], facts: dict[str, float | str]) -> dict[str, float | str] | None:
    made: dict[str, float | str] = {}
    for part in parts:
        more = make(part, {**facts, **made})
        if more is None:
            return None
        made.update(more)
    return made


def _number(c: Within, facts: dict[str, float | str]) -> dict[str, float | str] | None:
    old = facts.get(c.fact)
    if isinstance(old, float):
        fits = (c.low is None or old > c.low) and (c.high is None or old < c.high)
        return {} if fits else None
    if c.low is not None and c.high is not None:
        return {c.fact: (c.low + c.high) / 2.0}
    end = c.low if c.low is not None else c.high
    assert end is not None
    step = max(abs(end) * 0.5, 1e-3)
    return {c.fact: end + step if c.low is not None else end - step}
