"""The burnout calculators through the shipped rules: worked cases, contradictions, and every sentence they say."""

from __future__ import annotations

import re
from math import isfinite

import pytest

from diagnose.derive import (
    burnout_check,
    burnout_dry,
    burnout_middle,
    burnout_plan,
    investment_mix,
    investment_vacuum,
)
from diagnose.derive.calculator import Calculator, Value
from diagnose.derive.resolve import Resolver
from diagnose.errors import OutOfRange
from diagnose.rulebase.load import RuleBase

BURNOUT = (
    *burnout_check.CALCULATORS,
    *burnout_dry.CALCULATORS,
    *burnout_middle.CALCULATORS,
    *burnout_plan.CALCULATORS,
)
CALCULATORS = (*BURNOUT, *investment_mix.CALCULATORS, *investment_vacuum.CALCULATORS)
C, HOUR, MINUTE = 273.15, 3600.0, 60.0
PLASTER = {"investment": "gypsum investment"}
FLASK = PLASTER | {"flask diameter": 0.0762, "flask height": 0.1016}


def celsius(*temperatures: float) -> tuple[float, ...]:
    return tuple(t + C for t in temperatures)


def cycle(temperatures: tuple[float, ...], hours: tuple[float, ...], ramps: tuple[float, ...]) -> dict[str, Value]:
    """Recorded burnout from degrees C, hours and degrees C a minute."""
    return {
        "burnout hold temperatures": celsius(*temperatures),
        "burnout hold times": tuple(h * HOUR for h in hours),
        "burnout ramps": tuple(r / MINUTE for r in ramps),
    }


GOOD = cycle((150, 250, 370, 732, 540), (2.5, 0, 2, 3.5, 1.5), (1.4, 1.4, 1.5, 1.5, 1.5))


@pytest.fixture(scope="module")
def resolver(base: RuleBase) -> Resolver:
    return Resolver(CALCULATORS, base.words.settings, base.words.slots)


def value(facts: dict[str, Value], name: str) -> float:
    found = facts[name]
    assert isinstance(found, float)
    return found


@pytest.mark.parametrize("inches", [2.0, 2.5, 3.0, 3.5, 4.0])
@pytest.mark.parametrize("extra", [{}, {"printed resin share": 1.0}, {"kiln fill": 0.9}, {"steam dewax time": 1800.0}])
def test_a_plan_put_back_as_a_record_is_accused_of_nothing(
    resolver: Resolver, inches: float, extra: dict[str, Value]
) -> None:
    flask = (
        PLASTER | extra | {"flask diameter": inches * 0.0254, "flask height": 0.1016, "pour hold temperature": C + 540}
    )
    plan = resolver.resolve(flask).facts
    record = {f"burnout {what}": plan[f"planned {what}"] for what in ("hold temperatures", "hold times", "ramps")}
    found = resolver.resolve(flask | record).facts

    assert value(found, "ramp use") <= 1.0 + 1e-6
    assert value(found, "wet ramp use") <= 1.0 + 1e-6
    assert value(found, "drying shortfall") == 0.0
    assert value(found, "top temperature margin") > 0.0
    assert value(found, "clean burning margin") > 0.0
    assert value(found, "top hold shortfall") <= 1e-6
    assert value(found, "soak margin") >= 0.0
    assert abs(value(found, "core off kiln")) <= 12.0
    assert found["burnout time"] == pytest.approx(plan["planned burnout time"])


def test_resin_and_full_kilns_get_time_and_never_heat(resolver: Resolver) -> None:
    plain = resolver.resolve(FLASK).facts
    dirty = resolver.resolve(FLASK | {"printed resin share": 1.0, "kiln fill": 1.0}).facts

    assert dirty["planned top temperature"] == plain["planned top temperature"]
    # common practice: 1 to 2 h for resin, 1 h for a packed kiln
    assert value(dirty, "planned top hold") - value(plain, "planned top hold") == pytest.approx(2.5 * HOUR)


def test_no_plaster_plan_reaches_the_ceiling_of_750(resolver: Resolver) -> None:
    # abstract of Strydom et al. 1997: sulfide forms from 750 degrees C where iron oxide helps
    for extra in ({}, {"printed resin share": 1.0}, {"kiln fill": 1.0}, {"stone heat limit": C + 454}):
        top = max(resolver.resolve(FLASK | extra).facts["planned hold temperatures"])  # type: ignore[type-var]
        assert top <= C + 735


