"""Revised settings: computed, kept inside limits, and put back through the same rules."""

from __future__ import annotations

import pytest

from diagnose import units
from diagnose.consult import Consultant
from diagnose.consult.proof import example_case
from diagnose.consult.what_if import what_if
from diagnose.errors import BadInput
from diagnose.model.case import Case
from diagnose.rulebase.cases import case_from_text

THICK = """
defect: mold.soft-core
materials: {rubber: natural rubber}
settings: {cure time: 120 min, platen temperature: 307 F, rubber thickness: 2 in}
observations: {hardness across: core lower, platen probe: all within 3 C, time rule: minutes for each sheet}
"""


@pytest.fixture
def thick(of: Consultant) -> Case:
    return case_from_text(THICK, "case", of.base)


def test_a_thick_block_is_cured_cooler_and_longer_as_one_move(thick: Case, of: Consultant) -> None:
    # Common practice: more minutes at full heat would over-cook the skin of a thick block.
    moves = {m.setting: m for m in of.diagnose(thick).corrections[0].moves}
    assert moves["platen temperature"].to_si < moves["platen temperature"].from_si
    assert moves["cure time"].to_si > moves["cure time"].from_si


def test_the_recheck_clears_what_accused_and_says_nothing_of_what_was_seen(thick: Case, of: Consultant) -> None:
    found = of.diagnose(thick)
    assert not any("core lower" in text for text in found.recheck.still_accused)
    assert found.recheck.raised == ()


def test_no_move_leaves_the_plausible_or_the_safe_range(of: Consultant) -> None:
    for defect in of.base.all_defects():
        for example in defect.examples:
            case = example_case(of, defect, example)
            facts = of.stand(case).resolved.facts
            for correction in of.diagnose(case).corrections:
                for m in correction.moves:
                    setting = of.base.words.settings[m.setting]
                    slack = 1e-6 * abs(m.to_si)
                    assert setting.plausible_low - slack <= m.to_si <= setting.plausible_high + slack
                    if setting.safe and setting.safe.hold(facts):
                        assert setting.safe.low is None or m.to_si >= setting.safe.low - slack
                        assert setting.safe.high is None or m.to_si <= setting.safe.high + slack


def test_what_if_shows_both_sides(thick: Case, of: Consultant) -> None:
    found = what_if(of, thick, ("cure time=240 min",))
    before = {d.name: d.value for d in found.before.derived}
    after = {d.name: d.value for d in found.after.derived}
    assert before["cure time against need"] != after["cure time against need"]
    with pytest.raises(BadInput, match="is not name=value"):
        what_if(of, thick, ("longer",))


def test_a_revised_number_carries_its_range(thick: Case, of: Consultant) -> None:
    revised = {r.setting: r for r in of.diagnose(thick).revised_settings}
    low, _, high = revised["cure time"].range.partition(" to ")
    ends = [units.quantity(text, "time") for text in (low, high)]
    assert ends[0] < units.quantity(revised["cure time"].to, "time") < ends[1]
