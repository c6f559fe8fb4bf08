"""The casting stage: shop words find its defects, and no correction steps past a limit of the trade."""

from __future__ import annotations

import pytest

from diagnose.consult.find import Finder
from diagnose.model.knowledge import Move
from diagnose.rulebase.load import RuleBase


@pytest.mark.parametrize(
    ("typed", "defect"),
    [
        ("shrinkage porosity in silver", "shrink-porosity"),
        ("spongy metal near the sprue", "shrink-porosity"),
        ("holes in the casting after polishing", "shrink-porosity"),
        ("round gas holes in the metal", "gas-porosity"),
        ("fins on the casting", "fins"),
        ("flash on the metal", "fins"),
        ("line around the ring in metal", "seam-line"),
        ("parting line on the casting", "seam-line"),
        ("prong did not fill", "incomplete-fill"),
        ("metal ran out of the flask", "metal-escapes"),
    ],
)
def test_words_of_the_shop_find_the_defect(finder: Finder, typed: str, defect: str) -> None:
    assert next(iter(finder.search(typed))).defect.id == f"casting.{defect}"


def test_every_fault_of_the_tree_shows_in_some_defect(base: RuleBase) -> None:
    used = {c.cause for d in base.all_defects() for c in d.candidates}
    assert [c.id for c in base.causes.values() if c.stage == "tree" and c.id not in used] == []


# The limits below are shop rules without a published source (common practice).


def steps(base: RuleBase, setting: str) -> list[Move]:
    done = (x for c in base.causes.values() for x in c.corrections)
    return [m for x in done for m in x.moves if m.setting == setting and m.how == "by step"]


def test_a_plaster_flask_is_never_stepped_under_120_or_over_700_c(base: RuleBase) -> None:
    for move in steps(base, "flask temperature"):
        assert move.value is not None
        if move.value < 0:
            assert move.floor is not None
            assert move.floor.value == pytest.approx(120.0 + 273.15)
        else:
            assert move.ceiling is not None
            assert move.ceiling.value == pytest.approx(700.0 + 273.15)


def test_metal_and_arm_are_only_stepped_up_under_their_ceiling(base: RuleBase) -> None:
    for setting, limit in (("pour temperature", "highest pour temperature"), ("spin speed", "arm rating")):
        up = [m for m in steps(base, setting) if m.value is not None and m.value > 0]
        assert up
        assert all(m.ceiling is not None and m.ceiling.fact in (limit, "mold heat limit") for m in up)


def test_nothing_damp_goes_under_a_hot_flask_and_the_cover_is_never_thinned(base: RuleBase) -> None:
    weak, closed = base.causes["casting.vacuum-weak"], base.causes["investment.cannot-breathe"]
    assert "dry heat-rated" in weak.corrections[0].do
    assert "Never thin the cover" in closed.corrections[0].do


def test_carbon_is_burned_off_by_time_and_air_and_never_above_745_c(base: RuleBase) -> None:
    carbon = base.causes["burnout.burned-too-cool"].corrections[0]
    assert "never above 745 C" in carbon.do
    tops = [m for m in carbon.moves if m.setting == "burnout top temperature"]
    assert all(m.how == "into window" for m in tops)
    highest = [w.high for w in base.words.settings["burnout top temperature"].windows if w.high is not None]
    assert max(highest) <= 745 + 273.15 + 1e-6


def test_the_quench_waits_at_least_three_minutes_and_red_gold_is_not_kept_waiting(base: RuleBase) -> None:
    quench = base.causes["casting.quenched-too-hot"].corrections[0].do
    assert "never under 3 min" in quench
    assert "Red gold goes in as soon as the button is just black" in quench