def test_stones_hold_the_top_down_and_the_hold_long(resolver: Resolver) -> None:
    # common practice: plain plaster never over 454 degrees C with stones, 10 to 14 h
    found = resolver.resolve(FLASK | {"stone heat limit": C + 454}).facts

    assert found["planned top temperature"] == pytest.approx(C + 454)
    assert 10 * HOUR <= value(found, "planned top hold") <= 14 * HOUR


def test_phosphate_goes_hotter_and_quicker_than_plaster(resolver: Resolver) -> None:
    # common practice: 5 degrees C a minute to 300, hold half an hour; top 750 to 900
    found = resolver.resolve(FLASK | {"investment": "phosphate investment"}).facts

    assert C + 750 <= value(found, "planned top temperature") <= C + 900
    assert C + 300 in found["planned hold temperatures"]  # type: ignore[operator]
    assert value(found, "gentle ramp limit") <= 5 / MINUTE + 1e-9
    assert value(found, "planned burnout time") < value(resolver.resolve(FLASK).facts, "planned burnout time")


def test_the_kiln_starts_in_time(resolver: Resolver) -> None:
    found = resolver.resolve(FLASK | {"pour hold temperature": C + 540, "pour clock time": 10 * HOUR}).facts

    back = value(found, "kiln start clock time") + value(found, "planned burnout time")
    assert back - 24 * HOUR * value(found, "days before the pour") == pytest.approx(10 * HOUR)


@pytest.mark.parametrize("pour", [60, 720])
def test_a_pour_too_cold_or_too_hot_for_plaster_gets_no_plan(resolver: Resolver, pour: float) -> None:
    with pytest.raises(
        OutOfRange, match=r"not between the 393\.15 K and 973\.15 K .* takes up water and spits, hotter it breaks"
    ):
        resolver.run_one("burnout plan", FLASK | {"pour hold temperature": C + pour})


def test_a_hot_quick_burnout_is_seen_through(resolver: Resolver) -> None:
    record = cycle((150, 370, 765, 540), (1, 0.5, 1.5, 0.25), (5, 4, 4, 4))
    found = resolver.resolve(FLASK | record).facts

    assert found["true top temperature"] == pytest.approx(C + 765)
    assert found["top temperature margin"] == pytest.approx(-15.0)
    # 4 degrees a minute against 1.5 while wet; 5 before the first hold
    assert value(found, "wet ramp use") == pytest.approx(5 / 1.5, rel=1e-6)
    # Carslaw & Jaeger: 50 K x 4a / R^2 with 0.18 mm2/s is 1.49 degrees a minute for a long mold; ends help some
    assert 4 / 1.49 * 0.85 <= value(found, "ramp use") <= 4 / 1.49
    assert value(found, "drying shortfall") > 0.0
    assert found["top hold shortfall"] == pytest.approx(3.25 * HOUR - 1.5 * HOUR)
    # after cooling, too short a soak leaves the middle hotter than the kiln
    assert value(found, "core off kiln") > 12.0
    assert value(found, "soak margin") < 0.0


def test_a_kiln_that_reads_low_hides_an_overheated_mold(resolver: Resolver) -> None:
    facts = FLASK | {"burnout top temperature": C + 735, "kiln offset": 25.0}

    assert resolver.resolve(facts).facts["top temperature margin"] == pytest.approx(750 - 760)


def test_drying_at_370_follows_the_balance_by_hand(resolver: Resolver) -> None:
    # 0.4186 g of water in 0.7946 ml a gram of powder: 526.8 kg/m3; x 2256.5 kJ/kg x R^2 / (4 x 0.23 W/m/K)
    dose = (0.40 + 0.30 * 0.5 * 18.015 / 145.142) / (1 / 2540 + 0.40 / 997.8) * 2256.5e3 * 0.0381**2 / (4 * 0.23)
    record = cycle((150, 370, 732), (0, 1, 3), (30, 30, 30))
    found = resolver.resolve(FLASK | record).facts
    # a minute or so of ramps besides
    ramps = (50.0**2 / 2 / 30 + (270.0**2 - 50.0**2) / 2 / 30) * 60

    assert found["drying done"] == pytest.approx((270 * HOUR + ramps) / dose, rel=2e-3)
    assert value(found, "needed dry hold") == pytest.approx((dose - ramps) / 270, rel=5e-3)


