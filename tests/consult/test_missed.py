"""What nobody could tell is named beside the verdict when it could still show another cause; worked by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from diagnose.consult import Consultant
from diagnose.consult.find import Finder
from diagnose.consult.rank import SEVERAL
from diagnose.derive.resolve import Resolver
from diagnose.interview import words
from diagnose.interview.inquiry import Inquiry
from diagnose.model.case import Case
from diagnose.rulebase.load import RuleBase
from tests.rulebase.folders import small_folder

WEAK = "investment.weak-vacuum"
GAUGE = "    answers: {agrees: The same., differs: Something else.}"
TESTED = """\
    bench test: {do: [Screw a second gauge on.], costs: nothing, caution: Let the air in first., source: common practice}
    answers: {agrees: The same., differs: Something else., swings: The needle swings.}"""
OF_THE_GAUGE = "  - cause: investment.gauge-wrong\n"
SWINGS = "      - {for: strong, when: {gauge check: swings}, because: Steam comes in gusts., source: common practice}\n"


def consultant(at: Path, changes: dict[str, tuple[str, str]] | None = None) -> Consultant:
    base = RuleBase(small_folder(at, changes))
    return Consultant(base, Resolver((), base.words.settings, base.words.slots))


@pytest.fixture
def small(tmp_path: Path) -> Consultant:
    return consultant(tmp_path)


def case(**answers: str) -> Case:
    return Case(defect=WEAK, observations={name.replace("_", " "): answer for name, answer in answers.items()})


def named(of: Consultant, known: Case) -> tuple[str, str] | None:
    found = of.missed(of.stand(known), known)
    return (found.look.name, found.rival) if found else None


def test_a_look_that_could_show_another_cause_is_named(small: Consultant) -> None:
    # A common and an occasional cause, each with a strong sign, stand 4 to 2: a third is enough to be named.
    assert SEVERAL < 2 / (4 + 2)
    assert named(small, case(leak_sound="hisses", pump_oil="not known")) == ("pump oil", "investment.oil-wet")


def test_a_look_that_could_not_is_not(small: Consultant) -> None:
    # A rare cause with its strong sign stands 1 to 4 against the common one with its own.
    assert SEVERAL > 1 / (1 + 4)
    assert named(small, case(leak_sound="hisses", gauge_check="not known")) is None


def test_what_was_seen_or_not_asked_yet_is_not_missed(small: Consultant) -> None:
    assert named(small, case(leak_sound="hisses", pump_oil="dark")) is None
    assert named(small, case(leak_sound="hisses")) is None


def test_where_nothing_is_pointed_to_nothing_is_set_beside_it(small: Consultant) -> None:
    assert named(small, case(leak_sound="not known", pump_oil="not known", gauge_check="not known")) is None


def test_the_verdict_names_the_look_and_the_chances_stay(small: Consultant) -> None:
    without = small.diagnose(case(leak_sound="hisses"))
    found = small.diagnose(case(leak_sound="hisses", pump_oil="not known"))
    assert found.verdict == "one cause"
    assert found.verdict_words == (
        "The evidence points to: A hose leaks. But pump oil was not known, and could still show another cause: Water is "
        "in the pump oil. Find it out before you change anything."
    )
    assert found.ask_next[0].name == "pump oil"
    assert [c.probability for c in found.causes] == [c.probability for c in without.causes]


def test_when_nothing_is_left_to_ask_the_best_next_step_is_what_was_not_known(small: Consultant) -> None:
    found = small.diagnose(case(leak_sound="not known", pump_oil="not known", gauge_check="not known"))
    # Only the sound speaks strongly for or against the commonest cause, whatever the answer.
    assert found.verdict_words == "The evidence does not point to one cause. The best next step: leak sound."
    assert found.ask_next[0].name == "leak sound"


def test_a_bench_test_comes_before_a_look_for_it_can_still_be_made(tmp_path: Path) -> None:
    changes = {"_observations.yaml": (GAUGE, TESTED), "weak-vacuum.yaml": (OF_THE_GAUGE, SWINGS + OF_THE_GAUGE)}
    of = consultant(tmp_path, changes)
    known = case(leak_sound="hisses", pump_oil="not known", gauge_check="not known")
    assert named(of, known) == ("gauge check", "investment.oil-wet")
    assert of.diagnose(known).ask_next[0].question.endswith("Careful: Let the air in first.")


def test_the_interview_does_not_call_settled_what_a_look_could_unsettle(
    small: Consultant, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("diagnose.consult.ask.SETTLED", 0.9)
    talk = Inquiry(small, Finder(small.base.all_defects()), lambda told: None)
    for line in (f"defect = {WEAK}", "pump oil = not known"):
        talk.hear(line)
    said = talk.hear("leak sound = hisses").say
    assert talk.settled
    assert words.SETTLED not in said
    assert "That is as far as the answers go: pump oil was not known, and could still show another cause." in said
