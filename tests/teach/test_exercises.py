"""Exercises made from the rules: the same seed makes the same one, its cause can be found, and it is marked fairly."""

from __future__ import annotations

from collections.abc import Callable
from random import Random

import pytest

from diagnose.consult import Consultant
from diagnose.consult.world import written_settings
from diagnose.errors import BadInput
from diagnose.interview.quiz import Quiz
from diagnose.model.exercise import Exercise, Marking
from diagnose.report.marking import marking_lines
from diagnose.rulebase.exercises import shipped_exercises
from diagnose.teach.bench import Bench, facts_of
from diagnose.teach.made import CLEAR, make
from diagnose.teach.marking import mark

DEFECTS = ("mold.soft-core", "wax.flash", "casting.shrink-porosity")


def made(of: Consultant, defect: str, level: int, seed: int = 5) -> Exercise:
    def dice(stream: str) -> Callable[[], float]:
        return Random(f"{seed}/{stream}").random

    return make(of, defect, level, dice, written_settings(of.base))  # type: ignore[arg-type]


def other_than(exercise: Exercise, of: Consultant) -> str:
    return next(c.cause for c in of.base.defect(exercise.case.defect).candidates if c.cause != exercise.cause)


@pytest.mark.parametrize("level", [1, 2, 3])
@pytest.mark.parametrize("defect", DEFECTS)
def test_with_everything_known_the_hidden_cause_is_clear(of: Consultant, defect: str, level: int) -> None:
    exercise = made(of, defect, level)

    chances = of.stand(exercise.case).ranking.probabilities
    assert next(iter(chances)) == exercise.cause
    assert chances[exercise.cause] >= CLEAR
    assert set(exercise.told) <= set(facts_of(exercise.case))


def test_the_same_seed_makes_the_same_exercise_and_another_seed_another(of: Consultant) -> None:
    assert made(of, "wax.flash", 2, 7) == made(of, "wax.flash", 2, 7)
    assert len({made(of, "wax.flash", 2, seed).model_dump_json() for seed in range(4)}) > 1


def test_the_less_is_told_the_higher_the_level(of: Consultant) -> None:
    told = [len(made(of, "casting.shrink-porosity", level).told) for level in (1, 2, 3)]

    assert told[0] > told[2]


@pytest.fixture
def bench(of: Consultant) -> Bench:
    return Bench(of, made(of, "wax.flash", 3))


def asked_by_the_program(bench: Bench) -> None:
    """Ask what the program itself would ask, until it is settled."""
    of = bench.of
    while True:
        standing = of.stand(bench.known)
        questions = [q for q in of.questions(standing, bench.known) if q.name not in {f.name for f in bench.asked}]
        if of.settled(standing, questions) or not questions:
            return
        bench.ask(questions[0].name)


def test_asking_costs_once(bench: Bench) -> None:
    name = bench.open_facts()[0].name

    first, again = bench.ask(name), bench.ask(name)

    assert first.new
    assert first.answer == again.answer
    assert again.minutes == 0.0
    assert bench.minutes == first.minutes


def test_what_nobody_can_know_is_not_known(of: Consultant) -> None:
    exercise = made(of, "wax.flash", 3)
    case = exercise.case.model_copy(update={"observations": {}})

    found = Bench(of, exercise.model_copy(update={"case": case, "told": ()})).ask("flash place")

    assert found.answer == "not known"


def marked(bench: Bench, cause: str) -> Marking:
    bench.named = cause
    return mark(bench)


def test_few_telling_questions_and_the_right_cause_get_more_than_many(of: Consultant) -> None:
    thrifty, thorough = (Bench(of, made(of, "wax.flash", 3)) for _ in range(2))
    asked_by_the_program(thrifty)
    for price in thorough.open_facts():
        thorough.ask(price.name)

    few, many = marked(thrifty, thrifty.exercise.cause), marked(thorough, thorough.exercise.cause)

    assert few.right
    assert many.right
    assert few.score > many.score
    assert many.minutes > few.minutes


def test_a_lucky_guess_gets_less_than_a_finding(of: Consultant) -> None:
    guess, finding = (Bench(of, made(of, "wax.flash", 3)) for _ in range(2))
    asked_by_the_program(finding)

    assert marked(guess, guess.exercise.cause).score < marked(finding, finding.exercise.cause).score


