"""Integrals against closed forms and against scipy's adaptive quadrature."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from diagnose.calc.quadrature import integrals_from_zero
from diagnose.errors import OutOfRange


@given(power=st.integers(0, 10), until=st.floats(1e-3, 1e5))
def test_powers_are_exact(power: int, until: float) -> None:
    area = integrals_from_zero(lambda t: (t[:, None] / until) ** power, until)

    assert area[0] == pytest.approx(until / (power + 1), rel=1e-12)


@given(slope=st.floats(0.1, 30.0), until=st.floats(0.5, 20.0))
def test_steep_curves_agree_with_scipy(slope: float, until: float) -> None:
    def curve(t: float) -> float:
        return float(np.exp(-slope / (0.1 + t)))

    area = integrals_from_zero(lambda t: np.exp(-slope / (0.1 + t))[:, None], until)

    assert area[0] == pytest.approx(quad(curve, 0, until, epsabs=0, epsrel=1e-11)[0], rel=1e-4)


def test_several_curves_are_integrated_at_once() -> None:
    areas = integrals_from_zero(lambda t: np.stack([np.cos(t), np.ones_like(t)], axis=1), np.pi / 2)

    assert areas == pytest.approx([1.0, np.pi / 2])


def test_a_corner_is_found() -> None:
    # Area under max(0, t - 1) from 0 to 3 is 2.
    area = integrals_from_zero(lambda t: np.maximum(0.0, t - 1.0)[:, None], 3.0)

    assert area[0] == pytest.approx(2.0, rel=1e-4)


def test_what_has_no_area_is_refused() -> None:
    with pytest.raises(OutOfRange, match="too jagged"):
        integrals_from_zero(lambda t: (1.0 / np.abs(t - 1.0))[:, None], 3.0)
