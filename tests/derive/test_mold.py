"""The mold stage's calculators as a person meets them: recorded settings in, facts and sentences out."""

from __future__ import annotations

import re

import CoolProp.CoolProp as coolprop
import pytest
from iapws import IAPWS97

from diagnose.derive import (
    mold_block,
    mold_clamp,
    mold_cure,
    mold_pack,
    mold_press,
    mold_recure,
    mold_schedule,
    mold_size,
)
from diagnose.derive.calculator import Calculator, Value
from diagnose.derive.mold_cure import cure_curve
from diagnose.derive.mold_inputs import COOLING_WAYS
from diagnose.derive.resolve import Resolved, Resolver
from diagnose.errors import OutOfRange
from diagnose.rulebase.load import RuleBase

CELSIUS = 273.15
MODULES = (mold_block, mold_clamp, mold_cure, mold_pack, mold_press, mold_recure, mold_schedule, mold_size)
ALL = tuple(c for module in MODULES for c in module.CALCULATORS)
INCH: dict[str, Value] = {
    "rubber": "natural rubber",
    "platen temperature": 153 + CELSIUS,
    "cure time": 3600.0,
    "rubber thickness": 0.0254,
    "platen contact": 20000.0,
    "rubber start temperature": 23 + CELSIUS,
}


@pytest.fixture
def resolver(base: RuleBase) -> Resolver:
    return Resolver(ALL, base.words.settings, base.words.slots)


def sentences(resolved: Resolved, fact: str) -> str:
    done = resolved.computed[fact]
    return " ".join(done.calculator.says({**done.inputs, **done.results}))


# 24.5 equivalent minutes in the middle of an inch after 60 min at 153 degrees C, from a separate march; t90 8 min.
def test_an_inch_by_the_shop_rule_is_cured_three_times_over(resolver: Resolver) -> None:
    found = resolver.resolve(INCH)

    assert found.facts["core dose"] == pytest.approx(24.5 * 60, rel=0.01)
    assert found.facts["core cure"] == pytest.approx(24.5 / 8, rel=0.01)
    assert found.facts["skin overcure"] == pytest.approx(60 / 8, rel=0.01)
    assert found.facts["core end temperature"] - CELSIUS == pytest.approx(151.8, abs=0.1)
    assert found.facts["needed cure time"] == pytest.approx(57.2 * 60, rel=0.01)
    assert found.facts["cure time against need"] == pytest.approx(60 / 57.2, rel=0.01)
    assert "That is enough." in sentences(found, "core cure")


# Bands, common practice: under 0.7 far too little, to 1 too little, to 1.5 a little short, above enough.
@pytest.mark.parametrize(
    ("minutes", "says"),
    [(30, "the middle is raw"), (38, "too little for a firm middle"), (44, "a little short"), (55, "enough")],
)
def test_the_bands_of_core_cure_are_said_in_words(resolver: Resolver, minutes: float, says: str) -> None:
    found = resolver.resolve({**INCH, "cure time": minutes * 60.0})

    assert says in sentences(found, "core cure")


def test_what_the_middle_gains_while_cooling_depends_on_how_it_cooled(resolver: Resolver) -> None:
    air = resolver.resolve({**INCH, "block cooled": "loose in air"}).facts
    water = resolver.resolve({**INCH, "block cooled": "quenched"}).facts
    untold = resolver.resolve(INCH).facts

    assert air["cooling core dose"] == pytest.approx(9.2 * 60, rel=0.02)  # separate march: +9.1 to +9.2
    assert water["cooling core dose"] == pytest.approx(3.8 * 60, rel=0.02)  # separate march: +3.8
    assert "cooling core dose" not in untold
    assert untold["core dose"] < water["core dose"] < air["core dose"]


def test_every_way_of_cooling_that_is_asked_about_can_be_computed(base: RuleBase) -> None:
    assert set(COOLING_WAYS) == set(base.words.observations["block cooled"].answers)


