"""Faults seen in the metal: what each look proves in the trade, which limits hold, which dangerous ideas are answered.

Where a number or a fact has a published source it is named beside the check; everything else is common practice, which
has no source. Temperatures of metals come from the CRC Handbook of Chemistry and Physics (values from memory).
"""

from __future__ import annotations

import re

import pytest

from diagnose.consult import Consultant
from diagnose.consult.find import Finder
from diagnose.model.case import Case
from diagnose.model.diagnosis import Diagnosis
from diagnose.model.knowledge import Correction
from diagnose.rulebase.cases import fact_value, told
from diagnose.rulebase.load import RuleBase

KELVIN = 273.15


def play(of: Consultant, defect: str, facts: dict[str, str]) -> Diagnosis:
    """Return the diagnosis of facts written as a shop writes them."""
    case = Case(defect=defect)
    for name, typed in facts.items():
        case = told(case, name, fact_value(of.base, name, typed), of.base)
    return of.diagnose(case)


def first(of: Consultant, defect: str, facts: dict[str, str]) -> str:
    return play(of, defect, facts).causes[0].id


def corrections(base: RuleBase, *stages: str) -> list[tuple[str, Correction]]:
    return [(c.id, x) for c in base.causes.values() if c.stage in stages for x in c.corrections]


def said(base: RuleBase, cause: str) -> str:
    return " ".join(x.do for x in base.causes[cause].corrections).casefold()


# --- what shop words find ---


@pytest.mark.parametrize(
    ("typed", "defect"),
    [
        ("the button swelled up like a cauliflower", "casting.domed-button"),
        ("sprue is hollow down the middle of the button", "casting.hollow-trunk"),
        ("not enough metal, no button left", "casting.short-pour"),
        ("metal spits when I pour", "casting.metal-spits"),
        ("the silver will not get liquid", "casting.sluggish-melt"),
        ("hole where I cut the sprue off the ring", "casting.gate-hole"),
        ("tiny pits come out when I polish the silver", "casting.skin-pinholes"),
        ("one big smooth hole in the casting", "casting.blowhole"),
        ("bubbles rise when I solder the ring", "casting.blisters"),
        ("polish will not come up, pits keep coming back", "casting.poor-polish"),
        ("only the middle of the tree is porous", "casting.porous-middle"),
        ("ring snapped when sizing", "casting.brittle"),
        ("white gold prong cracked weeks later", "casting.late-crack"),
        ("bronze cracked in the quench water", "casting.quench-crack"),
        ("metal did not join round the ring", "casting.cold-shut"),
        ("waves on the surface of the casting", "casting.flow-waves"),
        ("fern pattern on the casting", "casting.fern-surface"),
        ("orange peel after bending", "casting.orange-peel"),
        ("investment fused to the metal", "casting.burned-on-crust"),
        ("grey shadow on sterling under the polish", "casting.fire-stain"),
        ("silver is pink after pickle", "casting.stain-after-pickle"),
        ("swirls of color in the gold", "casting.color-streaks"),
        ("assay says the gold is below karat", "casting.below-the-mark"),
        ("plaster grit in the casting", "casting.white-grit"),
        ("black specks in the silver", "casting.black-specks"),
        ("comet tails when buffing", "casting.hard-spots"),
        ("two rings grown together", "casting.fused-parts"),
        ("one branch of the tree missing", "casting.blocked-branch"),
        ("film of metal round the pewter", "casting.spun-flash"),
        ("wax tree leans over", "tree.leans"),
        ("waxes touch each other on the tree", "tree.parts-touch"),
        ("tree weighs more than it should", "tree.weight-does-not-add-up"),
    ],
)
def test_what_a_beginner_types_finds_the_fault_among_the_first_three(finder: Finder, typed: str, defect: str) -> None:
    assert defect in [found.defect.id for found in finder.search(typed)[:3]]


# --- what a look proves ---


def test_silver_that_spits_drops_as_it_sets_holds_oxygen(of: Consultant) -> None:
    """Molten silver takes up many times its volume of oxygen and lets it go on freezing (ASM Handbook 15, memory)."""
    facts = {
        "metal": "fine silver", "when the button rose": "spat drops as it set",
        "flame at the melt": "harsh and hissing", "domed in the day": "every melt",
    }  # fmt: skip
    assert first(of, "casting.domed-button", facts) == "casting.melt-oxygen"


def test_a_pipe_that_ends_in_the_button_over_sound_gates_is_no_fault(of: Consultant) -> None:
    facts = {"how deep the hollow goes": "only in the button", "pieces behind the hollow": "sound"}
    found = play(of, "casting.hollow-trunk", facts)
    assert found.causes[0].id == "casting.harmless-pipe"
    assert "Change nothing" in found.corrections[0].do


