"""The tree stage: what is seen on the wax tree, how its metal is reckoned, and what keeps hands and molds whole.

Most of it is common practice, which has no source. Geometry and densities are checked against arithmetic written here.
"""

from __future__ import annotations

from math import pi, sin

import pytest

from diagnose.consult import Consultant
from diagnose.model.case import Case
from diagnose.model.diagnosis import Diagnosis
from diagnose.rulebase.cases import fact_value, told
from diagnose.rulebase.load import RuleBase


def play(of: Consultant, defect: str, facts: dict[str, str]) -> Diagnosis:
    case = Case(defect=defect)
    for name, typed in facts.items():
        case = told(case, name, fact_value(of.base, name, typed), of.base)
    return of.diagnose(case)


def first(of: Consultant, defect: str, facts: dict[str, str]) -> str:
    return play(of, defect, facts).causes[0].id


def test_forty_rings_where_geometry_allows_fewer_are_too_many(of: Consultant) -> None:
    """Centers on a circle of diameter d lie a chord d sin(pi / n) apart: 26 mm hold two rings of 22 mm, 4 mm apart."""
    in_a_row = max(n for n in range(2, 20) if 26 * sin(pi / n) >= 22 + 4 - 1e-9)
    rows = int((60 + 4) / (8 + 4))
    facts = {
        "part circle": "26 mm", "part width": "22 mm", "part height": "8 mm", "trunk length": "60 mm",
        "pieces counted in a row": "under 3 mm",
    }  # fmt: skip
    found = play(of, "tree.too-heavy-for-flask", {**facts, "number of parts": "40"})
    assert found.causes[0].id == "tree.too-many-parts"
    moved = next(m for m in found.revised_settings if m.setting == "number of parts")
    assert float(moved.to.split()[0]) == pytest.approx(in_a_row * rows)


def test_a_number_of_parts_that_fits_accuses_nobody_of_crowding(of: Consultant) -> None:
    facts = {
        "part circle": "26 mm", "part width": "8 mm", "part height": "8 mm", "trunk length": "60 mm",
        "number of parts": "20", "pieces counted in a row": "3 mm or more",
    }  # fmt: skip
    shares = {c.id: c.probability for c in play(of, "tree.too-heavy-for-flask", facts).causes}
    assert shares["tree.too-many-parts"] < 0.05


def test_a_base_left_on_the_pan_makes_a_tree_heavier_and_never_lighter(of: Consultant) -> None:
    facts = {"how the tree was weighed": "base counted in"}
    assert first(of, "tree.weight-does-not-add-up", {**facts, "which way the weight is off": "heavier"}) == (
        "tree.base-weighed-in"
    )
    assert first(of, "tree.weight-does-not-add-up", {**facts, "which way the weight is off": "lighter"}) != (
        "tree.base-weighed-in"
    )


def test_parts_that_do_not_add_up_to_the_weighed_tree_are_noticed(of: Consultant) -> None:
    """Twenty waxes of 0.5 g and a trunk of 4 g are 14 g; a balance that says 17 g is 21 % over."""
    facts = {
        "number of parts": "20", "wax shot weight": "0.5 g", "trunk wax weight": "4 g", "tree wax weight": "17 g",
        "how the tree was weighed": "base counted in",
    }  # fmt: skip
    found = play(of, "tree.weight-does-not-add-up", facts)
    assert found.causes[0].id == "tree.base-weighed-in"


def test_a_weight_that_changes_by_itself_is_water_or_the_balance(of: Consultant) -> None:
    facts = {"which way the weight is off": "changes by itself", "balance check": "right each time"}
    assert first(of, "tree.weight-does-not-add-up", facts) == "tree.wet-or-dirty-tree"
    facts["balance check"] = "wrong or drifts"
    assert first(of, "tree.weight-does-not-add-up", facts) == "tree.balance-wrong"


def test_cold_water_cracks_joints_that_were_well_welded(of: Consultant) -> None:
    facts = {"when the joint cracked": "after cold", "joint all round": "smooth fillet"}
    assert first(of, "tree.joints-crack", facts) == "tree.chilled"


def test_a_tree_that_leaned_before_any_mix_was_not_pushed_by_it(of: Consultant) -> None:
    facts = {"when it leaned": "standing on the bench", "how the mix met the tree": "fell on it"}
    shares = {c.id: c.probability for c in play(of, "tree.leans", facts).causes}
    assert shares["tree.pushed-by-the-mix"] < 0.1  # what a slip in one of the two answers leaves


def test_a_web_along_the_parting_is_wax_flash_wherever_it_is_first_seen(of: Consultant) -> None:
    assert first(of, "tree.drips-and-webs", {"shape of the extra wax": "web on the parting line"}) == "wax.flash"
    assert first(of, "casting.joint-blade", {"side of the blade": "along the parting line"}) == "wax.flash"


@pytest.mark.parametrize(
    ("seen", "defect"),
    [
        ("inside the wall", "wax.voids"),
        ("open at the skin", "wax.surface-bubbles"),
        ("dark bits", "wax.dirt"),
        ("only on the tree", "tree.bubbles-at-joint"),
    ],
)
def test_pits_of_the_metal_are_handed_to_where_the_wax_shows_them(of: Consultant, seen: str, defect: str) -> None:
    found = play(of, "casting.pits-from-wax", {"where on the wax": seen}).causes[0]
    assert (found.id, found.hand_over) == (defect, True)


def test_no_correction_of_the_tree_thins_the_mold(base: RuleBase) -> None:
    """The mold at the wall stays at least 6 mm and over the tip 12 mm or a quarter of the width."""
    for cause in base.causes.values():
        for x in cause.corrections if cause.stage == "tree" else ():
            assert "closer to the wall" not in x.do
            for m in x.moves:
                if m.setting == "gap to flask wall":
                    assert m.how == "into window", cause.id
    low = [w.low for w in base.words.settings["gap to flask wall"].windows if w.low is not None]
    assert min(low) >= 0.006
    assert "12 mm or a quarter of the width" in base.causes["tree.flask-too-small"].corrections[0].how_to_tell


def test_every_touch_with_the_iron_brings_its_caution(base: RuleBase) -> None:
    for cause in base.causes.values():
        for x in cause.corrections if cause.stage == "tree" else ():
            if "iron" in x.do.casefold() or "remelt" in x.do.casefold():
                assert "wax iron" in x.cautions, cause.id


def test_a_smoking_iron_is_turned_down_and_warned_of(of: Consultant) -> None:
    found = play(
        of, "tree.bubbles-at-joint", {"iron at the joint": "smokes or spits", "light through the joint": "fine bubbles"}
    )
    assert found.causes[0].id == "tree.iron-too-hot"
    assert of.base.hazards["smoking wax"].says in found.cautions
    assert "Turn the iron down" in found.corrections[0].do


def test_a_load_over_the_mark_of_the_machine_is_warned_of(of: Consultant) -> None:
    found = play(of, "tree.too-heavy-for-flask", {"mark of the machine": "over the mark"})
    assert of.base.hazards["bigger flask than the machine"].says in found.cautions
