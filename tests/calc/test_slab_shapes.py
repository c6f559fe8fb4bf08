"""Roots and weights against the textbook's table, and against where each root must lie."""

from __future__ import annotations

from math import cos, inf, pi, sin, sqrt, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.calc.slab_shapes import even_roots, even_weights, odd_roots, terms_needed
from diagnose.errors import OutOfRange

# Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, table 5.1, plane wall (from memory). At a Biot number
# of 2 one printing is remembered with 1.1795 for the weight; its own formula gives 1.1785.
TABLE = [
    (0.01, 0.0998, 1.0017),
    (0.04, 0.1987, 1.0066),
    (0.1, 0.3111, 1.0161),
    (0.2, 0.4328, 1.0311),
    (0.5, 0.6533, 1.0701),
    (1.0, 0.8603, 1.1191),
    (2.0, 1.0769, 1.1785),
    (3.0, 1.1925, 1.2102),
    (4.0, 1.2646, 1.2287),
    (5.0, 1.3138, 1.2402),
    (8.0, 1.3978, 1.2570),
    (10.0, 1.4289, 1.2620),
    (20.0, 1.4961, 1.2699),
    (30.0, 1.5202, 1.2717),
    (50.0, 1.5400, 1.2727),
    (100.0, 1.5552, 1.2731),
    (inf, 1.5708, 1.2732),
]


@pytest.mark.parametrize(("biot", "root", "weight"), TABLE)
def test_first_root_and_weight_agree_with_the_textbook_table(biot: float, root: float, weight: float) -> None:
    roots = even_roots(biot, 1)

    assert roots[0] == pytest.approx(root, abs=1e-4)
    assert even_weights(roots)[0] == pytest.approx(weight, abs=1e-4)


# M. M. Yovanovich's fit for the first root, read in a published worksheet: within a quarter of a percent.
@given(biot=st.floats(0.01, 1000.0))
def test_first_root_agrees_with_a_published_fit(biot: float) -> None:
    fit = (pi / 2) / (1 + ((pi / 2) / sqrt(biot)) ** 2.139) ** (1 / 2.139)

    assert even_roots(biot, 1)[0] == pytest.approx(fit, rel=2.6e-3)


@given(biot=st.floats(1e-4, 1e5), count=st.integers(2, 120))
def test_every_even_root_lies_in_its_interval_and_solves_its_equation(biot: float, count: int) -> None:
    for n, root in enumerate(even_roots(biot, count)):
        assert n * pi < root < n * pi + pi / 2
        assert abs(root * sin(root) - biot * cos(root)) < 1e-9 * (root + biot)


@given(biot=st.floats(1e-4, 1e5), count=st.integers(2, 120))
def test_every_odd_root_lies_in_its_interval_and_solves_its_equation(biot: float, count: int) -> None:
    for n, root in enumerate(odd_roots(biot, count), start=1):
        assert (n - 0.5) * pi < root < n * pi
        assert abs(root * cos(root) + biot * sin(root)) < 1e-9 * (root + biot)


def test_a_long_block_of_roots_is_kept_from_being_written_into() -> None:
    with pytest.raises(ValueError, match="read-only"):
        even_roots(1.0, 3)[0] = 0.0


def test_a_weak_face_leaves_the_slab_at_one_temperature() -> None:
    # Lumped limit: the first root squared tends to the Biot number (any heat transfer text).
    assert even_roots(1e-4, 1)[0] ** 2 == pytest.approx(1e-4, rel=1e-4)
    assert tan(even_roots(1e-4, 1)[0]) == pytest.approx(1e-2, rel=1e-3)


@pytest.mark.parametrize("biot", [0.0, -1.0, float("nan")])
def test_a_face_without_heat_transfer_is_refused(biot: float) -> None:
    with pytest.raises(OutOfRange, match="Biot number"):
        even_roots(biot, 3)
    with pytest.raises(OutOfRange, match="Biot number"):
        odd_roots(biot, 3)


def test_times_too_short_for_the_series_are_refused() -> None:
    with pytest.raises(OutOfRange, match="too short a time"):
        terms_needed(1e-6)
