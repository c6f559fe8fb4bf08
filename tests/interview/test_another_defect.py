"""The named defect is not the one described: noticed, offered once as a choice, and taken with everything told."""

from __future__ import annotations

from pathlib import Path

import pytest

from diagnose.consult import Consultant
from diagnose.consult.find import Finder
from diagnose.derive.resolve import Resolver
from diagnose.interview.inquiry import Inquiry
from diagnose.rulebase.load import RuleBase
from tests.rulebase.folders import DEFECT, small_folder

MISTAKEN = """mistaken for:
  - {defect: investment.no-vacuum, tell: With none at all the needle does not move., when: {needle: still}}
causes:"""
NEEDLE = """
observations:
  needle: {ask: Does the needle move at all?, why: It moves if the pump pulls., about: needle, answers: {still: No., moves: Yes.}}
"""


@pytest.fixture
def talk(tmp_path: Path) -> Inquiry:
    other = DEFECT.replace("investment.weak-vacuum", "investment.no-vacuum").replace("is weak", "is gone")
    folder = small_folder(
        tmp_path, {"weak-vacuum.yaml": ("causes:", MISTAKEN)}, no__vacuum=other, _observations_b=NEEDLE
    )
    base = RuleBase(folder)
    assert base.issues == []
    of = Consultant(base, Resolver((), base.words.settings, base.words.slots))
    inquiry = Inquiry(of, Finder(base.all_defects()), lambda told: None)
    inquiry.hear("defect = investment.weak-vacuum")
    return inquiry


def options(talk: Inquiry) -> list[str]:
    prompt = talk.prompt()
    assert prompt is not None
    return [name for name, _ in prompt.options]


def test_what_suggests_another_defect_brings_the_choice_with_its_reason(talk: Inquiry) -> None:
    talk.hear("leak sound = hisses")
    assert any("the needle does not move" in line for line in talk.hear("needle = still").say)
    assert options(talk) == ["look into: The vacuum is gone", "stay"]


def test_looking_into_the_other_keeps_what_was_told_and_can_be_taken_back(talk: Inquiry) -> None:
    talk.hear("leak sound = hisses")
    talk.hear("needle = still")
    talk.hear("1")
    assert talk.case.defect == "investment.no-vacuum"
    assert talk.case.observations == {"leak sound": "hisses", "needle": "still"}
    talk.hear("back")
    assert talk.case.defect == "investment.weak-vacuum"


@pytest.mark.parametrize("answer", ["2", "stay", "skip", "back"])
def test_whoever_stays_is_not_asked_again(answer: str, talk: Inquiry) -> None:
    talk.hear("needle = still")
    talk.hear(answer)
    assert talk.case.defect == "investment.weak-vacuum"
    assert "stay" not in options(talk)
    talk.hear("pump oil = milky")
    prompt = talk.prompt()
    assert prompt is None or "stay" not in [name for name, _ in prompt.options]


def test_an_answer_that_is_no_choice_leaves_the_choice_open(talk: Inquiry) -> None:
    talk.hear("needle = still")
    assert "from 1 to 2" in talk.hear("perhaps").say[0]
    assert options(talk)[-1] == "stay"
    talk.hear("pump oil = milky")
    assert talk.case.observations["pump oil"] == "milky"
    assert options(talk)[-1] == "stay"


def test_the_look_that_tells_is_asked_though_no_rule_needs_it(talk: Inquiry) -> None:
    asked = []
    while (prompt := talk.prompt()) is not None:
        asked.append(prompt.name)
        talk.hear("skip")
    assert asked[-1] == "needle"
    assert set(asked) == {"leak sound", "pump oil", "gauge check", "needle"}


def test_when_all_is_settled_more_questions_make_sure_of_the_name_first(talk: Inquiry) -> None:
    talk.hear("leak sound = hisses")
    talk.hear("pump oil = clear")
    talk.hear("gauge check = agrees")
    assert options(talk) == ["more", "done"]
    talk.hear("more")
    prompt = talk.prompt()
    assert prompt is not None
    assert prompt.name == "needle"
    assert any("It tells this from: The vacuum is gone" in line for line in talk.hear("why").say)
    talk.hear("moves")
    assert talk.prompt() is None


def test_every_shipped_look_alike_that_a_quick_look_tells_can_be_asked(of: Consultant) -> None:
    from diagnose.consult.mistaken import telling
    from diagnose.model.case import Case
    from diagnose.model.condition import facts_of

    for defect in of.base.all_defects():
        standing = of.stand(Case(defect=defect.id))
        asked = {q.name for q in telling(standing, frozenset())}
        for alike in defect.mistaken_for:
            if alike.when is not None and alike.defect in of.base.defect_files:
                facts = facts_of(alike.when)
                looks = [of.base.words.observations[f] for f in facts if f in of.base.words.observations]
                if len(facts) == 1 and looks and looks[0].effort <= 300.0:
                    assert facts[0] in asked, f"{defect.id}: {alike.defect}"
