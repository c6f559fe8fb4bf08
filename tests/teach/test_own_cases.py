"""Exercises from the shop's confirmed cases: by level, the same by seed, and refused plainly where none will do."""

from __future__ import annotations

from pathlib import Path

import pytest

from diagnose.consult import Consultant
from diagnose.consult.rank import UNLISTED
from diagnose.errors import BadInput
from diagnose.interview.quiz import Quiz
from diagnose.model.case import Case
from diagnose.rulebase.cases import read_case
from diagnose.teach.bench import Bench, facts_of, only
from diagnose.teach.marking import mark
from diagnose.teach.own_cases import ENOUGH_FACTS, LIKELY, from_cases

FOLDER = Path(__file__).resolve().parent.parent.parent / "cases"


@pytest.fixture(scope="module")
def cases(of: Consultant) -> list[tuple[str, Case]]:
    return [(path.stem, read_case(path, of.base)) for path in sorted(FOLDER.glob("*.yaml"))]


@pytest.mark.parametrize("level", [1, 2, 3])
def test_a_confirmed_case_becomes_an_exercise_that_can_be_solved(
    of: Consultant, cases: list[tuple[str, Case]], level: int
) -> None:
    exercise = from_cases(of, cases, level)
    ranking = of.stand(exercise.case).ranking

    assert ranking.first() == exercise.cause
    assert ranking.probabilities[exercise.cause] >= LIKELY
    assert len(facts_of(exercise.case)) - len(exercise.told) >= ENOUGH_FACTS
    if level > 1:
        known = only(exercise.case, frozenset(exercise.told))
        standing = of.stand(known)
        assert not of.settled(standing, of.questions(standing, known))
    if level == 3:
        prior = {c: p for c, p in of.desk(exercise.case.defect).prior.items() if c != UNLISTED}
        assert prior[exercise.cause] < max(prior.values())


def test_what_it_turned_out_to_be_is_said_only_after_the_marking(of: Consultant, cases: list[tuple[str, Case]]) -> None:
    name, case = next((n, c) for n, c in cases if c.notes and c.trials and _fits(of, n, c))
    exercise = from_cases(of, [(name, case)], 2)
    bench = Bench(of, exercise)
    opening = "\n".join(Quiz(bench).opening())
    bench.named = exercise.cause
    ending = "\n".join(mark(bench).ending)

    assert case.part in opening
    for hidden in (case.notes, case.trials[0].changed, name):
        assert hidden not in opening
        assert hidden in ending


def _fits(of: Consultant, name: str, case: Case) -> bool:
    try:
        from_cases(of, [(name, case)], 2)
    except BadInput:
        return False
    return True


@pytest.mark.parametrize("spoiled", ["no cause", "two causes", "unlisted", "no facts", "other cause", "no defect"])
def test_a_case_that_cannot_be_solved_is_passed_over(
    of: Consultant, cases: list[tuple[str, Case]], spoiled: str
) -> None:
    name, case = next((n, c) for n, c in cases if _fits(of, n, c))
    other = next(c.cause for c in of.base.defect(case.defect).candidates if c.cause not in case.confirmed)
    changes: dict[str, dict[str, object]] = {
        "no cause": {"confirmed": ()},
        "two causes": {"confirmed": (*case.confirmed, other)},
        "unlisted": {"confirmed": (UNLISTED,)},
        "no facts": {"observations": {}, "settings": {}, "materials": {}},
        "other cause": {"confirmed": (other,)},
        "no defect": {"defect": ""},
    }

    with pytest.raises(BadInput, match="no confirmed case in the library will do at level 2"):
        from_cases(of, [(name, case.model_copy(update=changes[spoiled]))], 2)


def test_with_no_case_at_all_it_says_so(of: Consultant) -> None:
    with pytest.raises(BadInput, match=r"has no confirmed case of wax\.flash"):
        from_cases(of, [], 2, "wax.flash")
