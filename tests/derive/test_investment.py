"""The investing calculators through the shipped rules: worked cases, contradictions, and every sentence they say."""

from __future__ import annotations

import re
from math import isfinite, pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.derive import investment_clock, investment_flask, investment_mix, investment_vacuum
from diagnose.derive.calculator import Value
from diagnose.derive.resolve import Resolver
from diagnose.errors import OutOfRange
from diagnose.rulebase.load import RuleBase

CALCULATORS = (
    *investment_mix.CALCULATORS,
    *investment_clock.CALCULATORS,
    *investment_vacuum.CALCULATORS,
    *investment_flask.CALCULATORS,
)
C = 273.15
INHG = 3386.389  # NIST SP 811
PLASTER = {"investment": "gypsum investment"}

FULL: dict[str, Value] = {
    **PLASTER, "flask diameter": 0.0762, "flask height": 0.1016, "tree wax weight": 0.030, "wax density": 950.0,
    "powder weight": 0.640, "water weight": 0.262, "label water": 40.0, "boric acid share": 0.01,
    "slurry temperature": C + 22, "density cup weight": 0.1745, "own slurry density": 1763.0, "gloss-off time": 600.0,
    "mixing time": 180.0, "bowl vacuum time": 90.0, "pouring time": 60.0, "flask vacuum time": 60.0,
    "altitude": 1600.0, "investing vacuum": 24 * INHG, "end cover": 0.012, "gap to flask wall": 0.006,
    "rest before heat": 3600.0, "flasks in one mix": 1.0,
}  # fmt: skip


@pytest.fixture(scope="module")
def resolver(base: RuleBase) -> Resolver:
    return Resolver(CALCULATORS, base.words.settings, base.words.slots)


def told(**facts: Value) -> dict[str, Value]:
    return PLASTER | {name.replace("_", " ").replace("gloss off", "gloss-off"): v for name, v in facts.items()}


def test_a_3_by_4_inch_flask(resolver: Resolver) -> None:
    # pi/4 D^2 H = 463.3 ml; 1/(1/2.54 + 0.40/0.9978) = 1.2587 g/ml; 7.5 % more for the bowl
    found = resolver.resolve(told(flask_diameter=0.0762, flask_height=0.1016)).facts

    assert found["room in the flask"] == pytest.approx(463.3e-6, rel=1e-3)
    assert found["needed powder"] == pytest.approx(0.5832 * 1.075, rel=1e-3)
    assert found["needed water"] == pytest.approx(0.2333 * 1.075, rel=1e-3)


def test_the_wax_takes_its_room_and_boric_acid_its_share(resolver: Resolver) -> None:
    # 80 x 120 mm with 45 g of wax at 0.95: 555.82 ml, 699.8 g; 1.5 % of that
    facts = told(
        flask_diameter=0.080, flask_height=0.120, tree_wax_weight=0.045, wax_density=950.0, boric_acid_share=0.015
    )
    found = resolver.resolve(facts | {"bowl loss": 0.0}).facts

    assert found["room in the flask"] == pytest.approx(555.82e-6, rel=1e-4)
    assert found["needed powder"] == pytest.approx(0.6998, rel=2e-3)
    assert found["needed boric acid"] == pytest.approx(0.0105, rel=2e-3)


def test_the_label_of_the_tub_comes_before_the_material(resolver: Resolver) -> None:
    facts = told(flask_diameter=0.0762, flask_height=0.1016, label_water=38.0, powder_weight=0.500, water_weight=0.200)
    found = resolver.resolve(facts).facts

    assert float(found["needed water"]) / float(found["needed powder"]) == pytest.approx(0.38)  # type: ignore[arg-type]
    assert found["mixed water"] == pytest.approx(40.0)
    assert found["water off label"] == pytest.approx(2.0)
    assert found["powder spare"] == pytest.approx(500.0 / 643.4 - 1.0, abs=5e-3)


def test_a_tree_larger_than_its_flask_is_refused(resolver: Resolver) -> None:
    facts = told(flask_diameter=0.05, flask_height=0.06, tree_wax_weight=0.2, wax_density=950.0)
    with pytest.raises(OutOfRange, match=r"a tree of 0\.00021\d+ m3 does not fit a flask of 0\.000117\d+ m3"):
        resolver.run_one("flask filling", facts)


