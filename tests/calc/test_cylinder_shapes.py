"""Bessel functions and roots, against a library and the textbook table."""

from math import inf

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import special

from diagnose.calc.cylinder_shapes import (
    MOST_TERMS,
    bessel,
    bessel_roots,
    round_roots,
    round_terms,
    round_weights,
)
from diagnose.errors import OutOfRange

# F. P. Incropera, D. P. DeWitt, Fundamentals of Heat and Mass Transfer, table 5.1, infinite cylinder (from memory)
TABLE = [
    (0.1, 0.4417, 1.0246),
    (0.5, 0.9408, 1.1143),
    (1.0, 1.2558, 1.2071),
    (2.0, 1.5995, 1.3384),
    (5.0, 1.9898, 1.5029),
    (10.0, 2.1795, 1.5677),
    (20.0, 2.2881, 1.5919),
    (100.0, 2.3809, 1.6015),
]


@pytest.mark.parametrize("order", [0, 1])
def test_bessel_functions_agree_with_a_library(order: int) -> None:
    x = np.linspace(0.0, 650.0, 3001)
    assert bessel(order, x) == pytest.approx(special.jv(order, x), abs=2e-14)


@pytest.mark.parametrize("order", [0, 1])
def test_bessel_roots_agree_with_a_library(order: int) -> None:
    assert bessel_roots(order, MOST_TERMS) == pytest.approx(special.jn_zeros(order, MOST_TERMS), rel=1e-13)


@pytest.mark.parametrize(("biot", "root", "weight"), TABLE)
def test_first_root_and_weight_are_those_of_the_textbook(biot: float, root: float, weight: float) -> None:
    # two rows of the printed table are one off in the last digit
    first = round_roots(biot, 1)
    assert float(first[0]) == pytest.approx(root, abs=1.1e-4)
    assert float(round_weights(first)[0]) == pytest.approx(weight, abs=1.1e-4)


def test_a_surface_held_at_its_temperature_is_the_limit() -> None:
    # 2.4048 and 1.6021 in Incropera and in Cengel
    first = round_roots(inf, 1)
    assert float(first[0]) == pytest.approx(2.404826, abs=1e-6)
    assert float(round_weights(first)[0]) == pytest.approx(1.601975, abs=1e-6)
    assert round_roots(1e9, 50) == pytest.approx(round_roots(inf, 50), rel=1e-8)


@given(st.floats(1e-4, 1e5))
def test_every_root_solves_its_equation_and_none_is_missed(biot: float) -> None:
    roots = round_roots(biot, 40)
    left = roots * special.j1(roots) - biot * special.j0(roots)
    slope = roots * special.j0(roots) + biot * special.j1(roots)
    assert np.abs(left / slope).max() < 1e-10
    assert np.all(np.diff(roots) > 2.5)
    assert np.all(np.diff(roots) < 4.0)


def test_weights_sum_up_to_the_uniform_start() -> None:
    # sum C_n J0(zeta_n r/R) = 1 inside; at half the radius, with a film
    roots = round_roots(3.0, MOST_TERMS)
    assert float(round_weights(roots) @ special.j0(roots * 0.5)) == pytest.approx(1.0, abs=1e-3)


def test_too_short_a_time_is_refused() -> None:
    with pytest.raises(OutOfRange, match="too short a time"):
        round_terms(1e-6)
    with pytest.raises(OutOfRange, match="Biot"):
        round_roots(0.0, 3)
