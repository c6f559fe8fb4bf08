"""Dangerous ideas are answered wherever they are written (the ideas and the answers are common practice)."""

from __future__ import annotations

import pytest

from diagnose.consult import Consultant
from diagnose.consult.dangers import Dangers
from diagnose.consult.worded import sentence
from diagnose.interview.inquiry import Inquiry
from diagnose.model.case import Case
from diagnose.model.knowledge import Hazard
from diagnose.rulebase.load import RuleBase


@pytest.mark.parametrize(
    ("typed", "hazard"),
    [
        ("I just turned up the pressure to fill it", "pressure pot"),
        ("did the burnout indoors over night", "burnout fumes"),
        ("we quenched white gold like the silver", "no water for these"),
        ("poured it with a damp crucible", "damp crucible"),
        ("poured water into the acid", "acid into water"),
        ("melted platinum in plaster", "plaster too cool for its metal"),
        ("there is cadmium solder in the scrap", "cadmium and lead"),
        ("had to open the smoking hot kiln", "smoking kiln"),
        ("I bypass the guard", "hot press"),
    ],
)
def test_a_dangerous_idea_is_answered_in_the_interview(inquiry: Inquiry, typed: str, hazard: str) -> None:
    said = " ".join(inquiry.hear(typed).say)

    assert sentence(inquiry.of.base.hazards[hazard].says, inquiry.of.show.system) in said


def test_it_is_said_once(inquiry: Inquiry) -> None:
    says = inquiry.of.base.hazards["hot press"].says
    first, again = (" ".join(inquiry.hear("I bypass the guard").say) for _ in range(2))

    assert says in first
    assert says not in again


def test_what_stands_in_the_notes_of_a_case_is_answered_first(of: Consultant) -> None:
    case = Case(defect="wax.incomplete-fill", notes="Turned up the pressure, no change.")

    assert of.diagnose(case).cautions[0] == of.base.hazards["pressure pot"].says


def test_every_phrase_of_every_hazard_calls_for_it(base: RuleBase) -> None:
    dangers = Dangers(base.hazards.values())
    missed = [
        (h.name, p) for h in base.hazards.values() for p in h.words if h not in dangers.touched(f"so I {p} again")
    ]

    assert missed == []


@pytest.mark.parametrize("typed", ["a seam all round the rubber", "pressure 8 psi", "kiln", "the guard was shut", ""])
def test_plain_talk_calls_for_nothing(typed: str) -> None:
    hazards = [
        Hazard(
            name="a",
            stage="wax",
            says="A.",
            words=("turn up the pressure", "bypass the guard"),
            source="common practice",
        ),
        Hazard(name="b", stage="burnout", says="B.", words=("open the kiln hot",), source="common practice"),
    ]

    assert Dangers(hazards).touched(typed) == []


def test_words_far_apart_are_no_phrase() -> None:
    hazard = Hazard(name="a", stage="wax", says="A.", words=("open the pot",), source="common practice")

    assert Dangers([hazard]).touched("the mold stood open on the bench beside the old pot") == []
