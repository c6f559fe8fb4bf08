"""An answer that fits badly with the rest is worth a second look; worked by hand on a rules base read at a glance."""

from __future__ import annotations

from math import sqrt
from pathlib import Path

import pytest

from diagnose.consult import Consultant
from diagnose.consult.ask import OpenQuestion
from diagnose.consult.find import Finder
from diagnose.consult.play import Answering, Player
from diagnose.consult.present import finding
from diagnose.consult.second_look import DOUBTFUL, KIND
from diagnose.consult.signs import SLIP
from diagnose.derive.resolve import Resolver
from diagnose.interview.inquiry import Inquiry
from diagnose.model.case import Case
from diagnose.rulebase.load import RuleBase
from tests.consult.test_play import dice
from tests.rulebase.folders import small_folder

LOOK = OpenQuestion("pump oil", KIND, 0.1, 60.0, "oil", True, ())
STRONG = sqrt(20 * 150)  # Kass & Raftery, J. Am. Stat. Assoc. 90, 773 (1995)


@pytest.fixture
def small(tmp_path: Path) -> Consultant:
    base = RuleBase(small_folder(tmp_path))
    return Consultant(base, Resolver((), base.words.settings, base.words.slots))


def doubted(of: Consultant, **answers: str) -> list[str]:
    told = {name.replace("_", " "): answer for name, answer in answers.items()}
    case = Case(defect="investment.weak-vacuum", observations=told)
    standing = of.stand(case)
    return [q.name for q in of.second_looks(standing, of.questions(standing, case), case)]


def test_answers_that_agree_are_not_asked_again(small: Consultant) -> None:
    assert doubted(small, leak_sound="hisses", pump_oil="clear", gauge_check="agrees") == []


def test_of_signs_of_two_causes_the_likelier_slip_is_doubted_first(small: Consultant) -> None:
    # With two answers a slip can only be the other one; with three it is one of two, so it is doubted less.
    assert doubted(small, leak_sound="hisses", pump_oil="milky", gauge_check="agrees")[0] == "leak sound"


def test_nothing_is_doubted_while_a_question_would_tell_more(small: Consultant) -> None:
    assert doubted(small, pump_oil="milky") == []


def test_the_chance_of_a_slip_is_what_bayes_rule_gives(small: Consultant) -> None:
    # With the cause all but certain to hiss, silence is heard from a true look once in STRONG times, else by a slip.
    chance = 1.0 / (1.0 + STRONG)
    slip = SLIP * (1.0 - chance)
    assert slip / (slip + (1.0 - SLIP) * chance) > 10 * DOUBTFUL


def test_a_second_look_is_drawn_afresh_and_its_answer_stays(small: Consultant) -> None:
    player = Player(small, "investment.weak-vacuum", dice(1))
    changed = 0
    for n in range(400):
        who = Answering(player.desk, player.shops[0], player.shops, "investment.hose-leaks", 0.2, dice(n))
        first, again = who.answer("leak sound"), who.answer_again("leak sound")
        assert who.answer("leak sound") == again
        changed += first != again
    # Right and then wrong, or wrong and then right: 2 x 0.2 x 0.8.
    assert changed / 400 == pytest.approx(0.32, abs=4 * sqrt(0.32 * 0.68 / 400))


@pytest.fixture
def talk(small: Consultant) -> Inquiry:
    talk = Inquiry(small, Finder(small.base.all_defects()), lambda told: None)
    for line in ("defect = investment.weak-vacuum", "leak sound = hisses", "pump oil = milky", "gauge check = agrees"):
        talk.hear(line)
    return talk


def test_the_interview_asks_for_one_more_look_and_says_why(talk: Inquiry) -> None:
    prompt = talk.prompt()
    assert prompt is not None
    assert talk.open[0].kind == KIND
    assert prompt.name == "leak sound"
    assert "You said 'hisses'" in prompt.question
    assert not talk.settled


@pytest.mark.parametrize("line", ["", "skip", "hisses"])
def test_the_answer_is_kept_by_enter_and_not_asked_a_third_time(line: str, talk: Inquiry) -> None:
    talk.hear(line)
    assert talk.case.observations["leak sound"] == "hisses"
    assert all(q.name != "leak sound" for q in talk.open)


def test_another_answer_takes_the_place_of_the_first(talk: Inquiry) -> None:
    talk.hear("silent")
    assert talk.case.observations["leak sound"] == "silent"
    assert talk.standing is not None
    assert talk.standing.ranking.first() == "investment.oil-wet"


def test_a_diagnosis_names_the_answer_to_look_at_once_more(small: Consultant) -> None:
    told = {"leak sound": "hisses", "pump oil": "milky", "gauge check": "agrees"}
    found = small.diagnose(Case(defect="investment.weak-vacuum", observations=told))
    assert found.ask_next[0].kind == KIND
    assert "Look once more: much rests on 'hisses'" in found.ask_next[0].question


def test_where_nothing_is_decided_the_next_step_says_that_it_is_a_second_look(small: Consultant) -> None:
    assert finding(small, small.stand(Case(defect="investment.weak-vacuum")), [LOOK]).words.endswith(
        "The best next step: look once more at pump oil."
    )