def test_a_light_cup_holds_air(resolver: Resolver) -> None:
    # 176.3 g in 100 ml at 40 for 100 without air; 1.8 g is one part in a hundred
    found = resolver.resolve(told(water_ratio=40.0, density_cup_weight=0.1728, own_slurry_density=1763.0)).facts

    assert found["air in slurry"] == pytest.approx(0.02, abs=2e-3)


def test_most_of_the_water_is_free(resolver: Resolver) -> None:
    # stoichiometry: 34.415 of 40
    found = resolver.resolve(told(powder_weight=1.0, water_weight=0.4)).facts

    assert found["free water"] == pytest.approx(0.34415, abs=1e-5)
    assert found["free water share"] == pytest.approx(0.860, abs=1e-3)
    assert found["expected fired weight"] == pytest.approx(0.98138, abs=1e-5)


@pytest.mark.parametrize(
    ("altitude", "inhg", "margin_inhg"), [(0, 29.0, -0.14), (0, 28.0, -1.14), (1600, 24.0, 0.11), (2240, 22.0, 0.0)]
)
def test_the_vacuum_margin_knows_the_altitude(
    resolver: Resolver, altitude: int, inhg: float, margin_inhg: float
) -> None:
    # ISO 2533 less the CRC Handbook's 2.6447 kPa at 22 degrees C
    facts = told(altitude=float(altitude), investing_vacuum=inhg * INHG, slurry_temperature=C + 22)
    found = resolver.resolve(facts).facts

    assert float(found["vacuum margin"]) / INHG == pytest.approx(margin_inhg, abs=0.015)  # type: ignore[arg-type]
    assert found["vacuum gauge truth"] == "possible"


def test_a_reading_above_the_air_of_the_place_shows_a_false_gauge(resolver: Resolver) -> None:
    facts = told(altitude=1600.0, investing_vacuum=28 * INHG, slurry_temperature=C + 22)
    found = resolver.resolve(facts).facts

    assert found["vacuum gauge truth"] == "impossible"
    assert "vacuum margin" not in found


def test_weather_alone_does_not_make_a_gauge_false_but_a_barometer_does(resolver: Resolver) -> None:
    facts = told(investing_vacuum=102000.0, slurry_temperature=C + 22)

    assert resolver.resolve(facts | {"altitude": 0.0}).facts["vacuum gauge truth"] == "possible"
    assert resolver.resolve(facts | {"barometer": 101325.0}).facts["vacuum gauge truth"] == "impossible"


def test_a_barometer_in_the_shop_comes_before_the_altitude(resolver: Resolver) -> None:
    # 98.0 kPa on a stormy day at the sea: 28.16 inHg boils
    found = resolver.resolve(told(altitude=0.0, barometer=98000.0, slurry_temperature=C + 22)).facts

    assert found["local air pressure"] == 98000.0
    assert float(found["needed vacuum reading"]) / INHG == pytest.approx(28.16, abs=0.01)  # type: ignore[arg-type]


def test_an_idle_slurry_gets_half_of_the_excess_as_mixing(resolver: Resolver) -> None:
    # hands off at 6.5 min, shine gone at 10: 3.5 min idle where 1.75 is right; half of 1.75 min more mixing
    facts = told(
        gloss_off_time=600.0, mixing_time=180.0, bowl_vacuum_time=90.0, pouring_time=60.0, flask_vacuum_time=60.0
    )
    found = resolver.resolve(facts).facts

    assert found["idle before gloss-off"] == pytest.approx(210.0)
    assert found["idle excess"] == pytest.approx(105.0)
    assert found["needed mixing time"] == pytest.approx(232.5)
    assert found["flask vacuum must end"] == pytest.approx(495.0)


@pytest.mark.parametrize(("diameter", "least", "most"), [(51, 60, 90), (64, 90, 120), (76, 110, 130), (102, 120, 180)])
def test_rest_follows_the_trades_table(resolver: Resolver, diameter: int, least: float, most: float) -> None:
    # common practice: 1 h small, 1 1/2 to 2 h normal, 2 to 3 h from 100 mm
    found = resolver.resolve(told(flask_diameter=diameter / 1000)).facts

    assert least * 60 <= float(found["needed rest"]) <= most * 60  # type: ignore[arg-type]


