"""Lever rule and as-cast freezing against hand arithmetic, limits and a numerical integral."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad, solve_ivp

from diagnose.calc.phase_diagram import (
    eutectic_in_balance,
    lever_rule,
    scheil_along,
    scheil_liquid_left,
)
from diagnose.errors import OutOfRange

# Invariant of silver-copper, mass % Cu: solid 8.27, liquid 28.41, at 779.1 degC (Hayes, Lukas, Effenberg & Petzow,
# Z. Metallkde 77, 749, 1986, as given by NIST).
SOLID, LIQUID = 0.0827, 0.2841


def test_twenty_percent_copper_is_58_percent_eutectic():
    # (20 - 8.27)/(28.41 - 8.27)
    assert lever_rule(0.20, SOLID, LIQUID) == pytest.approx(11.73 / 20.14)
    assert eutectic_in_balance(0.20, SOLID, LIQUID) == pytest.approx(0.5824, abs=5e-5)
    # The older textbook numbers, 8.8 and 28.1 % Cu.
    assert lever_rule(0.20, 0.088, 0.281) == pytest.approx(0.5803, abs=5e-5)


def test_sterling_in_balance_has_no_eutectic():
    assert eutectic_in_balance(0.075, SOLID, LIQUID) == 0.0


@given(whole=st.floats(0.01, 0.99), one=st.floats(0, 1), other=st.floats(0, 1))
def test_the_two_phases_hold_all_of_the_second_metal(whole, one, other):
    if one == other or not min(one, other) <= whole <= max(one, other):
        with pytest.raises(OutOfRange, match="only one phase"):
            lever_rule(whole, one, other)
        return
    share = lever_rule(whole, one, other)
    assert 0.0 <= share <= 1.0
    assert share * other + (1 - share) * one == pytest.approx(whole, abs=1e-9)


def test_sterling_as_cast_with_a_constant_partition():
    # (28.41/7.5)^(1/(k - 1)) with k = 8.27/28.41
    k = SOLID / LIQUID
    assert scheil_liquid_left(0.075, k, LIQUID) == pytest.approx((28.41 / 7.5) ** (1 / (k - 1)))
    assert scheil_liquid_left(0.075, 0.291, LIQUID) == pytest.approx(0.153, abs=5e-4)


@given(content=st.floats(0.01, 0.2), partition=st.floats(0.05, 0.95), rise=st.floats(1.01, 4))
def test_the_formula_solves_the_mass_balance(content, partition, rise):
    # d ln f = -dc/(c - k c), solved by a general integrator.
    solved = solve_ivp(
        lambda c, log_f: [-1 / (c * (1 - partition))], (content, content * rise), [0.0], rtol=1e-9, atol=1e-12
    )
    assert scheil_liquid_left(content, partition, content * rise) == pytest.approx(math.exp(solved.y[0, -1]), rel=1e-5)


def test_along_real_tie_lines_it_is_the_integral():
    def solid(c):
        return 0.45 * c - 0.55 * c**2  # a partition that falls as the liquid gets richer

    path = [0.075 + (LIQUID - 0.075) * i / 400 for i in range(401)]
    area, _ = quad(lambda c: 1 / (c - solid(c)), 0.075, LIQUID)

    assert scheil_along(path, [solid(c) for c in path]) == pytest.approx(math.exp(-area), rel=1e-4)


@given(content=st.floats(0.02, 0.25))
def test_as_cast_leaves_more_liquid_than_balance(content):
    k = SOLID / LIQUID

    assert scheil_liquid_left(content, k, LIQUID) >= eutectic_in_balance(content, SOLID, LIQUID) - 1e-12


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: lever_rule(0.2, 0.1, 0.1), "only one phase"),
        (lambda: lever_rule(1.2, 0.1, 1.0), "not a share"),
        (lambda: eutectic_in_balance(0.1, 0.3, 0.2), "not below the eutectic"),
        (lambda: eutectic_in_balance(0.4, SOLID, LIQUID), "richer than the eutectic"),
        (lambda: scheil_liquid_left(0.3, 0.3, 0.2), "cannot come from"),
        (lambda: scheil_liquid_left(0.1, 1.2, 0.2), "partition"),
        (lambda: scheil_along([0.1], [0.0]), "not a path"),
        (lambda: scheil_along([0.2, 0.1], [0.0, 0.0]), "richer along"),
        (lambda: scheil_along([0.1, 0.2], [0.1, 0.0]), "not poorer"),
    ],
)
def test_contradictory_diagrams_are_refused(call, says):
    with pytest.raises(OutOfRange, match=says):
        call()
