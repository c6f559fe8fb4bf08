"""What the tree calculators find from recorded settings."""

from __future__ import annotations

import re

import pytest

from diagnose.derive.calculator import Calculator, Facts, Value
from diagnose.derive.tree_gate import CALCULATORS as GATE
from diagnose.derive.tree_layout import CALCULATORS as LAYOUT
from diagnose.errors import OutOfRange
from diagnose.rulebase.load import RuleBase

ALL = (*GATE, *LAYOUT)


def named(name: str) -> Calculator:
    return next(c for c in ALL if c.name == name)


def run(name: str, **facts: Value) -> dict[str, Value]:
    calculator = named(name)
    given = {key.replace("_", " "): value for key, value in facts.items()}
    assert set(calculator.needs) <= set(given) <= {*calculator.needs, *calculator.takes}
    found = calculator.run(given)
    assert set(found) <= set(calculator.gives)
    said = " ".join(calculator.says({**given, **found}))
    assert said
    assert set(re.findall(r"{([^|}]+)[^}]*}", said)) <= set(given) | set(found)
    return found


def chain(section: float, width: float | None, gate: float, gate_width: float | None = None) -> Facts:
    part = run("part modulus", heaviest_section=section, **({} if width is None else {"heaviest_section_width": width}))
    flat = {} if gate_width is None else {"gate_width": gate_width}
    return {**part, **run("gate", part_modulus=part["part modulus"], gate_diameter=gate, **flat)}


def test_the_flat_gate_on_the_thick_rod_freezes_first() -> None:
    # reported failure: 12 mm rod through 6 x 12 mm, factor 0.667 (common practice)
    found = chain(0.012, 0.012, 0.006, 0.012)
    assert found["gate modulus ratio"] == pytest.approx(2 / 3)
    assert found["gate freezes before part"] == "yes"
    assert found["gate time ratio"] == pytest.approx(4 / 9)
    needed = run("needed gate", part_modulus=found["part modulus"], feeding_margin=1.2)
    assert needed["needed gate diameter"] == pytest.approx(0.0144)


def test_the_gate_of_the_reported_shank_freezes_later() -> None:
    # 3.175 mm on 3 x 1.5 mm: factor 1.5875 by arithmetic; whether that casting was sound is not clear
    found = chain(0.0015, 0.003, 0.003175)
    assert found["gate modulus ratio"] == pytest.approx(1.5875)
    assert found["gate freezes before part"] == "no"


def test_the_needed_gate_just_passes_its_own_check() -> None:
    part = run("part modulus", heaviest_section=0.002, heaviest_section_width=0.005)["part modulus"]
    needed = run("needed gate", part_modulus=part, feeding_margin=1.2)["needed gate diameter"]
    assert run("gate", part_modulus=part, gate_diameter=needed)["gate modulus ratio"] == pytest.approx(1.2)


def test_the_trunk_is_thicker_than_its_gates() -> None:
    found = run("trunk", gate_modulus=0.001, trunk_margin=1.1, trunk_diameter=0.008)
    assert found["needed trunk diameter"] == pytest.approx(0.0044)
    assert found["trunk modulus ratio"] == pytest.approx(2.0)


def test_the_worked_button_on_an_eight_millimetre_trunk() -> None:
    # 25 x 10 mm has 2.78 mm, an 8 mm trunk 2.0 mm and needs 2.2 mm; 25 x 10 mm of 10.4 g/cm3 weigh 51 g
    found = run(
        "button",
        button_diameter=0.025,
        trunk_diameter=0.008,
        metal_density=10400.0,
        button_margin=1.1,
        button_weight=0.05105,
    )
    assert found["button height"] == pytest.approx(0.010, abs=1e-5)
    assert found["button modulus"] == pytest.approx(0.00278, abs=5e-6)
    assert found["button modulus ratio"] == pytest.approx(1.39, abs=5e-3)
    assert found["needed button height"] == pytest.approx(2 * 25 * 2.2 / (25 - 8.8) / 1e3)
    assert found["needed button weight"] < 0.05105


@pytest.mark.parametrize(
    ("moduli", "order"),
    [
        ({"part": 0.5, "gate": 0.8, "trunk": 2.0, "button": 2.8}, "right"),
        ({"part": 0.8, "gate": 0.5, "trunk": 2.0, "button": 2.8}, "gate freezes too early"),
        ({"part": 0.5, "gate": 2.1, "trunk": 2.0, "button": 2.8}, "trunk freezes too early"),
        ({"part": 0.5, "gate": 0.8, "trunk": 2.0, "button": 1.5}, "button freezes too early"),
        ({"part": 0.5, "gate": 0.8}, "right"),
    ],
)
def test_the_order_of_freezing_names_the_weak_link(moduli: dict[str, float], order: str, base: RuleBase) -> None:
    found = run("freezing order", **{f"{name}_modulus": m / 1e3 for name, m in moduli.items()})
    assert found == {"freezing order": order}
    assert order in base.words.derived["freezing order"].answers