def test_the_old_recipe_of_boric_acid_by_the_gallon_comes_out_by_the_powder(resolver: Resolver) -> None:
    # common practice: 150 g to a US gallon of 3.785 l is 39.63 g/l, at 40 ml to 100 g of powder 1.585 % of it
    found = resolver.resolve(
        told(flask_diameter=0.0762, flask_height=0.1016, label_water=40.0, boric_acid_share=0.01585)
    ).facts

    assert float(str(found["needed boric acid"])) / float(str(found["needed water"])) == pytest.approx(
        0.150 / 3.785411784, rel=1e-3
    )


def test_boric_acid_asks_for_three_hours(resolver: Resolver) -> None:
    found = resolver.resolve(told(flask_diameter=0.051, boric_acid_share=0.015)).facts

    assert found["needed rest"] == 3 * 3600.0


def test_a_thin_end_shows(resolver: Resolver) -> None:
    # common practice: a quarter of the diameter; plate formula: 0.75 x 90 kPa x (44.45/12)^2
    facts = told(flask_diameter=0.0889, end_cover=0.012, gap_to_flask_wall=0.008, **{"vacuum at pour": 90e3})
    found = resolver.resolve(facts).facts

    assert found["needed end cover"] == pytest.approx(0.022225)
    assert found["end cover margin"] == pytest.approx(-0.010225)
    assert found["end plate stress"] == pytest.approx(0.75 * 90e3 * (44.45 / 12) ** 2, rel=1e-6)
    assert found["wall gap margin"] == pytest.approx(-0.002)


def test_gaps_that_leave_no_tree_are_refused(resolver: Resolver) -> None:
    refused = resolver.resolve(told(flask_diameter=0.05, flask_height=0.06, end_cover=0.1, gap_to_flask_wall=0.03))

    assert "leaves no room for a tree" in refused.refused["end cover"].what
    assert "leaves no tree" in refused.refused["wall gap"].what


@given(st.floats(0.03, 0.15), st.floats(0.03, 0.25), st.floats(30.0, 50.0))
@settings(deadline=None, max_examples=25)
def test_powder_goes_with_the_flask_and_water_with_powder(
    resolver: Resolver, diameter: float, height: float, label: float
) -> None:
    one = resolver.resolve(told(flask_diameter=diameter, flask_height=height, label_water=label)).facts
    two = resolver.resolve(told(flask_diameter=diameter, flask_height=2 * height, label_water=label)).facts

    assert one["room in the flask"] == pytest.approx(pi / 4 * diameter**2 * height)
    assert two["needed powder"] == pytest.approx(2 * float(one["needed powder"]))  # type: ignore[arg-type]
    assert one["needed water"] == pytest.approx(float(one["needed powder"]) * label / 100)  # type: ignore[arg-type]


def test_every_calculator_says_only_what_it_knows_and_gives_only_what_it_promised(
    base: RuleBase, resolver: Resolver
) -> None:
    ran = set()
    for extra in ({}, {"hands-off time": 480.0, "water ratio": 40.0, "barometer": 84000.0}):
        facts = FULL | extra
        for left_out in ((), ("powder weight",), ("mixing time",)):
            found = resolver.resolve({k: v for k, v in facts.items() if k not in left_out})
            for done in {id(c): c for c in found.computed.values()}.values():
                check_words(base, done.calculator, {**done.inputs, **done.results}, done.results)
                ran.add(done.calculator.name)
    assert ran == {c.name for c in CALCULATORS}


def check_words(base: RuleBase, calculator: object, known: dict[str, Value], results: dict[str, Value]) -> None:
    """Check one run: names promised, numbers finite, sentences that hold only known facts."""
    assert set(results) <= set(calculator.gives)  # type: ignore[attr-defined]
    for name, value in results.items():
        assert name in base.words.derived
        if isinstance(value, str):
            assert value in base.words.derived[name].answers
        else:
            assert all(isfinite(v) for v in (value if isinstance(value, tuple) else (value,)))
    for sentence in calculator.says(known):  # type: ignore[attr-defined]
        assert set(re.findall(r"\{([^}|]*)[^}]*\}", sentence)) <= set(known)
        assert sentence.endswith(".")