def test_a_pipe_past_the_gates_never_means_that_the_button_froze_first(of: Consultant) -> None:
    """A pipe shows a button that stayed liquid; one that froze first is full and sound over a porous trunk."""
    facts = {"how deep the hollow goes": "past the gates", "pieces behind the hollow": "spongy"}
    assert first(of, "casting.hollow-trunk", facts) in ("tree.button-too-small", "tree.too-little-metal")


def test_an_alloy_alone_convicts_nothing(of: Consultant) -> None:
    for defect in ("casting.domed-button", "casting.gas-porosity", "casting.skin-pinholes", "casting.brittle"):
        for metal in ("sterling", "tin bronze", "18k yellow gold", "18k red gold"):
            found = play(of, defect, {"metal": metal})
            assert found.verdict == "not enough evidence", (defect, metal)


def test_pits_gone_at_three_tenths_are_of_the_mold_and_not_of_the_melt(of: Consultant) -> None:
    facts = {"what comes back": "empty pits", "depth of the pits": "gone by 0.3 mm", "pore shape": "round and smooth"}
    assert first(of, "casting.poor-polish", facts) == "casting.skin-pinholes"
    facts["depth of the pits"] = "the same count"
    assert first(of, "casting.poor-polish", facts) == "casting.gas-porosity"


def test_only_red_gold_is_called_hardened_by_slow_cooling(of: Consultant) -> None:
    """Gold and copper set in order below about 410 C (Okamoto 1987, from memory); silver and brass do not."""
    facts = {"how it was quenched": "cold in the flask", "bend after a heat and quench": "now bends"}
    assert first(of, "casting.brittle", {"metal": "18k red gold", **facts}) == "casting.cooled-too-slowly"
    for metal in ("sterling", "red brass", "14k nickel white gold"):
        assert first(of, "casting.brittle", {"metal": metal, **facts}) != "casting.cooled-too-slowly", metal


def test_nickel_white_gold_is_not_told_to_wait_longer_for_its_water(of: Consultant) -> None:
    facts = {
        "metal": "14k nickel white gold", "how it was quenched": "after the wait", "card of the alloy": "air only",
        "one flask cooled in air": "whole",
    }  # fmt: skip
    found = play(of, "casting.quench-crack", facts)
    assert found.causes[0].id == "casting.alloy-not-for-water"
    assert all(m.setting != "quench delay" for c in found.corrections if c.cause == found.causes[0].id for m in c.moves)


def test_red_gold_cracked_by_cold_water_is_sent_into_warm_water_and_not_made_to_wait(of: Consultant) -> None:
    facts = {"metal": "18k red gold", "how it was quenched": "button just black", "quench water temperature": "8 C"}
    found = play(of, "casting.quench-crack", facts)
    assert found.causes[0].id == "casting.quench-water-cold"
    water = [m for m in found.revised_settings if m.setting == "quench water temperature"]
    assert water
    # Not under 50 C, and a step of some degrees away from that edge: 50 to 55 C, 122 to 131 °F.
    assert re.match(r"(5[0-5]|12[2-9]|13[01]) ", water[0].to), water[0].to


def test_a_seam_that_is_on_the_wax_is_not_blamed_on_the_metal(of: Consultant) -> None:
    facts = {"on the wax too": "yes", "where the seam lies": "between two gates", "streams meet there": "yes"}
    assert first(of, "casting.cold-shut", facts) == "wax.flow-lines"


@pytest.mark.parametrize(
    ("inside", "cause"),
    [
        ("wet or sour", "casting.trapped-liquid"),
        ("glass", "casting.too-much-flux"),
        ("white powder", "casting.dirty-scrap"),
        ("a flat lifted skin", "casting.plating-lifts"),
    ],
)
def test_what_a_blister_holds_names_it(of: Consultant, inside: str, cause: str) -> None:
    assert first(of, "casting.blisters", {"pricked blister": inside}) == cause


def test_iron_pulls_to_a_magnet_and_grain_refiner_does_not(of: Consultant) -> None:
    facts = {"magnet on a speck": "pulls", "bench waste in the charge": "filings"}
    assert first(of, "casting.hard-spots", facts) == "casting.iron-in-filings"
    facts = {"magnet on a speck": "nothing", "speck at 10x": "bright knot", "after a clean remelt": "as before"}
    assert first(of, "casting.hard-spots", facts) == "casting.refiner-clustered"


