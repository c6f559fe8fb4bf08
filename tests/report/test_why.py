"""Why, as a person reads it: nothing wider than the screen, every part under its heading, plain signs only."""

from __future__ import annotations

import pytest

from diagnose.consult import Consultant
from diagnose.consult.explain import explained, why_not_first
from diagnose.model.case import Case
from diagnose.model.explanation import ExplainedDiagnosis, Outcome, Settling, Shift, Unknown
from diagnose.report.why import explained_lines, percent, read_alike, reasons_lines, unknown_words, why_not_lines
from diagnose.rulebase.cases import fact_value, told


def case_of(of: Consultant, **facts: str) -> Case:
    case = Case(defect="casting.shrink-porosity", part="ring")
    for name, typed in facts.items():
        plain = name.replace("_", " ")
        case = told(case, plain, fact_value(of.base, plain, typed), of.base)
    return case


@pytest.fixture(scope="module")
def found(of: Consultant) -> ExplainedDiagnosis:
    case = Case(defect="wax.flash", part="ring")
    facts = {
        "wax": "injection wax", "wax temperature": "170 F", "wax congealing point": "140 F", "plates test": "no change",
    }  # fmt: skip
    for name, typed in facts.items():
        case = told(case, name, fact_value(of.base, name, typed), of.base)
    return explained(of, case)


@pytest.mark.parametrize("width", [40, 60, 79])
def test_no_line_is_wider_than_the_screen_and_all_signs_are_plain(found: ExplainedDiagnosis, width: int) -> None:
    lines = [line.text for line in explained_lines(found, width, "ring")]
    assert max(map(len, lines)) <= width
    assert {c for line in lines for c in line if not c.isascii()} <= {"°"}


def test_chain_evidence_numbers_and_the_settling_test_stand_before_what_to_do(found: ExplainedDiagnosis) -> None:
    heads = [line.text for line in explained_lines(found, 100) if line.style == "head"]
    wanted = [
        "WHAT THE EVIDENCE SAYS", "HOW IT CAME ABOUT", "THE EVIDENCE ON EVERY CAUSE", "WHAT WOULD SETTLE IT BEST",
        "THE NUMBERS OPENED UP", "TAKE CARE", "WHERE THIS COMES FROM",
    ]  # fmt: skip
    assert [h for h in heads if h in wanted] == wanted


def test_every_piece_of_evidence_stands_there_with_its_reason_weight_and_source(found: ExplainedDiagnosis) -> None:
    text = " ".join(" ".join(line.text.split()) for line in explained_lines(found, 100))
    for cause in found.causes:
        for e in cause.evidence:
            assert e.because in text
            assert e.weight in text
            assert e.source in text


def test_what_would_have_to_be_different_is_said_with_what_it_is_now(of: Consultant) -> None:
    case = case_of(of, where_the_pores_lie="at the gate")
    first = of.diagnose(case).causes[0].id
    other = next(c.id for c in of.diagnose(case).causes if c.id not in (first, "unlisted"))
    text = " ".join(line.text.strip() for line in why_not_lines(why_not_first(of, case, other), 200))
    assert "It would be first:" in text
    assert "not known" in text
    assert "It is first." in " ".join(line.text for line in reasons_lines(why_not_first(of, case, first)))


@pytest.mark.parametrize(
    ("share", "words"), [(0.0, "0%"), (0.001, "under 1%"), (0.5, "50%"), (0.999, "over 99%"), (1.0, "100%")]
)
def test_a_small_chance_is_not_called_none_nor_a_large_one_certain(share: float, words: str) -> None:
    assert percent(share) == words


def test_answers_that_read_the_same_are_said_once() -> None:
    outcomes = tuple(
        Outcome(answers=(a,), chance=0.3, probability=p, first="x")
        for a, p in (("one", 0.991), ("two", 0.5), ("three", 0.989))
    )
    words = unknown_words(Unknown(name="n", kind="observation", question="?", effort="a minute", outcomes=outcomes))

    assert words == "n (observation, a minute): one or three -> 99%; two -> 50%"


def test_outcomes_whose_chances_read_the_same_are_one() -> None:
    s = Settling(
        name="n", kind="observation", question="?", effort="a minute", outcomes=(("one",), ("two",), ("three", "four")),
        chances=(0.2, 0.5, 0.3), table=(Shift(cause="x", name="X", now=0.5, then=(0.991, 0.5, 0.989)),),
    )  # fmt: skip

    assert read_alike(s) == [(("one", "three", "four"), pytest.approx(0.5), 0), (("two",), 0.5, 1)]
