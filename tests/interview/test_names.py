"""Facts told by the names that people use, asked back where one name is several things; what nothing depends on."""

from __future__ import annotations

import pytest

from diagnose.consult import Consultant
from diagnose.consult.find import Finder
from diagnose.consult.needs import looked_at, told_facts
from diagnose.errors import BadInput
from diagnose.interview.inquiry import Inquiry
from diagnose.interview.line_face import read_answers
from diagnose.model.vocabulary import NOT_KNOWN


@pytest.fixture
def fill(inquiry: Inquiry) -> Inquiry:
    inquiry.hear("defect = casting.incomplete-fill")
    return inquiry


@pytest.fixture
def bubbles(inquiry: Inquiry) -> Inquiry:
    inquiry.hear("defect = wax.voids")
    return inquiry


def test_another_name_is_taken_and_echoed_with_the_own_one(fill: Inquiry) -> None:
    assert fill.hear("metal temp = 1800 F").say[0].startswith("pour temperature: 1800")
    assert fill.hear("wall thickness = 1 mm").say[0].startswith("thinnest section")
    assert set(fill.case.settings) == {"pour temperature", "thinnest section"}


def test_a_name_of_several_things_is_asked_back_and_takes_the_value(bubbles: Inquiry) -> None:
    assert "several things" in bubbles.hear("vacuum = 25 inHg").say[0]
    assert bubbles.case.settings == {}
    prompt = bubbles.prompt()
    assert prompt is not None
    names = [name for name, _ in prompt.options]
    assert {"mold vacuum", "investing vacuum", "vacuum at pour"} <= set(names)
    assert "number from 1 to" in bubbles.hear("neither of them").say[0]
    bubbles.hear(str(names.index("mold vacuum") + 1))
    assert list(bubbles.case.settings) == ["mold vacuum"]
    assert bubbles.case.settings["mold vacuum"].value == pytest.approx(25 * 3386.389, rel=1e-4)


def test_a_name_of_several_things_can_be_let_go(bubbles: Inquiry) -> None:
    before = bubbles.prompt()
    bubbles.hear("vacuum = 25 inHg")
    assert bubbles.hear("skip").say == ["Nothing was recorded."]
    assert bubbles.case.settings == {}
    assert bubbles.prompt() == before


def test_the_stage_of_the_defect_decides(fill: Inquiry) -> None:
    assert fill.hear("vacuum = 25 inHg").say[0].startswith("vacuum at pour")


def test_the_value_decides_between_a_material_and_a_number(fill: Inquiry) -> None:
    fill.hear("alloy = sterling")
    fill.hear("powder = gypsum investment")
    assert fill.case.materials == {"metal": "sterling", "investment": "gypsum investment"}


def test_the_value_goes_before_the_stage(fill: Inquiry) -> None:
    fill.hear("powder = 500 g")
    assert list(fill.case.settings) == ["powder weight"]


def test_the_open_question_is_kept_through_a_choice(fill: Inquiry) -> None:
    before = fill.prompt()
    fill.hear("metal = silver")
    fill.hear("1")
    fill.hear("part thickness = 1 mm")
    fill.hear("thinnest section")
    assert set(fill.case.settings) == {"thinnest section"}
    assert fill.prompt() == before


def test_what_is_called_exactly_so_elsewhere_is_asked_back(fill: Inquiry) -> None:
    fill.hear("mold temperature = 900 F")
    prompt = fill.prompt()
    assert prompt is not None
    assert [name for name, _ in prompt.options] == ["mold temperature", "flask temperature"]
    fill.hear("flask temperature")
    assert list(fill.case.settings) == ["flask temperature"]


@pytest.mark.parametrize(
    ("typed", "other"), [("silver", "silver-copper mix"), ("silv", "silver-copper mix"), ("14k", "14k yellow gold")]
)
def test_a_family_of_alloys_is_asked_back(typed: str, other: str, fill: Inquiry) -> None:
    fill.hear(f"metal = {typed}")
    assert fill.case.materials == {}
    prompt = fill.prompt()
    assert prompt is not None
    assert len(prompt.options) > 2
    chosen = prompt.options[1][0]
    fill.hear("2")
    assert fill.case.materials == {"metal": chosen}
    assert other in fill.of.base.words.slots["metal"].materials