def test_a_stain_on_everything_with_steel_in_the_bath_is_copper_sent_out_by_iron(of: Consultant) -> None:
    facts = {"steel in the pickle": "yes", "color of the stain": "pink or copper"}
    assert first(of, "casting.stain-after-pickle", facts) == "casting.steel-in-pickle"


def test_ten_times_the_wax_is_short_for_gold_and_nearly_right_for_sterling(of: Consultant) -> None:
    """Metal over wax is the ratio of the densities: 10.36/0.95 = 10.9 for sterling, 15.45/0.95 = 16.3 for 18 k gold."""
    facts = {"how the charge was found": "a rule of thumb", "where the rest is": "there never was more"}
    gold = {"metal": "18k yellow gold", "tree wax weight": "10 g", "metal weight": "100 g"}
    assert first(of, "casting.short-pour", {**facts, **gold}) == "tree.too-little-metal"


def test_the_impossible_way_of_pouring_gets_no_blame(of: Consultant) -> None:
    facts = {"casting method": "gravity pouring", "pieces that failed": "every kind"}
    shares = {c.id: c.probability for c in play(of, "casting.cold-shut", facts).causes}
    assert shares["casting.force-too-low"] < 0.05  # what a slip in one answer leaves
    assert shares["casting.vacuum-weak"] < 0.05


# --- limits ---


def test_zinc_is_never_to_be_dropped_into_hot_metal(base: RuleBase) -> None:
    """Zinc boils at 907 C (CRC Handbook, from memory), below the pour of every silver, gold and copper alloy."""
    for cause, x in corrections(base, "casting"):
        assert not re.search(r"(add|put back|top up)[^.]{0,20}zinc", x.do.casefold()), cause
    hazard = base.hazards["zinc into the melt"]
    assert "907" in hazard.says
    assert "barely fluid" in hazard.says


def test_quench_advice_keeps_three_minutes_and_a_black_button(base: RuleBase) -> None:
    for cause, x in corrections(base, "casting"):
        for minutes in re.findall(r"(\d+)(?: to \d+)? min for a flask", x.do):
            assert int(minutes) >= 3, cause
    safe = base.words.settings["quench delay"].safe
    assert safe is not None
    assert safe.low == pytest.approx(180.0)


def test_every_correction_with_acid_torch_water_or_molten_metal_brings_its_caution(base: RuleBase) -> None:
    needs = {
        r"pickle|acid bath|peroxide": {"pickle", "peroxide", "acid into water"},
        r"quench|into water": {"quench", "no water for these"},
        r"\btorch\b|\bflame\b": {"torch and gas", "alcohol and flame", "trapped water", "eyes at the melt"},
        r"\bstir\b|molten|\bmelt\b|hotter": {
            "molten metal", "steam and metal", "metal fumes", "wet metal into the melt", "eyes at the melt",
            "hot tin pot", "platinum light", "do not pour", "cadmium and lead", "torch and gas", "hot flask",
        },
    }  # fmt: skip
    missing = [
        (cause, pattern)
        for cause, x in corrections(base, "casting") for pattern, wanted in needs.items()
        if re.search(pattern, x.do.casefold()) and not set(x.cautions) & wanted
    ]  # fmt: skip
    assert [m for m in missing if m[0] != "casting.abrasive-in-charge"] == []


def test_a_move_to_hotter_metal_has_a_ceiling_everywhere(base: RuleBase) -> None:
    for cause, x in corrections(base, "casting"):
        for m in x.moves:
            if m.setting == "pour temperature" and m.how == "by step" and (m.value or 0.0) > 0:
                assert m.ceiling is not None, cause
        if re.search(r"\d+ (to \d+ )?°?c hotter", x.do.casefold()):
            assert re.search(r"ceiling|never over|never above|checked with a thermometer", x.do.casefold()), cause


def test_phosphorus_is_kept_out_of_alloys_that_break_of_it(of: Consultant) -> None:
    """The window of phosphor copper ends next to nothing for silicon, nickel, platinum and palladium alloys."""
    base = of.base
    windows = base.words.settings["deoxidiser share"].windows
    for kind in ("silicon bronze", "nickel white gold", "platinum", "palladium"):
        found = next(w for w in windows if kind in w.holds_for.get("metal kind", ()))
        assert found.high is not None
        assert found.high < 0.001
    assert "none at all in alloys with silicon, nickel, palladium or platinum" in said(
        base, "casting.too-much-phosphorus"
    )


