"""Rates and equivalent times against rules of the trade, published coefficients and scipy's quadrature."""

from __future__ import annotations

from math import exp, log

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.constants import R
from scipy.integrate import quad

from diagnose.calc.kinetics import (
    GAS_CONSTANT,
    Kinetics,
    activation_energy,
    equivalent_time,
    rate_factor,
    state_of_cure,
)
from diagnose.errors import OutOfRange

CELSIUS = 273.15


def test_the_gas_constant_is_the_one_of_codata() -> None:
    assert pytest.approx(R, rel=1e-9) == GAS_CONSTANT


# Factors for ten degrees, worked out separately from the Arrhenius equation with R = 8.314463 (four decimals).
@pytest.mark.parametrize(
    ("energy", "factors"),
    [
        (79.321, (1.7125, 1.6911, 1.6708, 1.9489, 2.8246)),
        (80.0, (1.7204, 1.6988, 1.6781, 1.9601, 2.8499)),
        (90.0, (1.8411, 1.8151, 1.7903, 2.1321, 3.2485)),
        (100.0, (1.9703, 1.9394, 1.9100, 2.3192, 3.7028)),
        (110.0, (2.1086, 2.0722, 2.0377, 2.5228, 4.2207)),
        (120.0, (2.2565, 2.2141, 2.1739, 2.7442, 4.8110)),
        (121.336, (2.2771, 2.2338, 2.1928, 2.7752, 4.8959)),
        (147.7, (2.7229, 2.6600, 2.6006, 3.4642, 6.9138)),
    ],
)
def test_ten_degrees_speed_up_the_cure_as_arrhenius_says(energy: float, factors: tuple[float, ...]) -> None:
    for (low, high), factor in zip(((143, 153), (148, 158), (153, 163), (100, 110), (25, 35)), factors, strict=True):
        found = rate_factor(high + CELSIUS, low + CELSIUS, energy * 1e3)
        assert found == pytest.approx(factor, abs=5e-4)


# J. Appl. Polym. Sci. (hard-rubber blends, abstract): the cure's temperature coefficient is about 2.0 per 10 degrees.
def test_the_usual_activation_energy_doubles_the_rate_per_ten_degrees() -> None:
    assert rate_factor(153 + CELSIUS, 143 + CELSIUS, 100e3) == pytest.approx(2.0, abs=0.05)


@pytest.mark.parametrize(
    ("cooler", "hotter", "kilojoule"),
    [(143, 153, 102.205), (148, 158, 104.647), (145, 153, 128.370), (149, 157, 130.815), (25, 35, 52.949)],
)
def test_doubling_gives_the_activation_energy_worked_out_separately(
    cooler: float, hotter: float, kilojoule: float
) -> None:
    energy = activation_energy(2.0, cooler + CELSIUS, hotter + CELSIUS)

    assert energy / 1e3 == pytest.approx(kilojoule, abs=1e-3)
    assert energy == pytest.approx(R * log(2) / (1 / (cooler + CELSIUS) - 1 / (hotter + CELSIUS)), rel=1e-9)


@pytest.mark.parametrize(("energy", "minutes"), [(80e3, 11.63), (100e3, 10.15), (120e3, 8.86)])
def test_twenty_minutes_ten_degrees_cooler(energy: float, minutes: float) -> None:
    time = equivalent_time((0.0, 1200.0), (143 + CELSIUS, 143 + CELSIUS), 153 + CELSIUS, energy)

    assert time / 60 == pytest.approx(minutes, abs=5e-3)


def test_steps_add_up() -> None:
    # 10 min at 140, 20 at 150, 5 at 160: 4.115 + 16.373 + 7.890 equivalent minutes, worked out separately.
    times = (0.0, 600.0, 600.0, 1800.0, 1800.0, 2100.0)
    readings = tuple(c + CELSIUS for c in (140.0, 140.0, 150.0, 150.0, 160.0, 160.0))

    assert equivalent_time(times, readings, 153 + CELSIUS, 100e3) / 60 == pytest.approx(28.377, abs=1e-3)


@pytest.mark.parametrize(("energy", "minutes"), [(80e3, 3.369), (100e3, 2.786), (120e3, 2.365)])
def test_a_ramp_agrees_with_scipy_and_with_a_separate_sum(energy: float, minutes: float) -> None:
    time = equivalent_time((0.0, 636.0), (100 + CELSIUS, 153 + CELSIUS), 153 + CELSIUS, energy)

    def rate(t: float) -> float:
        return exp(energy / R * (1 / (153 + CELSIUS) - 1 / (100 + CELSIUS + t / 12)))

    assert time == pytest.approx(quad(rate, 0, 636.0, epsrel=1e-12)[0], rel=1e-9)
    assert time / 60 == pytest.approx(minutes, abs=1e-3)


def test_nine_tenths_are_cured_when_first_order_says_so() -> None:
    # First order with 0.40 per minute after 3 minutes: nine tenths at 3 + ln(10)/0.40 = 8.756 min.
    assert 3 + log(10) / 0.40 == pytest.approx(8.756, abs=1e-3)
    assert state_of_cure(6 * 60, 180.0, 8.7565 * 60) == pytest.approx(1 - exp(-0.40 * 3), abs=1e-4)
    assert state_of_cure(120.0, 180.0, 480.0) == 0.0


@given(energy=st.floats(2e4, 2e5), one=st.floats(280, 460), two=st.floats(280, 460), three=st.floats(280, 460))
def test_factors_multiply_along_a_chain_of_temperatures(energy: float, one: float, two: float, three: float) -> None:
    direct = rate_factor(three, one, energy)

    assert rate_factor(three, two, energy) * rate_factor(two, one, energy) == pytest.approx(direct)


@given(energy=st.floats(2e4, 2e5), kelvin=st.floats(280, 460), warmer=st.floats(0.1, 50))
def test_hotter_is_faster_and_energies_come_back(energy: float, kelvin: float, warmer: float) -> None:
    factor = rate_factor(kelvin + warmer, kelvin, energy)

    assert factor > 1.0
    assert activation_energy(factor, kelvin, kelvin + warmer) == pytest.approx(energy, rel=1e-6)


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: rate_factor(50.0, 426.0, 1e5), "the temperature is 50 K"),
        (lambda: rate_factor(426.0, 426.0, 1e7), "activation energy"),
        (lambda: Kinetics(1e5, float("nan")), "reference temperature"),
        (lambda: activation_energy(0.5, 416.0, 426.0), "gives no activation energy"),
        (lambda: activation_energy(2.0, 426.0, 416.0), "gives no activation energy"),
        (lambda: equivalent_time((0.0,), (400.0,), 426.0, 1e5), "make no history"),
        (lambda: equivalent_time((0.0, 1.0), (400.0,), 426.0, 1e5), "make no history"),
        (lambda: equivalent_time((1.0, 0.0), (400.0, 400.0), 426.0, 1e5), "run backwards"),
        (lambda: equivalent_time((0.0, 1.0), (400.0, 900.0), 426.0, 1e5), "a recorded temperature"),
        (lambda: state_of_cure(100.0, 500.0, 400.0), "is not after the start of cure"),
        (lambda: state_of_cure(-1.0, 100.0, 400.0), "the dose"),
    ],
)
def test_what_cannot_be_is_refused(call, says: str) -> None:
    with pytest.raises(OutOfRange, match=says):
        call()
