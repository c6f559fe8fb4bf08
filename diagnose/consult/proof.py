"""Proof that the rules base can do its work: every cause can come out first, and every worked example comes true."""

from __future__ import annotations

from diagnose.consult.apart import not_apart
from diagnose.consult.consultant import Consultant
from diagnose.consult.favourable import best_chance
from diagnose.errors import BadInput
from diagnose.model.case import Case
from diagnose.model.knowledge import Defect, Example
from diagnose.rulebase.cases import fact_value, told
from diagnose.rulebase.issue import Issue

ENOUGH = 0.6


def prove(of: Consultant) -> list[Issue]:
    """Return an issue for every cause that cannot come out first or be told apart, and every example not come true."""
    found = []
    for defect in of.base.all_defects():
        found += _of_defect(of, defect)
    return found


def _of_defect(of: Consultant, defect: Defect) -> list[Issue]:
    desk, found = of.desk(defect.id), []
    for rule in (desk.rules[name] for name in desk.matcher.never):
        found.append(Issue(defect.file, rule.line, rule.cause, "this rule can never hold.", "Mend its condition."))
    lines = {c.cause: c.line for c in defect.candidates}
    for cause, line in lines.items():
        p, first = best_chance(desk, cause)
        if p < ENOUGH:
            what = f"at best {p:.0%} likely (first then: {first})."
            found.append(Issue(defect.file, line, cause, what, "Add evidence that tells it apart."))
    for pair in not_apart(desk):
        what = f"no observation, setting or bench test tells it from '{pair.other}'"
        what += f" (the most that any does: {pair.shown()})."
        remedy = "Add a look or a bench test that does, or merge the two."
        found.append(Issue(defect.file, lines[pair.cause], pair.cause, what, remedy))
    for example in defect.examples:
        found += [Issue(defect.file, 1, example.name, fault) for fault in example_faults(of, defect, example)]
    return found


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