def test_two_hours_at_150_do_not_dry_a_3_inch_flask(resolver: Resolver) -> None:
    # by hand: 8 to 13 h at 150 degrees C for 0.25 to 0.15 W/m/K and free water alone
    found = resolver.resolve(FLASK | cycle((150,), (2,), (1.5,))).facts

    assert 2 / 13 < value(found, "drying done") < 2 / 8
    assert value(found, "drying shortfall") == pytest.approx(1 - value(found, "drying done"))


def test_the_last_hold_alone_tells_the_middle(resolver: Resolver) -> None:
    # Carslaw & Jaeger, 732 -> 500 degrees C, 0.3 mm2/s, long mold, 30 min: 543.2 degrees C
    facts = PLASTER | {
        "flask diameter": 0.0762, "measured diffusivity": 3e-7, "burnout top temperature": C + 732,
        "pour hold temperature": C + 500, "pour soak time": 30 * MINUTE,
    }  # fmt: skip
    found = resolver.resolve(facts).facts

    assert found["flask core temperature"] == pytest.approx(C + 543.2, abs=0.1)
    assert value(found, "needed soak") == pytest.approx(48 * MINUTE, rel=0.01)


def test_half_a_step_in_the_middle_replaces_the_estimate(resolver: Resolver) -> None:
    # 0.2005 R^2 / a by the series
    found = resolver.resolve(FLASK | {"core half time": 0.2005 * 0.0381**2 / 2.2e-7}).facts

    assert found["measured diffusivity"] == pytest.approx(2.2e-7, rel=1e-3)


def test_outer_pieces_cool_on_the_way_and_the_middle_does_not(resolver: Resolver) -> None:
    # worked out for 76.2 mm, k 0.4, a 3e-7, h 45, out of 550 degrees C into 20: after 1 min 438 at 3 mm, 498 at 6 mm;
    # after 3 min 331 and 394; the middle 550 and 548
    facts = PLASTER | {
        "flask diameter": 0.0762, "measured diffusivity": 3.07e-7, "investment conductivity": 0.4,
        "flask temperature": C + 550, "flask air cooling": 45.0,
    }  # fmt: skip
    for minutes, depth, celsius_there in ((1, 3, 438), (1, 6, 498), (3, 3, 331), (3, 6, 394)):
        more: dict[str, Value] = {"kiln to pour time": minutes * MINUTE, "gap to flask wall": depth / 1000}
        found = resolver.resolve(facts | more).facts
        assert found["flask temperature at pour"] == pytest.approx(C + celsius_there, abs=6.0)
        assert found["core temperature at pour"] == pytest.approx(C + 549, abs=2.0)


@pytest.mark.parametrize(
    ("fired", "dryness"),
    [(0.9814, "dry"), (0.9895, "cannot tell"), (1.0, "plaster water left"), (1.055, "free water left")],
)
def test_weighing_tells_how_dry_it_is(resolver: Resolver, fired: float, dryness: str) -> None:
    # stoichiometry with 30 % plaster: 0.981 fired, 1.000 half-hydrate, 1.056 dried only
    facts = PLASTER | {"empty flask weight": 0.4, "fired flask weight": 0.4 + 0.6 * fired, "powder in the flask": 0.6}

    assert resolver.resolve(facts).facts["mold dryness"] == dryness


def test_wet_molds_say_how_much_steam(resolver: Resolver) -> None:
    facts = PLASTER | {"empty flask weight": 0.4, "fired flask weight": 1.0, "powder in the flask": 0.6}
    found = resolver.resolve(facts).facts
    # 1.862 % of 600 g; 1.673 l of steam a gram (steam tables)
    assert found["water left by weight"] == pytest.approx(0.01117, rel=1e-3)
    assert value(found, "steam from it") * 1000 == pytest.approx(11.17 * 1.673, rel=2e-3)


def test_a_gram_of_wax_draws_twelve_litres(resolver: Resolver) -> None:
    # 20 % of 50 g stays: 10 g x 12.28 l; twice through a 30 l kiln at 500 degrees C 10.8 x 1.28 times
    facts = {"tree wax weight": 0.050, "kiln volume": 0.030, "vent height": 0.4, "vent area": 1e-4}
    found = resolver.resolve(facts).facts

    assert found["wax left to burn"] == pytest.approx(0.010)
    assert found["air to burn the wax"] == pytest.approx(0.1228, rel=1e-3)
    assert value(found, "kiln refills") == pytest.approx(0.1228 / 0.030 * 773.15 / 293.15, rel=2e-3)
    assert value(found, "vent use") == pytest.approx(value(found, "needed vent area") / 1e-4)


