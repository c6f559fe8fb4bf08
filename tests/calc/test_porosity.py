"""Weighing in water against two water packages, worked cases and simulated readings."""

from __future__ import annotations

import CoolProp.CoolProp
import iapws
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.calc.porosity import (
    density_by_weighing,
    mass_for_error,
    open_porosity,
    porosity,
    water_density,
    weighing_error,
)
from diagnose.errors import OutOfRange


@pytest.mark.parametrize("celsius", [0.5, 4, 10, 15, 20, 25, 30, 40, 50, 60])
def test_water_agrees_with_two_packages(celsius):
    kelvin = celsius + 273.15
    found = water_density(kelvin)

    assert found == pytest.approx(iapws.IAPWS95(T=kelvin, P=0.101325).rho, rel=2e-5)
    assert found == pytest.approx(CoolProp.CoolProp.PropsSI("D", "T", kelvin, "P", 101325, "Water"), rel=2e-5)


def test_water_is_densest_at_four_degrees():
    assert max(range(200), key=lambda t: water_density(t / 10 + 273.15)) in (39, 40)


# Worked by hand with water at 0.99821 g/cm3 (20 degC): 10 x 0.99821/0.980 and 5 x 0.99821/0.335.
@pytest.mark.parametrize(
    ("in_air", "in_water", "sound", "density", "percent"),
    [(10.000, 9.020, 10.36, 10.186, 1.68), (5.000, 4.665, 15.45, 14.899, 3.57)],
)
def test_worked_castings(in_air, in_water, sound, density, percent):
    found = density_by_weighing(in_air / 1000, in_water / 1000, 998.21)

    assert found / 1000 == pytest.approx(density, abs=5e-4)
    assert porosity(found, sound * 1000, 0.0) * 100 == pytest.approx(percent, abs=0.006)


@given(volume=st.floats(1e-7, 1e-4), holes=st.floats(0, 0.4), sound=st.floats(7e3, 2.1e4), celsius=st.floats(5, 40))
def test_holes_put_in_are_found(volume, holes, sound, celsius):
    water = water_density(celsius + 273.15)
    in_air = volume * (1 - holes) * sound

    found = density_by_weighing(in_air, in_air - volume * water, water)

    assert porosity(found, sound, 1e-9) == pytest.approx(holes, abs=1e-6)


@given(volume=st.floats(1e-7, 1e-4), filled=st.floats(0, 0.3))
def test_holes_that_fill_are_found(volume, filled):
    in_air, water = volume * 1e4, 998.0
    at_once = in_air - volume * water
    soaked = in_air - volume * (1 - filled) * water

    assert open_porosity(in_air, at_once, soaked, water) == pytest.approx(filled, abs=1e-6)


def test_the_error_is_that_of_many_simulated_weighings():
    # A hundred thousand weighings of a 0.98 cm3 casting with a 0.01 g balance.
    random = np.random.default_rng(1)
    air = 10.000 + random.normal(0, 0.01, 100_000)
    water = 9.020 + random.normal(0, 0.01, 100_000)
    spread = np.std(1 - air * 0.99821 / (air - water) / 10.36)

    found = weighing_error(0.01e-3, 10.000e-3, 9.020e-3)

    # 1.414 x 0.01/0.98 = 1.44 points; a tenth of it for a balance ten times as good.
    assert found * 100 == pytest.approx(1.443, abs=5e-4)
    assert weighing_error(0.001e-3, 10.000e-3, 9.020e-3) == pytest.approx(found / 10)
    # Leaving out the share of the mass in air errs to the safe side, by 7 % here.
    assert spread < found < 1.1 * spread


def test_the_mass_for_half_a_point():
    # 1.414 x 0.01 x 10.36/0.005 = 29.3 g, taking water as 1 g/cm3; 98 g to tell 0.15 points.
    assert mass_for_error(0.01e-3, 0.005, 10360.0, 1000.0) * 1000 == pytest.approx(29.3, abs=0.01)
    assert mass_for_error(0.001e-3, 0.005, 10360.0, 1000.0) * 1000 == pytest.approx(2.93, abs=0.001)
    assert mass_for_error(0.01e-3, 0.0015, 10360.0, 1000.0) * 1000 == pytest.approx(98, abs=0.5)


@given(balance=st.floats(1e-7, 1e-4), error=st.floats(1e-3, 0.1), density=st.floats(5e3, 2e4))
def test_that_mass_has_that_error(balance, error, density):
    mass = mass_for_error(balance, error, density, 998.0)
    lift = mass / density * 998.0

    assert weighing_error(balance, mass, mass - lift) == pytest.approx(error, rel=1e-6)


def test_a_reading_denser_than_sound_within_the_error_is_sound():
    assert porosity(10400.0, 10360.0, 0.01) == 0.0


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: water_density(263.0), "273.15 K to 333.15 K"),
        (lambda: water_density(373.0), "273.15 K to 333.15 K"),
        (lambda: density_by_weighing(9.0e-3, 10.0e-3, 998.0), "exchanged"),
        (lambda: density_by_weighing(0.0, 0.0, 998.0), "mass in air of 0"),
        (lambda: porosity(11000.0, 10360.0, 0.01), "denser than sound"),
        (lambda: porosity(4000.0, 10360.0, 0.01), "not a casting of this metal"),
        (lambda: porosity(10000.0, 10360.0, 0.5), "bigger piece"),
        (lambda: open_porosity(10e-3, 9e-3, 8.9e-3, 998.0), "less than"),
        (lambda: weighing_error(-1e-5, 10e-3, 9e-3), "below zero"),
        (lambda: weighing_error(1e-5, 9e-3, 10e-3), "do not go together"),
        (lambda: mass_for_error(1e-5, 0.005, 900.0, 998.0), "float"),
    ],
)
def test_weights_that_cannot_be_are_refused(call, says):
    with pytest.raises(OutOfRange, match=says):
        call()