def test_silicone_gets_minutes_but_no_verdict_until_its_label_is_told(resolver: Resolver) -> None:
    told = {**INCH, "rubber": "peroxide silicone", "platen temperature": 165 + CELSIUS}

    bare = resolver.resolve(told)
    known = resolver.resolve({**told, "own t90": 480.0})

    assert "core dose" in bare.facts
    assert not {"core cure", "skin overcure", "needed cure time", "re-cure time"} & set(bare.facts)
    assert "No verdict" in sentences(bare, "core dose")
    assert known.facts["core cure"] == pytest.approx(float(known.facts["core dose"]) / 480)
    assert "needed cure time" in known.facts


def test_an_own_t90_at_another_temperature_is_carried_over(resolver: Resolver) -> None:
    # For 100 kJ/mol ten degrees are 1.97-fold: 15.76 min at 143 are 8 min at 153 degrees C.
    moved = {**INCH, "own t90": 15.762 * 60, "own t90 temperature": 143 + CELSIUS}

    assert resolver.resolve(moved).facts["core cure"] == pytest.approx(
        resolver.resolve(INCH).facts["core cure"], rel=1e-3
    )


def test_a_thick_block_gets_cooler_and_longer_as_one_move(resolver: Resolver) -> None:
    found = resolver.resolve({**INCH, "rubber thickness": 0.0508, "cure time": 7200.0})
    moved = {
        "platen temperature": found.facts["needed platen temperature"],
        "cure time": found.facts["needed cure time"],
    }
    again = resolver.resolve({**INCH, "rubber thickness": 0.0508, **moved})

    assert moved["platen temperature"] < 143 + CELSIUS  # found separately: 11 times t90 at the skin even at 143
    assert again.facts["core cure"] == pytest.approx(2.75, rel=1e-3)
    assert again.facts["skin overcure"] <= 8.01
    assert "Cooler and longer go together" in sentences(found, "needed cure time")


def test_platens_over_the_ceiling_are_planned_back_under_it(resolver: Resolver) -> None:
    found = resolver.resolve({**INCH, "platen temperature": 175 + CELSIUS})

    assert found.facts["needed platen temperature"] <= 165 + CELSIUS


def test_the_probe_corrects_the_temperature_that_the_press_showed(resolver: Resolver) -> None:
    five_low = tuple(148 + CELSIUS + d for d in (1.0, -1.0, 0.0, 0.5, -0.5))
    probed = {**INCH, "platen readings": five_low, "press display": 153 + CELSIUS}

    found = resolver.resolve(probed)
    trimmed = resolver.resolve({**probed, "platen temperature": found.facts["needed platen setting"]})

    assert found.facts["top face temperature"] == pytest.approx(148 + CELSIUS)
    assert found.facts["core dose"] == pytest.approx(17.7 * 60, rel=0.01)  # separate march at 148 degrees C
    assert found.facts["needed platen setting"] == pytest.approx(158 + CELSIUS)
    assert trimmed.facts["core dose"] == pytest.approx(24.5 * 60, rel=0.01)


def test_an_uneven_platen_is_told_how_uneven_and_where_to_put_molds(resolver: Resolver) -> None:
    readings = tuple(153 + CELSIUS + d for d in (13.0, -6.0, -3.0, 2.0, -1.0))

    found = resolver.resolve({**INCH, "platen readings": readings, "press display": 153 + CELSIUS})

    assert found.facts["platen evenness"] == "uneven yet usable"
    assert found.facts["platen spread"] == pytest.approx(19.0)
    said = sentences(found, "platen evenness")
    assert "Hottest is point 1, coldest point 2" in said
    assert "Put molds at point 3, 4, 5" in said


def test_a_press_far_off_is_for_repair(resolver: Resolver) -> None:
    readings = tuple(139 + CELSIUS + d for d in (0.0, 1.0, -1.0))

    found = resolver.resolve({**INCH, "platen readings": readings, "press display": 153 + CELSIUS})

    assert "needed platen setting" not in found.facts
    assert "have it repaired" in sentences(found, "platen error")


