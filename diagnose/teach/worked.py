"""The numbers of a lesson: one recorded part reckoned through, from settings to what the rules look at."""

from __future__ import annotations

from diagnose.consult import Consultant
from diagnose.consult.present import source_words
from diagnose.consult.unfold import unfold
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
    best: tuple[list[Computed], Resolved, Case, set[str]] | None = None
    for example in defect.examples:
        try:
            case = case_of(of, defect, example)
        except BadInput:
            continue
        standing = of.stand(case)
        spoken = {f for rule in standing.applied for f in facts_of(rule.when)}
        runs = _distinct(standing.resolved, spoken)
        if runs and (best is None or len(runs) > len(best[0])):
            best = (runs, standing.resolved, case, spoken)
    if best is None:
        return []
    runs, resolved, case, spoken = best
    given = [f"{n}: {v}" for n, v in {**case.materials, **{n: r.typed for n, r in case.settings.items()}}.items()]
    return [
        Section(title="The numbers, worked", paragraphs=("Recorded for one part:",), points=tuple(given)),
        *(_opened(of, run, resolved, [f for f in run.results if f in spoken]) for run in runs),
    ]


def _distinct(resolved: Resolved, facts: set[str]) -> list[Computed]:
    """Return the calculations behind some facts, each once, in the order they were made."""
    runs = {run.calculator.name: run for fact, run in resolved.computed.items() if fact in facts}
    return list(runs.values())


def _opened(of: Consultant, run: Computed, resolved: Resolved, wanted: list[str]) -> Section:
    """Return a calculation: how each number that a rule looks at comes about, in words, then with the values put in."""
    facts = {**resolved.facts, **run.inputs, **run.results}
    show = of.show
    lines: dict[str, None] = {}
    for number in (unfold(of, resolved, fact) for fact in wanted):
        for words, values in zip(number.formula, number.with_values, strict=True):
            lines[words] = None
            if values != words:
                lines[f"Here: {values}"] = None
    inputs = [f"{n} = {show.value(n, v)}" + _assumed(of, run, n) for n, v in run.inputs.items()]
    results = [f"{n} = {show.value(n, v)}" for n, v in run.results.items()]
    sources = "; ".join(source_words(of, source) for source in run.calculator.sources)
    return Section(
        title=f"Reckoned: {run.calculator.title}",
        paragraphs=(*lines, *(show.filled(text, facts) for text in run.calculator.says(facts))),
        points=(*inputs, *results, f"Source: {sources}"),
    )


def _assumed(of: Consultant, run: Computed, name: str) -> str:
    return f" (assumed; {source_words(of, run.assumed[name].source)})" if name in run.assumed else ""
