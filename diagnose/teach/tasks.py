"""Tasks for a class, each with its answer, made from the worked examples and the strongest signs."""

from __future__ import annotations

from collections.abc import Iterable

from diagnose.consult import Consultant
from diagnose.consult.condition_words import in_words
from diagnose.errors import BadInput
from diagnose.model.diagnosis import Diagnosis
from diagnose.model.knowledge import Cause, Defect, Rule
from diagnose.model.lesson import Task
from diagnose.teach.worked import case_of

CASES, SIGNS = 3, 3
HEAVY = ("strong", "very strong")


def tasks_of_defect(of: Consultant, defect: Defect) -> list[Task]:
    """Return cases to solve and signs to read."""
    return [*_cases(of, defect, CASES), *_signs(of, defect.rules(), SIGNS)]


def tasks_of_cause(of: Consultant, cause: Cause, defects: Iterable[Defect]) -> list[Task]:
    """Return what one must know about a cause: what gives it away, and what to do and watch."""
    rules = [r for d in defects for c in d.candidates if c.cause == cause.id for r in c.rules]
    first = cause.corrections[0]
    return [
        Task(question=f"What is the first thing to do about it, and how do you tell that it worked? ({cause.name})",
             answer=f"{first.do} {first.how_to_tell}"),
        *_signs(of, rules, SIGNS),
    ]  # fmt: skip


def tasks_of_stage(of: Consultant, stage: str, defects: Iterable[Defect]) -> list[Task]:
    """Return one case to solve from each of the first defects of a stage."""
    return [task for defect in defects for task in _cases(of, defect, 1)][: 2 * CASES]


def _cases(of: Consultant, defect: Defect, most: int) -> list[Task]:
    tasks: list[Task] = []
    for example in defect.examples:
        if len(tasks) == most:
            break
        if example.expect.first is None:
            continue
        try:
            found = of.diagnose(case_of(of, defect, example))
        except BadInput:
            continue
        told = "; ".join(f"{name}: {value}" for name, value in example.facts.items())
        question = f"{defect.name}. Recorded: {told}. What is the likeliest cause, and what would you change?"
        tasks.append(Task(question=question, answer=_solution(found)))
    return tasks


def _solution(found: Diagnosis) -> str:
    """Return the cause, what speaks for it, and what to change."""
    while found.upstream is not None:
        found = found.upstream
    first = found.causes[0]
    why = " ".join(e.because for e in first.evidence if e.counted and e.speaks == "for")
    own = [c for c in found.corrections if c.cause == first.id]
    do = f" Do: {own[0].do}" if own else ""
    moved = "; ".join(f"{r.setting}: {r.from_} -> {r.to}" for r in found.revised_settings)
    return f"{first.name}. {why}{do}{f' Set: {moved}.' if moved else ''}"


def _signs(of: Consultant, rules: Iterable[Rule], most: int) -> list[Task]:
    tasks: list[Task] = []
    met: set[str] = set()
    for rule in rules:
        if len(tasks) == most:
            break
        if rule.weight in HEAVY and rule.cause not in met:
            met.add(rule.cause)
            name = of.base.cause_name(rule.cause)
            sign = in_words(rule.when, of.show)
            tasks.append(
                Task(
                    question=f"You find: {sign}. Which cause does it speak {rule.speaks}, and why?",
                    answer=f"{rule.speaks.capitalize()} ({rule.weight}): {name}. {rule.because}",
                )
            )
    return tasks
