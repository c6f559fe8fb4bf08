"""Drying of a mold, against water tables, weighings worked out by hand, and the moving front solved numerically."""

from math import log

import CoolProp.CoolProp as coolprop
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from diagnose.calc.dryness import (
    LATENT_HEAT_OF_STEAM,
    drying_dose,
    mold_mass_ratio,
    powder_in_flask,
    steam_volume,
)
from diagnose.errors import OutOfRange


def test_steam_is_that_of_the_steam_tables() -> None:
    # 2256.5 kJ/kg and 1.673 m3/kg at one atmosphere; CoolProp
    def property_of(name: str, quality: float) -> float:
        return float(coolprop.PropsSI(name, "P", 101325.0, "Q", quality, "Water"))

    assert pytest.approx(property_of("H", 1) - property_of("H", 0), rel=1e-4) == LATENT_HEAT_OF_STEAM
    assert steam_volume(0.001) == pytest.approx(0.001 / property_of("D", 1), rel=1e-3)


@pytest.mark.parametrize(("radius", "water", "conductivity"), [(0.0381, 435.0, 0.23), (0.0508, 520.0, 0.15)])
def test_the_dose_is_that_of_a_front_moving_inwards(radius: float, water: float, conductivity: float) -> None:
    # heat through the dry shell of a long cylinder, k dT / (r ln(R/r)), boils the water at its inner face
    over = 50.0

    def speed(_: float, front: list[float]) -> list[float]:
        r = front[0]
        return [-conductivity * over / (water * LATENT_HEAT_OF_STEAM * r * log(radius / r))]

    def nearly_through(_: float, front: list[float]) -> float:
        return float(front[0]) - 1e-3 * radius

    nearly_through.terminal = True  # type: ignore[attr-defined]
    start = radius * (1 - 1e-6)
    found = solve_ivp(speed, (0.0, 1e7), [start], method="LSODA", events=nearly_through, rtol=1e-9, atol=1e-12)
    assert found.t_events[0][0] * over == pytest.approx(drying_dose(radius, water, conductivity), rel=1e-4)


@pytest.mark.parametrize(("diameter", "hours"), [(50.8, 2.5), (63.5, 3.9), (76.2, 5.65), (88.9, 7.7), (101.6, 10.05)])
def test_hours_at_150_degrees_are_those_worked_out_by_hand(diameter: float, hours: float) -> None:
    # 435 kg/m3, 0.35 W/m/K, 50 K over boiling, 2257 kJ/kg: w L R^2 / (4 k dT)
    found = drying_dose(diameter / 2000, 435.0, 0.35) / 50.0 / 3600
    assert found == pytest.approx(hours, rel=0.02)


def test_at_a_conductivity_as_low_as_measured_boards_3_inches_take_8_to_13_hours() -> None:
    # the same by hand for 0.25 and 0.15 W/m/K
    quick, slow = (drying_dose(0.0381, 435.0, k) / 50.0 / 3600 for k in (0.25, 0.15))
    assert quick == pytest.approx(7.9, abs=0.05)
    assert slow == pytest.approx(13.2, abs=0.05)


@given(st.floats(0.01, 0.1), st.floats(50.0, 700.0), st.floats(0.1, 1.0), st.floats(1.0, 2.0))
def test_drying_goes_with_the_square_of_the_size_and_with_the_water(
    radius: float, water: float, conductivity: float, times: float
) -> None:
    one = drying_dose(radius, water, conductivity)
    assert drying_dose(radius * times, water, conductivity) == pytest.approx(one * times**2)
    assert drying_dose(radius, water * times, conductivity) == pytest.approx(one * times)
    assert drying_dose(radius, water, conductivity * times) == pytest.approx(one / times)


def test_weighings_of_a_3_by_4_inch_flask() -> None:
    # by hand: 816.6 g of slurry at 40 for 100 hold 583.3 g of powder; fired 572.4 g
    powder = powder_in_flask(0.8166, 40.0)
    assert powder * 1000 == pytest.approx(583.3, abs=0.05)
    assert mold_mass_ratio(0.5724, powder) == pytest.approx(0.9813, abs=1e-4)


def test_a_part_of_water_less_than_believed_moves_the_ratio_by_seven_in_a_thousand() -> None:
    # by hand: 1.39 kg of slurry, mixed at 39 but believed to be at 40: 0.981 reads as 0.981 x 1.40 / 1.39 = 0.988
    assert mold_mass_ratio(0.981, powder_in_flask(1.39, 40.0)) == pytest.approx(0.988, abs=2e-4)


@pytest.mark.parametrize(("mold", "powder"), [(0.3, 0.6), (1.2, 0.6), (-0.1, 0.6), (0.5, 0.0)])
def test_weights_that_contradict_each_other_are_refused(mold: float, powder: float) -> None:
    with pytest.raises(OutOfRange):
        mold_mass_ratio(mold, powder)


def test_a_metre_of_mold_is_refused() -> None:
    with pytest.raises(OutOfRange, match="radius"):
        drying_dose(0.5, 400.0, 0.2)