def test_a_wrong_cause_gets_next_to_nothing_and_says_what_would_have_told(bench: Bench) -> None:
    marking = marked(bench, other_than(bench.exercise, bench.of))

    assert not marking.right
    assert marking.score <= 15
    assert marking.missed
    assert all(m.bits > 0.0 for m in marking.missed)


def test_decisive_and_redundant_never_overlap(bench: Bench) -> None:
    asked_by_the_program(bench)
    marking = marked(bench, bench.exercise.cause)

    assert not set(marking.decisive) & set(marking.redundant)
    assert {*marking.decisive, *marking.redundant} <= {a.name for a in marking.asked}


def test_a_number_is_compared_with_the_computed_one(of: Consultant) -> None:
    exercise = next(e for e in shipped_exercises(of.base) if e.cause == "wax.clamp-too-light")
    bench = Bench(of, exercise)
    bench.named = exercise.cause
    (target,) = [n for n in mark(bench).numbers if n.setting == "clamp force"]

    bench.propose("clamp force", target.computed)
    exact = mark(bench)
    bench.propose("clamp force", "400 lbf")
    far = mark(bench)

    assert next(n for n in exact.numbers if n.setting == "clamp force").steps_off <= 1.0
    assert far.score < exact.score


def test_the_talk_takes_a_student_through(bench: Bench) -> None:
    quiz = Quiz(bench)
    opening = "\n".join(quiz.opening())
    look = quiz.hear("look").lines

    assert bench.of.base.cause_name(bench.exercise.cause) not in opening
    assert look
    assert " in all)" in quiz.hear(bench.open_facts()[0].name).lines[0]
    assert "none of the causes" in quiz.hear("cause = purple").lines[0]
    assert "Name a cause first" in quiz.hear("hand in").lines[0]
    assert "is no setting" in quiz.hear("set purple = 3").lines[0]
    quiz.hear("cause = 1")
    done = quiz.hear("Hand in.")
    assert done.over
    assert done.marking is not None


@pytest.mark.parametrize("line", ["", "florble", "= 3", "cause =", "set clamp force = minus one", "\u202eabc", "? "])
def test_no_line_breaks_the_talk(bench: Bench, line: str) -> None:
    said = Quiz(bench).hear(line)

    assert said.lines
    assert not said.over


def test_an_unclear_defect_is_refused_plainly(of: Consultant, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("diagnose.teach.made.CLEAR", 1.01)

    with pytest.raises(BadInput, match="no clear exercise"):
        made(of, "wax.flash", 1)


def test_the_points_add_up_to_the_score(of: Consultant) -> None:
    for level in (1, 2, 3):
        bench = Bench(of, made(of, "wax.flash", level))
        asked_by_the_program(bench)
        for cause in (bench.exercise.cause, other_than(bench.exercise, of)):
            marking = marked(bench, cause)
            assert marking.score == round(sum(p.got for p in marking.points))
            assert all(0.0 <= p.got <= p.most for p in marking.points)
            assert sum(p.most for p in marking.points) == (100 if marking.right else 15)


def test_what_nobody_recorded_costs_nothing(of: Consultant) -> None:
    exercise = made(of, "wax.flash", 3)
    gone = next(iter(exercise.case.observations))
    case = exercise.case.model_copy(
        update={"observations": {n: a for n, a in exercise.case.observations.items() if n != gone}}
    )
    quiz = Quiz(Bench(of, exercise.model_copy(update={"case": case})))

    assert "nobody wrote it down" in quiz.hear(gone).lines[0]
    assert quiz.bench.minutes == 0.0


def test_an_unknown_word_is_answered_with_near_ones(bench: Bench) -> None:
    assert "Near it: " in Quiz(bench).hear("? clamp").lines[0]
    assert Quiz(bench).hear("? clamping").lines[0].startswith("clamping - ")


def test_a_marking_says_how_the_cause_works_and_what_to_do(of: Consultant) -> None:
    bench = Bench(of, made(of, "casting.shrink-porosity", 2))
    cause = of.base.causes[bench.exercise.cause]
    marking = marked(bench, other_than(bench.exercise, of))
    text = " ".join(" ".join(line.text for line in marking_lines(marking, 100)).split())

    assert cause.how in text
    assert cause.corrections[0].do in text
    assert all(of.base.hazards[name].says in text for name in cause.corrections[0].cautions)
