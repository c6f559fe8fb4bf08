"""Pressure on the metal against quadrature, constants of scipy and plain arithmetic."""

from __future__ import annotations

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.constants import g
from scipy.integrate import quad

from diagnose.calc.pour_pressure import (
    gravity_head,
    spin_acceleration,
    spin_pressure,
    vacuum_pressure,
    vacuum_share,
)
from diagnose.errors import OutOfRange


def rpm(turns: float) -> float:
    return 2 * pi * turns / 60


# A volume of liquid at radius r pushes outwards with rho omega^2 r: the pressure is its integral.
@pytest.mark.parametrize(
    ("density", "turns", "surface", "place", "kilopascal"),
    [
        (9200, 400, 0.18, 0.25, 242.9),
        (9200, 200, 0.18, 0.25, 60.7),
        (9200, 300, 0.18, 0.25, 136.7),
        (9200, 500, 0.18, 0.25, 379.6),
        (15000, 300, 0.18, 0.25, 222.8),
        (7000, 500, 0.02, 0.11, 112.3),
        (9200, 500, 0.20, 0.30, 630.5),
    ],
)
def test_spin_pressure_is_the_integral_of_the_pull(density, turns, surface, place, kilopascal):
    area, _ = quad(lambda r: density * rpm(turns) ** 2 * r, surface, place)

    found = spin_pressure(density, rpm(turns), surface, place)

    assert found == pytest.approx(area)
    assert found / 1000 == pytest.approx(kilopascal, abs=0.06)


def test_the_simpler_formula_would_read_a_sixth_too_high():
    # rho omega^2 r2 (r2 - r1) against the integral: 2 r2/(r1 + r2)
    simple = 9200 * rpm(400) ** 2 * 0.25 * 0.07

    assert simple / spin_pressure(9200, rpm(400), 0.18, 0.25) == pytest.approx(0.5 / 0.43)


@given(density=st.floats(6e3, 2e4), spin=st.floats(5, 100), inner=st.floats(0, 0.3), more=st.floats(0.01, 0.3))
def test_twice_the_speed_is_four_times_the_pressure(density, spin, inner, more):
    once = spin_pressure(density, spin, inner, inner + more)

    assert spin_pressure(density, 2 * spin, inner, inner + more) == pytest.approx(4 * once)
    assert spin_pressure(density, spin, inner, inner + 2 * more) > once


def test_an_arm_at_400_rpm_throws_with_45_times_gravity():
    assert spin_acceleration(rpm(400), 0.25) / g == pytest.approx(44.7, abs=0.05)


def test_a_tenth_of_a_metre_of_silver_presses_with_nine_kilopascal():
    assert gravity_head(9200, 0.1) == pytest.approx(9200 * g * 0.1)
    assert gravity_head(9200, 0.1) / 1000 == pytest.approx(9.022, abs=5e-4)


def test_twenty_six_inches_of_mercury():
    # NIST SP 811: 1 inHg (0 degC) = 3.386389 kPa
    pull = 26 * 3386.389

    assert pull / 1000 == pytest.approx(88.05, abs=0.005)
    assert vacuum_pressure(pull, 9200, 0.0) == pull
    assert vacuum_pressure(pull, 9200, 0.1) - pull == pytest.approx(gravity_head(9200, 0.1))


def test_the_same_gauge_is_a_greater_share_in_the_mountains():
    # International Standard Atmosphere: 101.325 kPa at sea level, 84.56 kPa at 1500 m. 25 inHg = 84.66 kPa.
    pull = 25 * 3386.389

    assert vacuum_share(pull, 101325.0) == pytest.approx(0.836, abs=5e-4)
    assert vacuum_share(pull, 84560.0) == 1.0


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: spin_pressure(9200, 40.0, 0.25, 0.18), "not outside"),
        (lambda: spin_pressure(9200, 0.0, 0.18, 0.25), "spin of 0"),
        (lambda: spin_pressure(9.2, 40.0, 0.18, 0.25), "is 9.2 kg/m3; this holds from 500 kg/m3"),
        (lambda: spin_acceleration(40.0, 0.0), "above zero"),
        (lambda: gravity_head(9200, -0.1), "below zero"),
        (lambda: gravity_head(float("nan"), 0.1), "this holds from 500 kg/m3"),
        (lambda: vacuum_pressure(150e3, 9200, 0.1), "150000 Pa"),
        (lambda: vacuum_share(90e3, 80e3), "more than the air has"),
        (lambda: vacuum_share(20e3, 20e3), "50000 Pa to 110000 Pa"),
    ],
)
def test_impossible_pressures_are_refused(call, says):
    with pytest.raises(OutOfRange, match=says):
        call()


def test_the_pull_at_the_far_end_times_the_length_would_be_a_sixth_too_much():
    # rho omega^2 r2 (r2 - r1) gives 282.5 kPa where the integral gives 242.9.
    wrong = 9200 * rpm(400) ** 2 * 0.25 * 0.07
    assert wrong / 1000 == pytest.approx(282.5, abs=0.05)
    assert spin_pressure(9200, rpm(400), 0.18, 0.25) / wrong == pytest.approx(242.9 / 282.5, rel=1e-3)