def test_an_unknown_name_brings_only_what_is_like_it(fill: Inquiry) -> None:
    said = fill.hear("moon phase = full").say[0]
    assert "No name is like it" in said
    assert "Type names" in said
    assert "Did you mean 'kiln offset'?" in fill.hear("kiln ofset = 5 C").say[0]
    assert fill.answers == 0


def test_a_computed_number_cannot_be_told(fill: Inquiry) -> None:
    assert "is computed" in fill.hear("needed pour temperature = 1000 C").say[0]


def test_names_lists_what_counts_here(fill: Inquiry, inquiry: Inquiry) -> None:
    listed = "\n".join(fill.hear("names").say)
    for name in ("pour temperature", "flask temperature", "metal", "what is missing"):
        assert name in listed
    assert "platen temperature" not in listed


def test_names_wait_for_a_defect(of: Consultant, finder: Finder) -> None:
    assert "Say first" in Inquiry(of, finder, lambda told: None).hear("names").say[0]


def test_a_setting_that_nothing_looks_at_is_noted_as_such(fill: Inquiry) -> None:
    assert "nothing here depends on it" in fill.hear("pickle time = 5 min").say[1]
    assert not any("depends" in line for line in fill.hear("flask temperature = 900 F").say)
    assert "pickle time" in fill.case.settings


def test_what_only_an_earlier_fault_looks_at_names_it(fill: Inquiry) -> None:
    of, desk = fill.of, fill.standing.desk  # type: ignore[union-attr]
    earlier = next(c.cause for c in desk.defect.candidates if c.hand_over)
    here, there = looked_at(desk, of.resolver), looked_at(of.desk(earlier), of.resolver)
    only_there = sorted(n for n in there - here if n in of.base.words.settings and not of.base.words.settings[n].many)
    assert only_there
    setting = of.base.words.settings[only_there[0]]
    unit = f" {setting.unit_metric}" if setting.unit_metric else ""
    middle = of.show.value(setting.name, (setting.plausible_low + setting.plausible_high) / 2)
    said = fill.hear(f"{setting.name} = {middle}").say
    assert any("earlier fault" in line for line in said), (setting.name, unit, said)


def test_what_the_numbers_need_counts_here(fill: Inquiry) -> None:
    desk = fill.standing.desk  # type: ignore[union-attr]
    assert told_facts(desk, fill.of.resolver) <= looked_at(desk, fill.of.resolver)


@pytest.mark.parametrize("typed", ["skip", "not known", "Unknown", "don't know"])
@pytest.mark.parametrize("name", ["flask temperature", "metal", "what is missing"])
def test_any_fact_can_be_said_to_be_not_known(name: str, typed: str, fill: Inquiry) -> None:
    assert fill.hear(f"{name} = {typed}").say[0] == f"{name}: {NOT_KNOWN}"
    assert fill.case.observations == {name: NOT_KNOWN}
    while (prompt := fill.prompt()) is not None and fill.answers < 8:
        assert prompt.name != name
        fill.hear("skip")


def test_not_known_takes_a_told_value_away(fill: Inquiry) -> None:
    fill.hear("flask temperature = 900 F")
    fill.hear("flask temperature = skip")
    assert fill.case.settings == {}
    assert fill.case.observations == {"flask temperature": NOT_KNOWN}


def test_the_help_says_what_skip_means(fill: Inquiry) -> None:
    line = next(line for line in fill.hear("?").say if line.startswith("skip"))
    assert "not known" in line
    assert "NAME = skip" in line


def test_change_by_another_name(fill: Inquiry) -> None:
    fill.hear("pour temperature = 1800 F")
    fill.hear("change metal temperature = 1850 F")
    assert fill.case.settings["pour temperature"].typed == "1850 F"
    assert "can mean" in fill.hear("change part thickness").say[0]


def test_lines_from_a_pipe_name_both_where_one_name_is_two(inquiry: Inquiry) -> None:
    read_answers(inquiry, ["defect = casting.incomplete-fill", "vacuum = 25 inHg", "flask temperature = skip"])
    assert list(inquiry.case.settings) == ["vacuum at pour"]
    with pytest.raises(BadInput, match=r"line 1: 'part thickness' can mean thinnest section or heaviest section"):
        read_answers(inquiry, ["part thickness = 1 mm"])