def test_one_figure_for_both_platens_says_nothing_of_their_difference(resolver: Resolver) -> None:
    assert "platen difference" not in resolver.resolve(INCH).facts
    one_read = resolver.resolve({**INCH, "bottom platen temperature": 143 + CELSIUS}).facts
    assert one_read["platen difference"] == pytest.approx(INCH["platen temperature"] - 143 - CELSIUS)


def test_platens_read_apart_need_no_common_setting(resolver: Resolver) -> None:
    told = {n: v for n, v in INCH.items() if n != "platen temperature"}
    apart = {**told, "top platen temperature": 158 + CELSIUS, "bottom platen temperature": 148 + CELSIUS}

    found = resolver.resolve(apart).facts

    assert found["platen difference"] == pytest.approx(10.0)
    assert found["top skin dose"] > found["core dose"]
    assert found["top skin dose"] > 1.8 * found["bottom skin dose"]  # 1.94-fold rate for 148 to 158 degrees C


def test_card_between_platen_and_frame_holds_heat_back(resolver: Resolver) -> None:
    bare = resolver.resolve(INCH).facts
    card = resolver.resolve({**INCH, "heat barrier thickness": 0.002}).facts

    assert card["core dose"] < 0.95 * bare["core dose"]


def test_a_clock_started_on_cold_platens_costs_cure(resolver: Resolver) -> None:
    early = {**INCH, "platen drop": 40.0, "platen recovery time": 900.0}

    assert resolver.resolve(early).facts["core dose"] < resolver.resolve(INCH).facts["core dose"]


def test_the_middle_lies_between_cold_and_hot_sides(resolver: Resolver) -> None:
    found = resolver.resolve({**INCH, "frame length": 0.073, "frame width": 0.0476}).facts

    assert found["core dose with cold sides"] < found["core dose with hot sides"]
    assert found["core dose"] < found["core dose with hot sides"]


# Common practice: the missing minutes plus 36 minutes of heat getting in, at 25 mm.
def test_a_raw_block_goes_back_for_what_it_lacks_and_the_heat_lag(resolver: Resolver) -> None:
    found = resolver.resolve({**INCH, "cure time": 2400.0})

    lag = found.facts["re-cure time"] - found.facts["missing dose"]
    assert lag / 60 == pytest.approx(36.4, abs=0.5)
    assert found.facts["skin overcure after re-cure"] > 8
    assert "Make a new mold, cooler and longer." in sentences(found, "re-cure time")


def test_a_cured_block_lacks_nothing(resolver: Resolver) -> None:
    found = resolver.resolve({**INCH, "cure time": 4800.0})

    assert found.facts["missing dose"] == 0.0
    assert "re-cure time" not in found.facts


# Separate march, 25 mm pack: rubber 1 mm from the platen has used 2.5 and 3.5 of its minutes after 8 and 10 min.
@pytest.mark.parametrize(("minutes", "used"), [(8, 2.5), (10, 3.5)])
def test_scorch_at_closing_is_what_a_separate_march_found(resolver: Resolver, minutes: float, used: float) -> None:
    found = resolver.resolve({**INCH, "rubber thickness": 0.025, "warm-up time": minutes * 60.0}).facts

    assert found["scorch at closing"] == pytest.approx(used / 3, abs=0.03)
    assert 8 * 60 < found["latest closing time"] < 10 * 60


def test_the_shop_rule_and_its_end_are_told(resolver: Resolver) -> None:
    found = resolver.resolve(INCH)

    assert found.facts["rule of thumb time"] == pytest.approx(3600.0)
    assert found.facts["rule of thumb limit"] == pytest.approx(0.048, abs=1e-3)


def test_water_cools_fastest_and_air_slowest(resolver: Resolver) -> None:
    found = resolver.resolve({**INCH, "block cooled": "loose in air"}).facts

    assert found["cool-down time in water"] < found["cool-down time between plates"] <= found["cool-down time in air"]
    assert found["cool-down time"] == found["cool-down time in air"]


