"""Freezing time against a full numerical solution of heat conduction into the mold."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from diagnose.calc.freezing import effective_freezing, freezing_constant, freezing_time, sheet_modulus
from diagnose.errors import OutOfRange

MOLD = (0.5, 1150.0, 1050.0)


def conducted(density, latent, cp, pour, liquidus, end, mold, modulus):
    """Time until solid by the method of lines: metal of even temperature on a deep mold, heat spread over the range."""
    k, rho, c = MOLD
    edges = np.concatenate([[0.0], np.cumsum(np.geomspace(2e-5, 1.5e-3, 120))])
    widths, centres = np.diff(edges), 0.5 * (edges[1:] + edges[:-1])
    of_range = latent + cp * (liquidus - end)

    def temperature(heat):
        if heat >= of_range:
            return liquidus + (heat - of_range) / cp
        return end + heat / of_range * (liquidus - end)

    def rates(_, y):
        first = k * (temperature(y[0]) - y[1]) / (widths[0] / 2)
        flows = np.concatenate([[first], k * (y[1:-1] - y[2:]) / np.diff(centres), [0.0]])
        return np.concatenate([[-first / (density * modulus)], (flows[:-1] - flows[1:]) / (rho * c * widths)])

    def solid(_, y):
        return y[0]

    solid.terminal = True  # type: ignore[attr-defined]
    start = np.concatenate([[of_range + cp * (pour - liquidus)], np.full(len(widths), mold)])
    return solve_ivp(rates, (0, 5000), start, method="BDF", events=solid, rtol=1e-6).t[-1]


# Rounded handbook properties of sterling, 18 k, 10 k, tin bronze and pure silver; the point is the agreement.
@pytest.mark.parametrize(
    ("density", "latent", "cp", "pour", "liquidus", "end"),
    [
        (10370, 113e3, 275, 1253, 1169, 1052),
        (15450, 87e3, 195, 1243, 1168, 1158),
        (11530, 150e3, 300, 1273, 1178, 1058),
        (8760, 193e3, 415, 1353, 1273, 1103),
        (10500, 105e3, 262, 1313, 1235, 1235),
    ],
)
@pytest.mark.parametrize("mold", [723.0, 823.0, 923.0])
def test_the_square_rule_agrees_with_full_conduction(density, latent, cp, pour, liquidus, end, mold):
    modulus = sheet_modulus(1e-3)
    heat = latent + cp * (pour - end)

    constant = freezing_constant(density, heat, effective_freezing(liquidus, end), mold, *MOLD)

    full = conducted(density, latent, cp, pour, liquidus, end, mold, modulus)
    assert freezing_time(constant, modulus) == pytest.approx(full, rel=0.06)


def test_a_hundred_degrees_more_flask_about_doubles_the_time():
    # Trade estimate for sterling between 500 and 600 degC: about twice.
    def constant(mold):
        return freezing_constant(10370, 168e3, 1075.0, mold, *MOLD)

    assert constant(873.0) / constant(773.0) == pytest.approx((302 / 202) ** 2)
    assert 1.8 < constant(873.0) / constant(773.0) < 2.4


def test_a_10_mm_slab_freezes_100_times_slower_than_a_1_mm_sheet():
    assert freezing_time(1e7, sheet_modulus(0.010)) == pytest.approx(100 * freezing_time(1e7, sheet_modulus(0.001)))
    # B of 11 to 47 s/mm2 makes 275 to 1175 s of the slab, whose volume over surface is 5 mm.
    assert freezing_time(11e6, sheet_modulus(0.010)) == pytest.approx(275)
    assert freezing_time(47e6, sheet_modulus(0.010)) == pytest.approx(1175)


@given(mold=st.floats(400, 900), heat=st.floats(5e4, 4e5))
def test_hotter_molds_and_more_heat_take_longer(mold, heat):
    once = freezing_constant(1e4, heat, 1100.0, mold, *MOLD)

    assert freezing_constant(1e4, heat, 1100.0, mold + 20, *MOLD) > once
    assert freezing_constant(1e4, 2 * heat, 1100.0, mold, *MOLD) == pytest.approx(4 * once)


@given(end=st.floats(500, 2000), span=st.floats(0, 249))
def test_the_one_temperature_lies_in_the_range(end, span):
    assert end <= effective_freezing(end + span, end) <= end + span


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: freezing_constant(1e4, 1e5, 1100.0, 1095.0, *MOLD), "20 K colder"),
        (lambda: freezing_constant(1e4, 1e5, 500.0, 800.0, *MOLD), "20 K colder"),
        (lambda: freezing_constant(1e4, 0.0, 1100.0, 800.0, *MOLD), "heat of freezing"),
        (lambda: freezing_constant(1e4, 1e5, float("nan"), 800.0, *MOLD), "20 K colder"),
        (lambda: effective_freezing(1000.0, 1100.0), "not a range"),
        (lambda: effective_freezing(1500.0, 1000.0), "not a range"),
        (lambda: freezing_time(0.0, 1e-3), "freezing constant"),
        (lambda: freezing_time(1e7, -1e-3), "modulus"),
        (lambda: sheet_modulus(0.0), "thickness"),
    ],
)
def test_contradictory_molds_and_metals_are_refused(call, says):
    with pytest.raises(OutOfRange, match=says):
        call()