def test_one_percent_of_a_mold_is_ten_ppm(resolver: Resolver) -> None:
    # 583.3 g of powder: 164 g of sulfate; 1 % of it is 0.295 l of gas in 30 m3
    found = resolver.resolve(PLASTER | {"powder weight": 0.5833}).facts

    assert value(found, "sulfate in the mold") == pytest.approx(0.1641, rel=2e-3)
    assert value(found, "sulfur dioxide in the room") * 1e6 == pytest.approx(9.83, abs=0.05)


@pytest.mark.parametrize(
    "record",
    [
        {"burnout hold temperatures": celsius(150, 732), "burnout hold times": (HOUR,)},
        cycle((150, 732), (1, 1), (2,)),
        cycle((150, 732), (1, 1), (2, 0)),
        cycle((150, 1400), (1, 1), (2, 2)),
    ],
)
def test_records_that_contradict_themselves_are_refused_and_not_guessed(
    resolver: Resolver, record: dict[str, Value]
) -> None:
    found = resolver.resolve(FLASK | record)

    assert found.refused
    assert "flask core temperature" not in found.facts


def test_a_flask_that_weighs_less_than_nothing_is_refused(resolver: Resolver) -> None:
    facts = PLASTER | {"empty flask weight": 0.9, "fired flask weight": 0.8, "powder in the flask": 0.6}

    assert "mold dryness" in resolver.resolve(facts).refused


def test_every_calculator_says_only_what_it_knows_and_gives_only_what_it_promised(
    base: RuleBase, resolver: Resolver
) -> None:
    full: dict[str, Value] = FLASK | {
        "powder weight": 0.64, "water weight": 0.256, "tree wax weight": 0.04, "wax in the flask": 0.04,
        "empty flask weight": 0.4, "filled flask weight": 0.4 + 0.04 + 0.8166, "fired flask weight": 0.9724,
        "kiln to pour time": 60.0, "flask temperature": C + 540, "pour clock time": 9 * HOUR, "core half time": 1200.0,
        "kiln volume": 0.03, "vent height": 0.4, "vent area": 1e-4, "printed resin share": 0.5,
    }  # fmt: skip
    bare = {k: v for k, v in GOOD.items() if k != "burnout ramps"}
    quick = cycle((150, 370, 765, 540), (1, 0.5, 1.5, 0.25), (5, 4, 4, 4))
    alone: dict[str, Value] = {
        "burnout top temperature": C + 760, "burnout top hold": HOUR, "pour hold temperature": C + 540,
        "pour soak time": 600.0, "powder in the flask": 0.5833,
    }  # fmt: skip
    ran = set()
    for extra in (
        GOOD,
        bare,
        quick,
        alone,
        {"flask temperature": C + 80},
        {"flask temperature": C + 710},
        {"kiln offset": 58.0},
    ):
        for done in {id(c): c for c in resolver.resolve(full | extra).computed.values()}.values():
            check_words(base, done.calculator, {**done.inputs, **done.results}, done.results)
            ran.add(done.calculator.name)
    without = {k: v for k, v in full.items() if k != "flask temperature"}
    for done in resolver.resolve(without | GOOD).computed.values():
        check_words(base, done.calculator, {**done.inputs, **done.results}, done.results)
        ran.add(done.calculator.name)
    assert ran >= {c.name for c in BURNOUT}


def check_words(base: RuleBase, calculator: Calculator, known: dict[str, Value], results: dict[str, Value]) -> None:
    """Check one run: names promised, numbers finite, sentences that hold only known facts."""
    assert set(results) <= set(calculator.gives)
    for name, found in results.items():
        assert name in base.words.derived
        if isinstance(found, str):
            assert found in base.words.derived[name].answers
        else:
            assert all(isfinite(v) for v in (found if isinstance(found, tuple) else (found,)))
    for sentence in calculator.says(known):
        assert set(re.findall(r"\{([^}|]*)[^}]*\}", sentence)) <= set(known)
        assert sentence.rstrip("\"'").endswith(".")