# The saturation equation of water: 0.5157 MPa at 153 degrees C in two reference libraries.
def test_steam_pressure_agrees_with_two_reference_libraries(resolver: Resolver) -> None:
    steam = float(resolver.resolve({**INCH, "pressure on the rubber": 3.5e6}).facts["steam pressure"])

    absolute = steam + 101325.0
    assert absolute == pytest.approx(coolprop.PropsSI("P", "T", 153 + CELSIUS, "Q", 0, "Water"), rel=5e-4)
    assert absolute == pytest.approx(IAPWS97(T=153 + CELSIUS, x=0).P * 1e6, rel=1e-6)
    assert absolute == pytest.approx(0.5157e6, rel=1e-3)


def test_a_pack_is_weighed_and_counted(resolver: Resolver) -> None:
    frame = {"frame length": 0.073, "frame width": 0.0476, "frame depth": 0.0254, "sheet thickness": 0.003175}
    told = {**INCH, **frame, "sheets": 8.0, "rubber density": 1050.0, "flash mass": 0.0093}

    found = resolver.resolve(told)

    assert found.facts["overfill"] == pytest.approx(0.0, abs=1e-9)
    assert found.facts["rubber mass"] == pytest.approx(0.09267, rel=1e-3)
    assert found.facts["needed sheets"] == pytest.approx((0.0254 + 0.0015) / 0.003175)
    assert found.facts["heat squeeze-out"] == pytest.approx(0.0759, abs=1e-4)
    assert found.facts["measured squeeze-out"] == pytest.approx(0.1, abs=1e-3)
    assert "not told and is counted as rubber" in sentences(found, "overfill")


# 20 mm of brass in gum rubber cured at 153 degrees C: 19.509 mm, worked out separately; chain and back.
def test_sizes_go_from_model_to_piece_and_back(resolver: Resolver) -> None:
    told = {**INCH, "model metal": "brass", "measuring temperature": 23 + CELSIUS, "model size": 0.020}

    found = resolver.resolve(told).facts
    back = resolver.resolve({**told, "wanted finished size": found["expected finished size"]}).facts

    assert found["rubber shrinkage"] == pytest.approx(0.02455, abs=1e-5)
    assert found["expected finished size"] == pytest.approx(0.019509 * 0.985 * 0.986, abs=1e-6)
    assert back["needed model size"] == pytest.approx(0.020)
    assert found["master scale"] == pytest.approx(1.02517 / (0.985 * 0.986), abs=1e-5)


def test_a_measured_cavity_beats_the_computed_one(resolver: Resolver) -> None:
    told = {**INCH, "model metal": "brass", "model size": 0.020, "cavity size": 0.0194, "wax size": 0.0191}

    found = resolver.resolve(told).facts

    assert found["cavity shrinkage"] == pytest.approx(0.03)
    assert found["wax step measured"] == pytest.approx(1 - 19.1 / 19.4)
    assert found["total shrinkage"] == pytest.approx(1 - 0.97 * 0.985 * 0.986)


# A total of 4.82 % is 1.03 inch sizes at size 7 (0.1 mm of bore is 0.123 size).
def test_a_ring_of_size_7_needs_a_larger_model(resolver: Resolver) -> None:
    told = {"ring inch size": 7.0, "measured rubber shrinkage": 0.02}

    found = resolver.resolve(told).facts

    assert found["size as circumference"] == pytest.approx(54.42, abs=0.01)
    assert found["needed model bore"] == pytest.approx(0.017323 / 0.951786, abs=1e-6)
    assert found["inch sizes lost"] == pytest.approx(17.323 * 0.04821 * 1.23, abs=0.01)


def test_a_clamp_is_held_against_the_wax(resolver: Resolver) -> None:
    told = {"injection pressure": 68948.0, "cavity area": 4e-4, "clamp force": 20.0, "cavity width": 0.002}

    found = resolver.resolve(told)

    assert found.facts["opening force"] == pytest.approx(27.58, abs=0.01)
    assert found.facts["needed clamp force"] == pytest.approx(41.37, abs=0.01)
    assert found.facts["clamp margin"] == pytest.approx(20 / 27.58, rel=1e-3)
    assert found.facts["cavity bulge"] < 0.0002
    assert "order of size" in sentences(found, "clamp margin")


