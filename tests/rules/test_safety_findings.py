"""Advice that would hurt a person, a mold or a model, proved absent; and the limit that belongs there, proved present.

The limits are shop rules and have no published source (common practice), unless one is named beside the check.
What the same limits do to the numbers of a case is in `test_safety_in_cases.py`.
"""

from __future__ import annotations

import re

import pytest

from diagnose.model.condition import Within, leaves
from diagnose.model.knowledge import Bound, Correction, Move, Rule
from diagnose.rulebase.load import RuleBase

KELVIN = 273.15
HEAVY = ("strong", "very strong")


def corrections(base: RuleBase, cause: str) -> tuple[Correction, ...]:
    return base.causes[cause].corrections


def said(base: RuleBase, cause: str) -> str:
    """Return all that is to be done about a cause, in lower case."""
    return " ".join(c.do for c in corrections(base, cause)).casefold()


def everything_done(base: RuleBase, *stages: str) -> list[tuple[str, str]]:
    return [(c.id, x.do.casefold()) for c in base.causes.values() if c.stage in stages for x in c.corrections]


def moves(base: RuleBase, setting: str) -> list[tuple[str, Move]]:
    return [
        (c.id, m) for c in base.causes.values() for x in c.corrections for m in x.moves if m.setting == setting
    ]  # fmt: skip


def rules_of(base: RuleBase, defect: str) -> list[Rule]:
    return [r for c in base.defect(defect).candidates for r in c.rules]


# --- mold: cure ---


def test_a_cooler_press_is_never_advised_against_rubber_that_sticks_to_the_model(base: RuleBase) -> None:
    for cause in ("mold.metal-bonds", "mold.silver-darkens", "mold.plate-worn", "model.porous-model"):
        assert not re.search(r"lower (the )?(press|set|platen)|cooler cure|143", said(base, cause)), cause
        assert not any(m.setting == "platen temperature" for x in corrections(base, cause) for m in x.moves)
    assert "plate" in said(base, "mold.metal-bonds")
    assert "silicone" in said(base, "mold.metal-bonds")


def test_no_bare_reading_of_the_press_convicts_a_cure_that_the_dose_calls_normal(base: RuleBase) -> None:
    bare = {"platen temperature", "cure time", "top platen temperature", "bottom platen temperature", "block cooled"}
    for defect in ("mold.soft-core", "mold.tacky-skin", "mold.voids"):
        convicting = [
            r.id for r in rules_of(base, defect)
            if r.speaks == "for" and r.weight in HEAVY and {leaf.fact for leaf in leaves(r.when)} <= bare
        ]  # fmt: skip
        assert convicting == []
    thick = [
        r for r in rules_of(base, "mold.soft-core")
        if r.speaks == "for" and r.weight in HEAVY and any(leaf.fact == "rubber thickness" for leaf in leaves(r.when))
    ]  # fmt: skip
    assert thick, "a block above 50 mm is the one bare number that may weigh"
    for leaf in (leaf for r in thick for leaf in leaves(r.when) if leaf.fact == "rubber thickness"):
        assert isinstance(leaf, Within)
        assert leaf.low == pytest.approx(0.050)


def test_wax_heat_is_no_cause_of_a_tacky_new_mold(base: RuleBase) -> None:
    defect = base.defect("mold.tacky-skin")
    assert not [c.cause for c in defect.candidates if c.cause.startswith("wax.") or "wax" in base.cause_name(c.cause)]
    assert not [r.id for r in rules_of(base, "mold.tacky-skin") if any("wax" in leaf.fact for leaf in leaves(r.when))]


def test_nobody_doubles_the_minutes_for_ten_degrees_less(base: RuleBase) -> None:
    for cause, do in everything_done(base, "mold"):
        assert not re.search(r"(twice|double|[x×] ?2|1\.97).{0,20}(time|minutes)|(time|minutes).{0,12}[x×] ?2", do), (
            cause
        )
    assert "calculator find the longer time" in said(base, "mold.closed-too-late")


def test_the_press_is_never_backed_off_during_the_cure(base: RuleBase) -> None:
    for cause, do in everything_done(base, "mold"):
        for found in re.finditer(r"back(ed)? off|quarter turn back|unscrew", do):
            assert "never " in do[max(0, found.start() - 12) : found.start()], cause
    assert "never back off during a cure" in said(base, "mold.pressed-too-hard")
    assert "pack it" in said(base, "mold.pressed-too-hard"), "the cure for too much force is less rubber next time"


def test_slack_is_taken_up_before_the_tenth_minute_from_hot_contact_and_with_the_frame_home(base: RuleBase) -> None:
    do = said(base, "mold.pressure-lost")
    assert "slack" in do
    assert "before minute 10 from hot contact" in do
    assert "must already sit" in do