def test_silver_that_loses_five_percent_needs_over_half_its_volume_to_feed() -> None:
    # a/(e - a) with 0.05 and 0.14 (Campbell, from memory): 0.556
    found = run("feed metal", metal_freezing_shrinkage=0.05, feeder_efficiency=0.14, metal_in_the_tree=0.280)
    assert found["feed metal share"] == pytest.approx(0.556, abs=5e-4)
    assert found["needed feed metal"] == pytest.approx(0.280 * 0.5556, abs=1e-4)


@pytest.mark.parametrize(
    ("gate", "place", "times"), [(2.0, "in the wall", 1.5625), (4.0, "in the gate", 4.0), (1.0, "none", 1.0625**2)]
)
def test_a_gate_on_a_flat_wall(gate: float, place: str, times: float) -> None:
    found = run("gate joint", heaviest_section=0.002, heaviest_section_width=0.020, gate_diameter=gate / 1e3)
    assert found["joint hot spot"] == place
    assert found["joint time ratio"] == pytest.approx(times)


def test_on_a_rod_or_bar_the_joint_is_never_accused() -> None:
    # a gate 1.2 times as thick as the rod it feeds is what the modulus rule asks for
    for width in (0.003, 0.006):
        found = run("gate joint", heaviest_section=0.003, heaviest_section_width=width, gate_diameter=0.0036)
        assert found == {}


def test_legs_that_pass_enough_may_still_be_too_thin_to_feed() -> None:
    part = 0.0005
    found = run(
        "gate legs", gate_legs=2.0, part_modulus=part, feeding_margin=1.2, gate_diameter=0.0028, leg_diameter=0.002
    )
    assert found["needed leg diameter"] == pytest.approx(0.0024)
    assert found["equal area leg diameter"] == pytest.approx(0.0028 * 0.7071, abs=1e-6)
    assert found["leg modulus ratio"] == pytest.approx(1.0)
    assert found["needed stem diameter"] == pytest.approx(0.0024 * 2**0.5)


@pytest.mark.parametrize("legs", [1.0, 2.5])
def test_half_a_leg_is_refused(legs: float) -> None:
    with pytest.raises(OutOfRange, match="no split"):
        run("gate legs", gate_legs=legs, part_modulus=0.001, feeding_margin=1.2)


def test_gaps_in_the_flask() -> None:
    assert run("gap to flask wall", flask_diameter=0.076, tree_diameter=0.060)["gap left at the wall"] == pytest.approx(
        0.008
    )
    tip = run("gap over the tip", flask_height=0.1, tree_height=0.078, base_rise=0.010)
    assert tip["gap left over the tip"] == pytest.approx(0.012)


def test_a_tree_wider_than_the_flask_is_refused() -> None:
    with pytest.raises(OutOfRange, match="does not go into a flask"):
        run("gap to flask wall", flask_diameter=0.05, tree_diameter=0.06)


def test_rows_of_six_round_a_trunk() -> None:
    # six touching disks have their middles on a circle two disks wide
    found = run(
        "parts on the tree",
        part_width=0.016,
        wanted_gap=0.004,
        part_circle=0.040,
        part_height=0.016,
        trunk_length=0.056,
    )
    assert found == {"most parts in a row": 6.0, "most rows": 3.0, "most parts on the tree": 18.0}


def test_the_worked_tree_of_twelve_rings_in_metal() -> None:
    # 12 x 1.8 g + 4.0 g at 0.95 against 10.4 g/cm3: 280.3 g
    found = run(
        "tree weight",
        number_of_parts=12.0,
        wax_shot_weight=0.0018,
        trunk_wax_weight=0.004,
        metal_density=10400.0,
        wax_density=950.0,
        tree_wax_weight=0.0262,
    )
    assert found["added up tree weight"] == pytest.approx(0.0256)
    assert found["added up tree metal"] == pytest.approx(0.2803, abs=5e-5)
    assert found["weighed to added up"] == pytest.approx(1.023, abs=5e-4)


def test_rows_twice_as_thick_freeze_four_times_as_long() -> None:
    found = run("tree order", row_sections=(0.004, 0.003, 0.002))
    assert found == {"tree order": "heavy near the button", "row time ratio": pytest.approx(4.0)}
    with pytest.raises(OutOfRange):
        run("tree order", row_sections=0.004)


def test_metal_falls_as_everything_falls() -> None:
    # 20 cm: 1.98 m/s (free fall); a tree of 280 g of 10.4 g/cm3 is 26.9 cm3
    found = run("sprue flow", metal_head=0.20, trunk_diameter=0.008, metal_in_the_tree=0.280, metal_density=10400.0)
    assert found["metal fall speed"] == pytest.approx(1.981, abs=5e-4)
    assert found["least fill time"] == pytest.approx(26.92e-6 / (50.27e-6 * 1.981), rel=1e-3)


def test_every_name_is_in_the_vocabulary(base: RuleBase) -> None:
    for calculator in ALL:
        for name in (*calculator.needs, *calculator.takes):
            assert base.words.dimension(name) is not None, (calculator.name, name)
        for name in calculator.gives:
            assert name in base.words.derived, (calculator.name, name)
