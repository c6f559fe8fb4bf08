"""The shipped exercises: each can be solved, none is given away at the start, and together they cover the work."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from diagnose.consult import Consultant
from diagnose.consult.rank import UNLISTED
from diagnose.errors import BadInput
from diagnose.interview.quiz import Quiz
from diagnose.model.vocabulary import STAGES
from diagnose.rulebase.exercises import INVENTED, named_exercise, read_exercise, shipped_exercises
from diagnose.teach.bench import Bench, askable, facts_of, only
from diagnose.teach.made import CLEAR

FOLDER = Path(__file__).resolve().parent.parent.parent / "cases" / "exercises"
FILES = sorted(FOLDER.glob("*.yaml"))
GIVEN_AWAY = 0.85  # a cause that is this likely on what is told needs no asking


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.stem)
def test_with_everything_known_its_cause_is_first_and_clear(path: Path, of: Consultant) -> None:
    exercise = read_exercise(path, of.base)
    ranking = of.stand(exercise.case).ranking

    assert ranking.first() == exercise.cause
    assert ranking.probabilities[exercise.cause] >= CLEAR


@pytest.mark.parametrize("path", [p for p in FILES if p.name[0] in "23"], ids=lambda p: p.stem)
def test_what_is_told_does_not_settle_it(path: Path, of: Consultant) -> None:
    exercise = read_exercise(path, of.base)
    known = only(exercise.case, frozenset(exercise.told))
    standing = of.stand(known)

    assert not of.settled(standing, of.questions(standing, known))
    assert standing.ranking.probabilities[exercise.cause] < GIVEN_AWAY


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.stem)
def test_it_tells_what_its_level_says(path: Path, of: Consultant) -> None:
    exercise = read_exercise(path, of.base)
    told, case = set(exercise.told), exercise.case
    signs = told & set(case.observations)

    assert told <= set(facts_of(case))
    assert len(signs) == (2 if exercise.level == 1 else 0)
    assert exercise.level != 3 or not told & set(case.settings)
    if exercise.level == 3:
        prior = {c: p for c, p in of.desk(case.defect).prior.items() if c != UNLISTED}
        assert prior[exercise.cause] < max(prior.values())


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.stem)
def test_every_fact_can_be_asked_for_and_is_none_that_nothing_looks_at(path: Path, of: Consultant) -> None:
    exercise = read_exercise(path, of.base)

    assert set(facts_of(exercise.case)) - set(askable(of, exercise.case.defect)) - set(exercise.told) == set()


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.stem)
def test_it_is_marked_as_invented_and_its_story_does_not_name_the_cause(path: Path, of: Consultant) -> None:
    exercise = read_exercise(path, of.base)
    opening = " ".join(Quiz(Bench(of, exercise)).opening())

    assert "invented" in path.read_text(encoding="utf-8").splitlines()[0].casefold()
    assert INVENTED in opening
    assert exercise.story in opening
    assert of.base.cause_name(exercise.cause).casefold() not in opening.casefold()


def test_they_cover_all_levels_and_stages_and_no_cause_twice(of: Consultant) -> None:
    every = shipped_exercises(of.base)
    levels = Counter(e.level for e in every)
    stages = {e.cause.partition(".")[0] for e in every}

    assert [levels[n] for n in (1, 2, 3)] == [10, 10, 10]
    assert stages == set(STAGES)
    assert {e.case.defect.partition(".")[0] for e in every} == set(STAGES) - {"model"}  # a model's faults show later
    assert len({(e.case.defect, e.cause) for e in every}) == len(every)
    assert len({e.title for e in every}) == len(every)


def test_they_stand_in_graded_order_and_go_by_number_or_words(of: Consultant) -> None:
    every = shipped_exercises(of.base)

    assert [e.level for e in every] == sorted(e.level for e in every)
    assert named_exercise(of.base, "7") == every[6]
    assert named_exercise(of.base, every[20].title.upper()) == every[20]
    with pytest.raises(BadInput, match="no exercise 'florble'"):
        named_exercise(of.base, "florble")


def test_a_faulty_exercise_names_every_fault_with_its_line(of: Consultant, tmp_path: Path) -> None:
    path = tmp_path / "bad.yaml"
    path.write_text(
        "exercise: bad\nlevel: 4\ndefect: wax.flash\nobservations:\n  mold bulge: bows\ntold: [mold bulg]\n"
    )

    with pytest.raises(BadInput) as caught:
        read_exercise(path, of.base)
    assert "level" in caught.value.message()
    assert "'told' names 'mold bulg'" in caught.value.message()
    assert "'confirmed' must name the hidden cause" in caught.value.message()


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.stem)
def test_most_of_what_a_student_may_look_at_has_an_answer(path: Path, of: Consultant) -> None:
    exercise = read_exercise(path, of.base)
    looks = [n for n in askable(of, exercise.case.defect) if n in of.base.words.observations]
    answered = [n for n in looks if n in exercise.case.observations]

    assert len(answered) >= 0.7 * len(looks), sorted(set(looks) - set(answered))