def test_no_warm_up_is_made_longer_than_the_rubber_lets_it(base: RuleBase) -> None:
    assert not re.search(r"longer warm-up(?! lower)", said(base, "mold.heated-too-fast"))
    assert "minute 10 at 153" in said(base, "mold.closed-too-late")
    assert moves(base, "warm-up time"), "the warm-up is moved by somebody"
    for cause, move in moves(base, "warm-up time"):
        assert move.how == "to value", cause
        assert move.value is not None
        assert move.value <= 8 * 60.0, cause


def test_every_move_to_the_calculated_time_brings_the_temperature_it_was_calculated_for(base: RuleBase) -> None:
    found = [
        (cause.id, {m.setting: m.fact for m in x.moves})
        for cause in base.causes.values() for x in cause.corrections
        if any(m.fact == "needed cure time" for m in x.moves)
    ]  # fmt: skip
    assert len(found) >= 3
    for cause, to in found:
        assert to.get("platen temperature") == "needed platen temperature", cause


def test_a_block_is_not_sent_back_to_the_press_once_its_skin_has_had_enough(base: RuleBase) -> None:
    back = [x for x in corrections(base, "mold.cure-time-short") if "return it" in x.do]
    assert len(back) == 1
    assert "not yet cut, model still in, natural rubber" in back[0].do
    assert "heat through again" in back[0].do
    assert "skin" in back[0].worsens_also
    assert "not if" in back[0].worsens_also


@pytest.mark.parametrize("cause", ["mold.platens-colder", "mold.platens-hotter"])
def test_a_press_that_is_far_off_is_repaired_and_not_trimmed(base: RuleBase, cause: str) -> None:
    do = said(base, cause)
    assert "second thermometer" in do
    assert "more than 10 °c have the press repaired" in do
    assert not any(x.moves for x in corrections(base, cause)), "no number without the second thermometer"


def test_natural_rubber_is_never_planned_above_its_ceiling_of_165_degrees(base: RuleBase) -> None:
    for name, material in base.words.slots["rubber"].materials.items():
        if material.kind == "natural":
            assert material.properties["working ceiling"].value <= 165 + KELVIN, name
    for cause, move in moves(base, "platen temperature"):
        assert move.ceiling == Bound(fact="rubber working ceiling"), cause
    assert "165" in base.hazards["too hot a cure"].says
    assert base.hazards["too hot a cure"].always
    for cause, do in everything_done(base, "mold"):
        hot = [int(t) for t in re.findall(r"(\d{3}) ?°c", do)]
        assert all(t <= 165 for t in hot), cause


# --- mold: solvent, drying, plating ---


def test_solvent_dries_ten_minutes_without_a_heat_gun_everywhere(base: RuleBase) -> None:
    wet = [(cause, do) for cause, do in everything_done(base, "mold") if re.search(r"solvent|wiped faces", do)]
    drying = [(cause, do) for cause, do in wet if "dry" in do]
    assert len(drying) >= 2
    for cause, do in drying:
        assert "10 minutes" in do, cause
        assert not re.search(r"warm air|hot air|(?<!no )heat gun", do), cause
        assert any("solvent near heat" in x.cautions for x in corrections(base, cause)), cause
    says = base.hazards["solvent near heat"].says
    assert all(word in says for word in ("away from hot platens and sparks", "gloves", "extraction", "10 minutes"))


def test_only_plain_vented_metal_is_warmed_to_dry_it(base: RuleBase) -> None:
    for cause, do in everything_done(base, "model", "mold"):
        if "dry" in do and re.search(r"(8\d|9\d|1\d\d) °c", do) and "model" in cause:
            assert "plain metal only" in do, cause
            assert "vented" in do, cause
            assert "never wax" in do, cause
            assert "hollow model" in corrections(base, cause)[0].cautions
    assert "plain metal only" in said(base, "model.dirty-model")
    test = base.words.observations["model warmed alone"].bench_test
    assert test is not None
    assert "Only for plain solid metal" in test.do[0]
    assert "burst" in test.caution


def test_who_plates_is_told_of_acid_cyanide_and_nickel(base: RuleBase) -> None:
    plating = [
        (c.id, x) for c in base.causes.values() for x in c.corrections
        if c.stage in ("mold", "model") and re.search(r"\bmodel\b", x.do) and re.search(r"\bplated?\b", x.do)
    ]  # fmt: skip
    assert len(plating) >= 3
    for cause, correction in plating:
        assert "plating bath" in correction.cautions, cause
    says = base.hazards["plating bath"].says
    assert all(word in says for word in ("acid", "cyanide", "nickel", "allergy", "licensed"))


# --- wax: pressure first ---

