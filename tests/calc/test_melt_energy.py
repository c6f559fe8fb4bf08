"""Heat to melt and superheat, against element data of two packages and worked sums."""

from __future__ import annotations

import mendeleev
import pytest
from chemicals import Hfus, Tm
from hypothesis import given
from hypothesis import strategies as st
from scipy.constants import calorie, zero_Celsius
from scipy.integrate import quad

from diagnose.calc.melt_energy import heat_to_pour, melt_time
from diagnose.errors import OutOfRange

CAS = {"Ag": "7440-22-4", "Au": "7440-57-5", "Cu": "7440-50-8"}


def latent(symbol: str) -> float:
    """Heat of fusion of an element from the CRC table in chemicals [J/kg]."""
    return Hfus(CAS[symbol]) / (mendeleev.element(symbol).atomic_weight / 1000)


def specific(symbol: str) -> float:
    """Specific heat of an element at 25 degC from mendeleev [J/kg/K]."""
    return mendeleev.element(symbol).specific_heat_capacity * 1000


def test_a_hundred_grams_of_sterling_take_about_35_kilojoules():
    cp = 0.925 * specific("Ag") + 0.075 * specific("Cu")
    fusion = 0.925 * latent("Ag") + 0.075 * latent("Cu")

    found = heat_to_pour(0.1, cp, fusion, cp, 20 + zero_Celsius, 896 + zero_Celsius, 975 + zero_Celsius)

    # 34.8 kJ by hand from 0.2467 J/g/K, 112.6 J/g and 955 K; 9.67 Wh.
    assert found / 1000 == pytest.approx(34.8, abs=0.1)
    assert found / 3600 == pytest.approx(9.67, abs=0.03)


def test_a_hundred_grams_of_yellow_gold():
    # 0.1743 J/g/K and 87.0 J/g from the same tables, 20 to 1000 degC: 25.8 kJ.
    cp = 0.75 * specific("Au") + 0.125 * specific("Ag") + 0.125 * specific("Cu")
    fusion = 0.75 * latent("Au") + 0.125 * latent("Ag") + 0.125 * latent("Cu")

    found = heat_to_pour(0.1, cp, fusion, cp, 293.15, 1168.15, 1273.15)

    assert found / 1000 == pytest.approx(25.8, abs=0.1)


def test_a_gram_of_sterling_takes_348_joules():
    # 0.2467 J/g/K over 955 K and 112.6 J/g: 348.2 J/g; 10.83 kJ for a troy ounce.
    found = heat_to_pour(1e-3, 246.7, 112.6e3, 246.7, 293.15, 1169.15, 1248.15)
    assert found == pytest.approx(348.2, abs=0.05)
    assert found * 31.1034768 / 1000 == pytest.approx(10.83, abs=0.005)


def silver_cp(t: float) -> float:
    """Specific heat of solid silver [J/kg/K]: 5.09 + 2.04e-3 T + 0.36e5/T^2 cal/mol/K, Kelley 1960, from memory."""
    return (5.09 + 2.04e-3 * t + 0.36e5 / t**2) * calorie / 0.1078682


def test_the_mean_of_a_rising_specific_heat_gives_the_integral():
    melting = Tm(CAS["Ag"])
    area, _ = quad(silver_cp, 293.15, melting)
    mean = area / (melting - 293.15)

    found = heat_to_pour(1.0, mean, latent("Ag"), 310.0, 293.15, melting, melting + 75.0)

    assert found == pytest.approx(area + latent("Ag") + 310.0 * 75.0)
    # With the value at room temperature the sum is 7 to 9 % low.
    low = heat_to_pour(1.0, specific("Ag"), latent("Ag"), specific("Ag"), 293.15, melting, melting + 75.0)
    assert 0.05 < 1 - low / found < 0.10


@given(mass=st.floats(1e-3, 10), cp=st.floats(100, 600), heat=st.floats(2e4, 3e5), over=st.floats(0, 300))
def test_heat_goes_with_mass_and_rises_with_superheat(mass, cp, heat, over):
    def need(m, rise):
        return heat_to_pour(m, cp, heat, cp, 293.15, 1200.0, 1200.0 + rise)

    assert need(2 * mass, over) == pytest.approx(2 * need(mass, over))
    assert need(mass, over + 10) > need(mass, over)


def test_a_kilowatt_at_forty_percent_melts_it_in_a_minute_and_a_half():
    assert melt_time(36e3, 1000.0, 0.4) == 90.0


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: heat_to_pour(0.1, 250.0, 1e5, 250.0, 293.0, 1200.0, 1100.0), "not a way up"),
        (lambda: heat_to_pour(0.1, 250.0, 1e5, 250.0, 1300.0, 1200.0, 1400.0), "not a way up"),
        (lambda: heat_to_pour(-0.1, 250.0, 1e5, 250.0, 293.0, 1200.0, 1400.0), "mass of -0.1"),
        (lambda: heat_to_pour(0.1, 250.0, float("nan"), 250.0, 293.0, 1200.0, 1400.0), "latent heat"),
        (lambda: melt_time(36e3, 0.0, 0.4), "above zero"),
        (lambda: melt_time(36e3, 1000.0, 1.4), "efficiency of 1.4"),
    ],
)
def test_impossible_melts_are_refused(call, says):
    with pytest.raises(OutOfRange, match=says):
        call()