def test_red_gold_is_kept_out_of_its_hardening_heat(base: RuleBase) -> None:
    """Gold-copper orders below 410 C (Okamoto 1987, from memory): 250 to 300 C would harden what should be relieved."""
    assert "never red gold" in said(base, "casting.stress-attack")


def test_stress_relief_and_anneal_stay_under_the_melting_of_sterling(base: RuleBase) -> None:
    """Silver and copper begin to melt at 779 C (Hayes 1986, from memory)."""
    for cause in ("casting.work-hardened", "casting.annealed-too-hot", "casting.cooled-too-slowly"):
        for heat in re.findall(r"(\d{3}) ?(?:°?C)", said(base, cause).upper()):
            assert int(heat) <= 650, cause


def test_brittle_metal_is_set_aside_and_never_glued_or_sold(base: RuleBase) -> None:
    do = said(base, "casting.brittle-metal")
    assert "wearable stock too" in do
    assert all(metal in do for metal in ("lead", "bismuth", "tellurium"))
    assert "anneal" not in do


def test_the_nose_and_the_bare_eye_are_no_instruments(base: RuleBase) -> None:
    for o in base.words.observations.values():
        if o.stage not in ("casting", "tree"):
            continue
        steps = " ".join(o.bench_test.do) if o.bench_test else ""
        asked = f"{o.ask} {steps}".casefold()
        assert not re.search(r"\b(smell|sniff) (at|the|for)\b(?! it)", asked) or "do not sniff" in asked, o.name
        assert not re.search(r"look into the (hot|red|fired) (flask|crucible)", asked), o.name


def test_bench_tests_with_heat_acid_or_force_say_how_they_hurt(base: RuleBase) -> None:
    risky = r"ingot mold|red glow|dull glow|dull red|heat a|pickle|peroxide|etch|vise|vice|spin"
    bare = [
        o.name for o in base.words.observations.values()
        if o.stage in ("casting", "tree") and o.bench_test and not o.bench_test.caution
        and re.search(risky, " ".join(o.bench_test.do).casefold())
    ]  # fmt: skip
    allowed = {"bend after a heat and quench", "one faster spin", "one slower spin", "softer spin trial"}
    assert set(bare) <= allowed


# --- dangerous ideas ---


@pytest.mark.parametrize(
    ("typed", "hazard", "must_say"),
    [
        ("new crucible straight into the fire", "damp crucible", "150"),
        ("add wet scrap", "wet metal into the melt", "explode"),
        ("sealed piece", "wet metal into the melt", "open every hollow"),
        ("melt without glasses", "eyes at the melt", "shaded glasses"),
        ("old silver solder", "cadmium and lead", "leave"),
        ("add zinc", "zinc into the melt", "907"),
        ("water on the fire", "metal fire and water", "Never water"),
        ("platinum in plaster", "plaster too cool for its metal", "1100"),
        ("quench white gold", "no water for these", "cool in air"),
        ("water into the acid", "acid into water", "acid goes slowly into cold water"),
        ("pickle iron", "iron in the pickle", "No steel"),
        ("strong peroxide", "peroxide", "never closed"),
        ("solder a hollow", "trapped water", "Drill a hole"),
        ("alcohol near the torch", "alcohol and flame", "two meters"),
        ("melt aluminum", "light metals", "foundry"),
        ("gloves at the buff", "polishing wheel", "No gloves"),
        ("drop of water", "hot tin pot", "dry"),
        ("infrared thermometer", "infrared gun", "hundreds of degrees"),
        ("argon", "cover gas", "air out of a room"),
        ("overload the arm", "bigger flask than the machine", "manual"),
        ("water on burning wax", "smoking wax", "lid"),
    ],
)
def test_a_dangerous_idea_is_known_and_answered(base: RuleBase, typed: str, hazard: str, must_say: str) -> None:
    found = base.hazards[hazard]
    assert typed in found.words
    assert must_say.casefold() in found.says.casefold()


def test_wet_or_hollow_scrap_brings_its_warning_into_the_diagnosis(of: Consultant) -> None:
    told_facts = {"where it spat": "in the crucible", "charge before melting": "hollow or sealed pieces"}
    found = play(of, "casting.metal-spits", told_facts)
    assert of.base.hazards["wet metal into the melt"].says in found.cautions


def test_metal_at_1150_in_the_record_brings_the_warning_about_plaster(of: Consultant) -> None:
    told_facts = {"metal": "18k palladium white gold", "pour temperature": "1240 C", "where the crust sits": "all over"}
    found = play(of, "casting.burned-on-crust", told_facts)
    assert of.base.hazards["plaster too cool for its metal"].says in found.cautions
    assert found.causes[0].id == "casting.wrong-mold"
