"""The same case with some facts otherwise: both sides shown, what cannot be used refused with what to do next."""

from __future__ import annotations

import pytest

from diagnose.consult import Consultant
from diagnose.consult.what_if import what_if
from diagnose.errors import BadInput
from diagnose.model.case import Case
from diagnose.model.what_if import WhatIf
from diagnose.report.compare import comparison_lines
from diagnose.rulebase.cases import case_from_text

HOT = """
defect: wax.sinks
settings: {wax temperature: 80 C, wax congealing point: 62 C}
"""
SHORT = """
defect: mold.soft-core
materials: {rubber: natural rubber}
settings: {cure time: 40 min, platen temperature: 153 C, rubber thickness: 38 mm}
"""


@pytest.fixture
def hot(of: Consultant) -> Case:
    return case_from_text(HOT, "case", of.base)


@pytest.fixture
def short(of: Consultant) -> Case:
    return case_from_text(SHORT, "case", of.base)


def test_both_sides_are_shown_and_the_case_stays_as_it_is(of: Consultant, hot: Case) -> None:
    found = what_if(of, hot, ("wax temperature=68C",))
    numbers = {n.name: (n.before, n.after) for n in found.numbers}
    # 80 - 62 and 68 - 62 kelvin, shown as Fahrenheit degrees.
    assert numbers["wax over congealing"] == ("32.4 °F", "10.8 °F")
    assert any("more shrinkage" in text for text in found.cleared)
    assert found.raised == ()
    assert hot.settings["wax temperature"].typed == "80 C"
    assert found.before == of.diagnose(hot)


def test_several_changes_may_stand_in_one_text_or_in_several(of: Consultant, short: Case) -> None:
    one = what_if(of, short, ("cure time = 120 min, platen temperature=145 C",))
    two = what_if(of, short, ("cure time=120 min", "platen temperature = 145 C"))
    assert one == two
    assert [c.name for c in one.changes] == ["cure time", "platen temperature"]


def test_a_decimal_comma_does_not_part_a_change(of: Consultant) -> None:
    case = case_from_text("{defect: wax.flash, settings: {injection pressure: 1 bar}}", "case", of.base)
    assert len(what_if(of, case, ("injection pressure=0,5 bar",)).changes) == 1


def test_what_the_change_would_bring_on_in_other_defects_is_named(of: Consultant, short: Case) -> None:
    # Common practice: at full heat the minutes that cure the middle of a thick block overcook its skin.
    found = what_if(of, short, ("cure time=150 min", "platen temperature=160 C"))
    assert any("skin overcure" in text for text in found.elsewhere)


def test_a_fact_that_was_not_recorded_can_be_tried(of: Consultant, hot: Case) -> None:
    found = what_if(of, hot, ("mold temperature=35 C",))
    assert found.changes[0].from_ == "not recorded"
    assert any("30 C" in text for text in found.raised)


def test_a_number_that_can_no_longer_be_computed_says_why(of: Consultant, short: Case) -> None:
    found = what_if(of, short, ("platen temperature=62 C",))
    lost = {n.name: n.why_not for n in found.numbers if not n.after}
    # Half as fast for every 10 C (common practice): 91 C cooler takes some 500 times as long, many days.
    assert "more than 100 hours" in lost["cure time against need"]


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("longer", "'longer' is not name=value"),
        ("wax temperature=", "is not name=value"),
        ("", "is not name=value"),
        ("wax temperatur=68C", "Did you mean 'wax temperature'"),
        ("wax temperature=200 C", "is not plausible for wax temperature"),
        ("wax temperature=68", "68 what"),
        ("wax over congealing=3 C", "is computed and cannot be set. Change what it comes from: wax temperature"),
        ("wax temperature=68C, wax temperature=70C", "is given twice, as 68C and as 70C"),
        ("temperature test=purple", "is no answer"),
    ],
)
def test_what_cannot_be_used_is_refused_with_what_to_do(of: Consultant, hot: Case, typed: str, says: str) -> None:
    with pytest.raises(BadInput, match=says):
        what_if(of, hot, (typed,))


def test_a_value_past_a_safety_limit_is_refused_with_its_hazard(of: Consultant, hot: Case) -> None:
    # A shop rule (common practice): never above 85 C in an open pot.
    with pytest.raises(BadInput, match=r"past its safety limit, at most 185 °F: Hotter wax.*smoke and fire"):
        what_if(of, hot, ("wax temperature=90 C",))


def test_it_reads_back_from_its_json(of: Consultant, hot: Case) -> None:
    found = what_if(of, hot, ("wax temperature=68C",))
    assert WhatIf.model_validate_json(found.model_dump_json(by_alias=True)) == found


@pytest.mark.parametrize("width", [40, 80])
def test_its_lines_keep_to_the_width_and_show_both_values(of: Consultant, hot: Case, width: int) -> None:
    lines = [line.text for line in comparison_lines(what_if(of, hot, ("wax temperature=68C",)), width)]
    assert max(map(len, lines)) <= width
    text = " ".join(" ".join(lines).split())
    assert "wax temperature: 176 °F -> 154 °F" in text
    assert "Nothing is recorded" in text
    assert "32.4 °F" in text
    assert "10.8 °F" in text