def test_a_warm_store_uses_up_the_shelf_life(resolver: Resolver) -> None:
    year = 365.25 * 86400
    told = {"rubber": "natural rubber", "storage time": year / 2, "storage temperature": 35 + CELSIUS}

    found = resolver.resolve(told).facts

    assert found["raw stock age"] / (year / 2) == pytest.approx(3.70, abs=0.01)  # Arrhenius, 100 kJ/mol


def test_a_curve_to_draw_ends_at_the_dose(resolver: Resolver) -> None:
    done = resolver.resolve(INCH).computed["core dose"]

    curve = cure_curve(done.inputs)

    assert curve.doses["middle"][-1] == pytest.approx(done.results["core dose"], rel=1e-3)
    assert curve.temperatures["skin"][-1] == pytest.approx(153 + CELSIUS, abs=0.5)
    assert curve.heat_off == 3600.0


def test_absurd_input_is_refused_in_words(resolver: Resolver) -> None:
    found = resolver.resolve({**INCH, "rubber thickness": 5.0})

    assert "the thickness is 5 m" in found.refused["cure"].what
    assert found.refused["cure"].next_step
    with pytest.raises(OutOfRange, match="the thickness is 5 m"):
        resolver.run_one("cure", {**INCH, "rubber thickness": 5.0})


RICH: dict[str, Value] = {
    **INCH,
    "model metal": "brass",
    "block cooled": "loose in air",
    "heat barrier thickness": 0.0005,
    "warm-up time": 700.0,
    "platen readings": (426.0, 420.0, 440.0),
    "press display": 426.0,
    "pressure on the rubber": 2e6,
    "frame length": 0.073,
    "frame width": 0.0476,
    "frame depth": 0.0254,
    "sheets": 8.0,
    "flash mass": 0.009,
    "model mass": 0.008,
    "storage time": 3e7,
    "storage temperature": 303.15,
    "model size": 0.02,
    "cavity size": 0.0195,
    "wax size": 0.0192,
    "cast size": 0.019,
    "wanted finished size": 0.019,
    "ring bore": 0.0173,
    "injection pressure": 7e4,
    "cavity area": 4e-4,
    "clamp force": 20.0,
    "cavity width": 0.003,
}


OTHERWISE: dict[str, Value] = {
    "top platen temperature": 428.0,
    "bottom platen temperature": 424.0,
    "gel temperature": 418.0,
    "measured rubber shrinkage": 0.025,
    "ring inch size": 7.0,
    "ring circumference size": 54.0,
}


@pytest.mark.parametrize("calculator", ALL, ids=lambda c: c.name)
def test_every_sentence_names_only_facts_that_are_there(calculator: Calculator, resolver: Resolver) -> None:
    runs = [resolver.resolve(RICH), resolver.resolve({**RICH, "cure time": 1800.0})]
    seen = [c for r in runs for c in r.computed.values() if c.calculator is calculator]
    if not seen:
        told = {**RICH, **OTHERWISE}
        for name in ("platen temperature", "model size", "wanted finished size", "ring bore"):
            told.pop(name)
        seen = [c for c in resolver.resolve(told).computed.values() if c.calculator is calculator]
    if not seen:
        done = resolver.run_one(calculator.name, {**RICH, **OTHERWISE})
        seen = [done]
    for done in seen:
        facts = {**done.inputs, **done.results}
        for line in calculator.says(facts):
            assert set(re.findall(r"\{([^}|]*)[^}]*\}", line)) <= set(facts)
        assert set(done.results) <= set(calculator.gives)


@pytest.mark.parametrize("calculator", ALL, ids=lambda c: c.name)
def test_every_fact_taken_and_given_is_in_the_rules_folder(calculator: Calculator, base: RuleBase) -> None:
    for name in (*calculator.needs, *calculator.takes):
        assert base.words.dimension(name) is not None, name
    for name in calculator.gives:
        assert name in base.words.derived, name
