"""Trapped air, reach, pressure and the temperature window against gas laws and hand arithmetic."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.calc import wax_injection as wax
from diagnose.errors import OutOfRange

PSI, SEA = 6894.757, 101325.0
pressures = st.floats(1e3, 2e5)


@pytest.mark.parametrize(("psi", "left"), [(5, 0.746), (10, 0.595), (15, 0.495)])
def test_air_left_in_a_blind_pocket_by_boyle(psi: float, left: float) -> None:
    assert 1 - wax.pocket_filled(psi * PSI, SEA) == pytest.approx(left, abs=5e-4)


def test_vacuum_does_what_pressure_cannot() -> None:
    # 10 kPa left before a shot of 5 psi: 7.4 % of the pocket stays air, 0.42 of the width
    vacuum = SEA - 10e3
    assert 1 - wax.pocket_filled(5 * PSI, SEA, vacuum) == pytest.approx(0.074, abs=5e-4)
    assert wax.bubble_diameter_ratio(5 * PSI, SEA, vacuum) == pytest.approx(0.42, abs=5e-3)


def test_a_bubble_at_ten_psi_without_vacuum() -> None:
    # 59 % of the volume, 84 % of the diameter
    assert wax.bubble_diameter_ratio(10 * PSI, SEA) == pytest.approx(0.84, abs=5e-3)
    assert wax.bubble_diameter_ratio(10 * PSI, SEA) ** 3 == pytest.approx(0.595, abs=5e-4)


@given(pressures, pressures, st.floats(5e4, 1.08e5))
def test_more_pressure_fills_more_but_never_all(a: float, b: float, air: float) -> None:
    low, high = sorted((a, b))
    assert 0 < wax.pocket_filled(low, air) <= wax.pocket_filled(high, air) < 1


@given(pressures, st.floats(5e4, 1.08e5))
def test_the_trapped_air_keeps_its_product_of_pressure_and_volume(pressure: float, air: float) -> None:
    left = 1 - wax.pocket_filled(pressure, air, 0.5 * air)
    assert left * (air + pressure) == pytest.approx(0.5 * air)


def test_a_full_vacuum_fills_the_pocket() -> None:
    assert wax.pocket_filled(1.0, SEA, SEA) == 1.0


@pytest.mark.parametrize(
    ("change", "ratio"), [((0.5, 1.0), 0.25), ((1.5, 1.0), 2.25), ((1.0, 0.5), 0.71), ((1.0, 2.0), 1.41)]
)
def test_thickness_is_a_stronger_lever_than_pressure(change: tuple[float, float], ratio: float) -> None:
    # flash and thin walls alike: gap squared, pressure only by its root
    assert wax.reach_ratio(change[0], 1.0, change[1], 1.0) == pytest.approx(ratio, abs=5e-3)


@given(st.floats(1e-4, 5e-3), st.floats(1e-4, 5e-3), pressures)
def test_the_pressure_for_the_same_reach_gives_the_same_reach(gap: float, other: float, pressure: float) -> None:
    needed = wax.pressure_for_same_reach(gap, other, pressure)
    assert wax.reach_ratio(gap, other, needed, pressure) == pytest.approx(1.0)


def test_a_lid_of_twenty_centimetres_at_ten_psi() -> None:
    # 68.9 kPa on 314 cm2: about 2.2 kN, the weight of some 220 kg
    assert wax.lid_force(10 * PSI, 0.20) == pytest.approx(2166, abs=1)


def test_the_head_of_wax_is_a_column_of_liquid() -> None:
    assert wax.nozzle_pressure(5 * PSI, 820.0, 0.15) - 5 * PSI == pytest.approx(820 * 9.80665 * 0.15)
    assert wax.nozzle_pressure(5 * PSI, 820.0, -0.05) < 5 * PSI


def test_the_window_is_cut_off_by_the_ceiling() -> None:
    # congealing +4 to +15 K and at most 85 degC (common practice)
    assert wax.temperature_window(335.15, 4.0, 15.0, 358.15) == pytest.approx((339.15, 350.15))
    assert wax.temperature_window(348.15, 4.0, 15.0, 358.15) == pytest.approx((352.15, 358.15))


def test_wax_that_needs_more_than_the_ceiling_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"leaves no room under 358\.15 K"):
        wax.temperature_window(355.15, 4.0, 15.0, 358.15)


@pytest.mark.parametrize(
    "nonsense",
    [
        lambda: wax.temperature_window(335.0, 15.0, 4.0, 358.0),
        lambda: wax.pocket_filled(-1.0, SEA),
        lambda: wax.pocket_filled(1.0, 0.0),
        lambda: wax.pocket_filled(1.0, SEA, SEA + 1.0),
        lambda: wax.reach_ratio(0.0, 1.0, 1.0, 1.0),
        lambda: wax.nozzle_pressure(1.0, 820.0, 5.0),
        lambda: wax.lid_force(1.0, -0.1),
        lambda: wax.wax_mass(0.0, 950.0),
        lambda: wax.pocket_filled(float("nan"), SEA),
    ],
)
def test_impossible_shots_are_refused(nonsense) -> None:
    with pytest.raises(OutOfRange):
        nonsense()
