"""The numbers of a lesson: one recorded part reckoned through, from settings to what the rules look at."""

from __future__ import annotations

from diagnose.consult import Consultant
from diagnose.derive.resolve import Computed, Resolved
from diagnose.errors import BadInput
from diagnose.model.case import Case
from diagnose.model.condition import facts_of
from diagnose.model.knowledge import Defect, Example
from diagnose.model.lesson import Section
from diagnose.rulebase.cases import fact_value, told


def case_of(of: Consultant, defect: Defect, example: Example) -> Case:
    """Return a worked example of a defect as a case."""
    case = Case(defect=defect.id)
    for name, typed in example.facts.items():
        case = told(case, name, fact_value(of.base, name, typed), of.base)
    return case


def worked_calculation(of: Consultant, defect: Defect) -> list[Section]:
    """Return the example with most to reckon, unfolded number by number; nothing when no rule looks at one."""
    best: tuple[list[Computed], Resolved, Case] | None = None
    for example in defect.examples:
        try:
            case = case_of(of, defect, example)
        except BadInput:
            continue
        standing = of.stand(case)
        spoken = {f for rule in standing.applied for f in facts_of(rule.when)}
        runs = _distinct(standing.resolved, spoken)
        if runs and (best is None or len(runs) > len(best[0])):
            best = (runs, standing.resolved, case)
    if best is None:
        return []
    runs, resolved, case = best
    given = [f"{n}: {v}" for n, v in {**case.materials, **{n: r.typed for n, r in case.settings.items()}}.items()]
    return [
        Section(title="The numbers, worked", paragraphs=("Recorded for one part:",), points=tuple(given)),
        *(_unfolded(of, run, resolved) for run in runs),
    ]


def _distinct(resolved: Resolved, facts: set[str]) -> list[Computed]:
    """Return the calculations behind some facts, each once, in the order they were made."""
    runs = {run.calculator.name: run for fact, run in resolved.computed.items() if fact in facts}
    return list(runs.values())


def _unfolded(of: Consultant, run: Computed, resolved: Resolved) -> Section:
    facts = {**resolved.facts, **run.inputs, **run.results}
    show = of.show
    inputs = [f"{n} = {show.value(n, v)}" + _assumed(run, n) for n, v in run.inputs.items()]
    results = [f"{n} = {show.value(n, v)}" for n, v in run.results.items()]
    return Section(
        title=f"Reckoned: {run.calculator.title}",
        paragraphs=(
            *map(_plain, run.calculator.formula),
            *(show.filled(text, facts) for text in run.calculator.says(facts)),
        ),
        points=(*inputs, *results, f"Source: {', '.join(run.calculator.sources)}"),
    )


def _assumed(run: Computed, name: str) -> str:
    return f" (assumed; {run.assumed[name].source})" if name in run.assumed else ""


def _plain(formula: str) -> str:
    return formula.replace("{", "").replace("}", "")
