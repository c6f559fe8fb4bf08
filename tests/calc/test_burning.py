"""Air for burning wax, against atomic weights from a library and the handbook's stack formula."""

from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from molmass import Formula

from diagnose.calc.burning import air_to_burn, kiln_refills, vent_area
from diagnose.errors import OutOfRange


@pytest.mark.parametrize(("formula", "moles", "hydrogen"), [("CH2", 1.5, 2.0), ("C", 1.0, 0.0), ("CH4", 2.0, 4.0)])
def test_air_agrees_with_the_atoms(formula: str, moles: float, hydrogen: float) -> None:
    # dry air is 23.14 % oxygen by mass and weighs 1.204 g/l at 20 degC (CRC Handbook)
    oxygen = moles * Formula("O2").mass / Formula(formula).mass
    assert air_to_burn(1.0, hydrogen) == pytest.approx(oxygen / 0.2314 / 1.204, rel=1e-4)


def test_wax_takes_12_litres_a_gram() -> None:
    # by hand: 3.4218 g of oxygen, 14.787 g of air, 12.28 l
    assert air_to_burn(0.001) * 1000 == pytest.approx(12.28, abs=0.01)
    assert air_to_burn(0.001, 0.0) * 1000 == pytest.approx(9.6, abs=0.05)


def test_10_g_of_residue_fill_a_30_l_kiln_eleven_times() -> None:
    # by hand: 123 l x 773 K / 293 K / 30 l
    assert kiln_refills(air_to_burn(0.010), 0.030, 773.15) == pytest.approx(10.8, abs=0.05)


def test_a_vent_just_warmer_than_the_room_follows_the_stack_formula() -> None:
    # ASHRAE Fundamentals (from memory): Q = C A sqrt(2 g (H/2) (Ti - To) / Ti), neutral level half way up
    height, inside, outside = 0.4, 320.0, 295.0
    area = vent_area(0.001, height, inside, outside)
    assert 0.6 * area * sqrt(9.80665 * height * (inside - outside) / inside) == pytest.approx(0.001, rel=0.05)


@given(st.floats(1e-5, 0.1), st.floats(0.05, 2.0), st.floats(400.0, 1300.0), st.floats(1.1, 4.0))
def test_more_height_takes_less_opening_and_more_air_takes_more(
    flow: float, height: float, inside: float, times: float
) -> None:
    one = vent_area(flow, height, inside, 295.0)
    assert vent_area(flow, min(height * times, 5.0), inside, 295.0) < one
    assert vent_area(flow * times, height, inside, 295.0) == pytest.approx(one * times)


def test_a_cold_kiln_draws_nothing() -> None:
    with pytest.raises(OutOfRange, match="draws no air"):
        vent_area(0.001, 0.4, 300.0, 295.0)


def test_less_than_nothing_does_not_burn() -> None:
    with pytest.raises(OutOfRange):
        air_to_burn(-0.001)
    with pytest.raises(OutOfRange, match="kiln's volume"):
        kiln_refills(0.1, 30000.0, 773.15)
