"""Proof that the rules base can do its work: every cause can come out first, and every worked example comes true."""

from __future__ import annotations

from diagnose.consult.consultant import Consultant
from diagnose.consult.rank import log_weight, rank
from diagnose.consult.standing import Desk, stand_on
from diagnose.derive.resolve import Resolved
from diagnose.errors import BadInput
from diagnose.model.case import Case
from diagnose.model.condition import All as AllOf
from diagnose.model.condition import Any as AnyOf
from diagnose.model.condition import AtLeast, Condition, Is, Nothing, Side, Window, Within
from diagnose.model.knowledge import Defect, Example
from diagnose.rulebase.cases import fact_value, told
from diagnose.rulebase.issue import Issue

ENOUGH = 0.6


def prove(of: Consultant) -> list[Issue]:
    """Return an issue for every cause that cannot come out first and every example that does not come true."""
    found = []
    for defect in of.base.all_defects():
        for candidate in defect.candidates:
            p, first = best_chance(of.desk(defect.id), candidate.cause)
            if p < ENOUGH:
                what = f"at best {p:.0%} likely (first then: {first})."
                found.append(Issue(defect.file, 1, candidate.cause, what, "Add evidence that tells it apart."))
        for example in defect.examples:
            found += [Issue(defect.file, 1, example.name, fault) for fault in example_faults(of, defect, example)]
    return found


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
        wanted = _make(rule.when, facts)
        if wanted is None:
            continue
        trial = {**facts, **wanted}
        trial_sides = {**sides, **_sides(rule.when)}
        standing = stand_on(desk, Resolved(dict(trial)))
        matches = desk.matcher.evaluate(trial, {**standing.windows, **trial_sides})
        ranking = rank(desk.prior, (desk.rules[m.rule] for m in matches))
        p = ranking.probabilities[cause]
        if p >= best[0]:
            best, facts, sides = (p, ranking.first()), trial, trial_sides
    return best


def _sides(condition: Condition) -> dict[str, Side]:
    if isinstance(condition, Window):
        return {condition.fact: condition.sides[0]}
    parts = getattr(condition, "parts", ())
    if isinstance(condition, AllOf):
        return {k: v for p in parts for k, v in _sides(p).items()}
    return _sides(parts[0]) if parts and isinstance(condition, AnyOf) else {}


def _make(condition: Condition, facts: dict[str, float | str]) -> dict[str, float | str] | None:
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
        return next((made for part in condition.parts if (made := _make(part, facts)) is not None), None)
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
        more = _make(part, {**facts, **made})
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


def example_case(of: Consultant, defect: Defect, example: Example) -> Case:
    """Return the case that a worked example describes."""
    case = Case(part=example.name, defect=defect.id)
    for name, typed in example.facts.items():
        case = told(case, name, fact_value(of.base, name, typed), of.base)
    return case


def example_faults(of: Consultant, defect: Defect, example: Example) -> list[str]:
    """Return in what an example does not come true."""
    try:
        found = of.diagnose(example_case(of, defect, example))
    except BadInput as error:
        return [f"cannot be played: {error.message()}"]
    e, faults = example.expect, []
    if e.first and found.causes[0].id != e.first:
        chances = ", ".join(f"{c.id} {c.probability:.0%}" for c in found.causes[:3])
        faults.append(f"expected {e.first} first, got {chances}.")
    if e.verdict and found.verdict != e.verdict:
        faults.append(f"expected the verdict '{e.verdict}', got '{found.verdict}'.")
    advice = " | ".join(
        [c.do for c in found.corrections] + [m.setting for c in found.corrections for m in c.moves]
    ).casefold()
    faults += [f"the advice does not name '{a}'." for a in e.advise if a.casefold() not in advice]
    faults += [f"the advice names '{a}', which it must not." for a in e.never if a.casefold() in advice]
    return faults
