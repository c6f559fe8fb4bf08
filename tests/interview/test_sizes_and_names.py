"""What people type of sizes, metals and mixes: taken where it can be one thing, asked back where it can be several."""

from __future__ import annotations

import pytest

from diagnose.consult import Consultant
from diagnose.consult.find import Finder
from diagnose.errors import BadInput
from diagnose.interview.inquiry import Inquiry
from diagnose.rulebase.cases import fact_value
from diagnose.rulebase.load import RuleBase


@pytest.fixture
def ring(of: Consultant, finder: Finder) -> Inquiry:
    inquiry = Inquiry(Consultant(of.base, of.resolver, "us"), finder, lambda told: None)
    inquiry.hear("defect = mold.wrong-size")
    return inquiry


def options(inquiry: Inquiry) -> list[str]:
    prompt = inquiry.prompt()
    assert prompt is not None
    return [option for option, _ in prompt.options]


def test_a_length_without_a_unit_is_never_taken_for_inches_where_it_can_be_millimetres(ring: Inquiry) -> None:
    ring.hear("wanted finished size = 7")
    assert "wanted finished size" not in ring.case.settings
    assert options(ring) == ["7 in", "7 mm"]
    ring.hear("7 mm")
    assert ring.case.settings["wanted finished size"].value == pytest.approx(0.007)


def test_a_length_that_can_only_be_inches_is_taken(ring: Inquiry) -> None:
    ring.hear("flask diameter = 3.5")  # no flask is 3.5 mm wide
    assert ring.case.settings["flask diameter"].value == pytest.approx(0.0889)  # 3.5 x 25.4 mm


def test_from_a_pipe_it_is_refused_with_both(ring: Inquiry) -> None:
    with pytest.raises(BadInput, match="7 in or 7 mm"):
        ring.tell("wanted finished size", "7")


def test_a_number_beside_the_list_is_no_answer_to_which_is_meant(ring: Inquiry) -> None:
    ring.hear("wanted finished size = 7")
    assert "number from 1 to 2" in ring.hear("4").say[0]
    assert ring.case.settings == {}
    assert options(ring) == ["7 in", "7 mm"]
    ring.hear("0.25 in")
    assert ring.case.settings["wanted finished size"].value == pytest.approx(0.00635)  # 0.25 x 25.4 mm


@pytest.mark.parametrize(
    ("typed", "name", "value"),
    [
        # ISO 8653 numbers a ring by its inner circumference in mm, 41 to 76; US sizes end well below that (common practice).
        ("ring size = 7", "ring inch size", 7.0),
        ("ring size 7", "ring inch size", 7.0),
        ("ring size 7 1/2", "ring inch size", 7.5),
        ("finger size = 54", "ring circumference size", 54.0),
    ],
)
def test_a_ring_size_is_of_the_system_whose_number_it_can_be(
    ring: Inquiry, typed: str, name: str, value: float
) -> None:
    ring.hear(typed)
    assert ring.case.settings[name].value == pytest.approx(value)


def test_a_size_alone_is_asked_back(ring: Inquiry) -> None:
    ring.hear("size 7")
    assert set(options(ring)) == {"ring inch size", "wanted finished size"}
    ring.hear("ring inch size")
    assert ring.case.settings["ring inch size"].value == pytest.approx(7.0)


def test_what_begins_like_a_fact_and_is_an_answer_stays_one(ring: Inquiry) -> None:
    ring.put_first("wanted finished size")
    ring.hear("9 mm")
    assert ring.case.settings["wanted finished size"].value == pytest.approx(0.009)


def test_metals_are_known_by_their_words_in_any_order(ring: Inquiry, base: RuleBase) -> None:
    ring.hear("metal = brass 70/30")  # cartridge brass: 70 parts of copper, 30 of zinc
    assert ring.case.materials["metal"] == "yellow brass"
    ring.hear("metal = 14k gold")
    assert len(options(ring)) > 1
    assert all(one.startswith("14k") for one in options(ring))
    with pytest.raises(BadInput, match="14k yellow gold"):
        fact_value(base, "metal", "14k gold")
    assert fact_value(base, "metal", "gold red 14k") == "14k red gold"