OPENS_THE_POT = {
    "wax.stream-blocked": 1, "wax.valve-leaks": 0, "wax.wet-air-line": 0, "wax.pot-low": 0, "wax.dirty-pot": 0,
    "wax.gauge-wrong": 0, "wax.water-in-wax": 0, "wax.wax-aged": 0, "wax.wax-too-hot": 1, "wax.wax-too-cold": 0, "wax.regulator-creeps": 1,
}  # fmt: skip


@pytest.mark.parametrize(("cause", "place"), OPENS_THE_POT.items())
def test_pressure_is_off_before_a_pot_or_nozzle_is_opened(base: RuleBase, cause: str, place: int) -> None:
    correction = corrections(base, cause)[place]
    do = correction.do.casefold()
    vent = re.search(r"vent (the pot )?to zero", do)
    assert vent, do
    act = re.search(
        r"clear it|clean the seat|drain receiver|top up|drain, wipe|compare with|let the water|change the|check it|replace the seat",
        do,
    )
    assert act, do
    assert vent.start() < act.start(), "vent first, then the work"
    assert "pressure pot" in correction.cautions


def test_a_blocked_nozzle_is_cleared_only_with_the_supply_closed_a_shield_on_and_pointing_down(base: RuleBase) -> None:
    warm = [do for _, do in everything_done(base, "wax") if "wire" in do]
    assert len(warm) == 1
    order = ["close the supply", "vent to zero", "check the gauge", "face shield", "point the nozzle down", "warm wire"]
    places = [warm[0].find(step) for step in order]
    assert -1 not in places
    assert places == sorted(places)


def test_water_is_drained_first_and_never_boiled_off(base: RuleBase) -> None:
    first, second = corrections(base, "wax.water-in-wax")
    assert "at the bottom first" in first.do
    assert "never above 85 C" in first.do
    assert "water under wax" in first.cautions
    assert re.search(
        r"only once the water .* is drained off, with the pot off and vented, draw vacuum", second.do.casefold()
    )
    assert second.minutes > first.minutes, "the cheaper one is offered first: draining must be"
    for words in ("marked for vacuum", "at most half full", "trap before the pump"):
        assert words in second.do
        assert words in corrections(base, "wax.air-in-wax")[1].do
    assert not any(m.setting in ("wax temperature", "pot temperature") for x in (first, second) for m in x.moves)
    assert "95" in base.hazards["water under wax"].says
    assert "erupt" in base.hazards["water under wax"].says


def test_no_pot_is_left_warm_and_alone_overnight(base: RuleBase) -> None:
    for cause, do in everything_done(base, "wax", "tree"):
        if "overnight" in do and "pot" in do:
            assert "switch it off overnight" in do, cause
        assert "just molten" not in do, cause
    assert "switch it off overnight" in said(base, "wax.wax-aged")
    assert "never unattended" in base.hazards["wax fire"].says
    assert "leave it on overnight" in base.hazards["wax fire"].words


def test_more_pressure_comes_last_and_never_passes_the_marking(base: RuleBase) -> None:
    raised = [(c, m) for c, m in moves(base, "injection pressure") if (m.value or 0.0) > 0 or m.how != "by step"]
    assert raised
    for cause, move in raised:
        assert move.ceiling == Bound(fact="marked pot pressure"), cause
    do = said(base, "wax.pressure-too-low")
    assert "never above the marking" in do
    assert "only when wax heat, vents and vacuum are right" in do
    assert not re.search(r"1[0-9] ?(to ?18 )?psi", do)


def test_wax_heat_has_a_floor_over_congealing_and_a_ceiling(base: RuleBase) -> None:
    assert moves(base, "wax temperature")
    for cause, move in moves(base, "wax temperature"):
        if move.fact:
            assert move.fact == "wax temperature to try"
        else:
            assert move.value is not None
        if move.value is not None and move.value < 0:
            assert move.floor == Bound(fact="lowest wax temperature"), cause
        else:
            assert move.ceiling == Bound(fact="highest wax temperature"), cause
    assert "4 c above the congealing point" in said(base, "wax.wax-too-hot")
    assert "15 c above the congealing point, and never above 85 c" in said(base, "wax.wax-too-cold")
    for setting in ("wax temperature", "pot temperature"):
        safe = base.words.settings[setting].safe
        assert safe is not None
        assert safe.high == pytest.approx(85 + KELVIN)


def test_powder_is_never_blown_or_puffed(base: RuleBase) -> None:
    for cause, do in everything_done(base, "mold", "wax", "model", "tree"):
        assert not re.search(r"blow (it|the|out|off)|puff of air|compressed air|air gun", do), cause
    for cause in ("wax.too-much-powder", "mold.powder-cake", "mold.separator-thick"):
        assert re.search(r"brush|wipe|wash", said(base, cause)), cause
    assert "Never blow powder" in base.hazards["dusting powder"].says
    assert "Do not blow powder" in base.hazards["mold powder"].says
