"""Clamp arithmetic on paper, hardness against a recalled table, and the give of rubber against elasticity."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.constants import psi

from diagnose.calc.clamp import cavity_growth, opening_force, stiffness_from_hardness
from diagnose.errors import OutOfRange


def test_ten_psi_on_four_square_centimeters() -> None:
    # 10 psi is 68 948 Pa; times 4 cm2 is 27.58 N (6.20 lbf), half as much again is 41.37 N.
    force = opening_force(10 * psi, 4e-4)

    assert force == pytest.approx(27.58, abs=5e-3)
    assert 1.5 * force == pytest.approx(41.37, abs=5e-3)


def test_flash_over_the_whole_parting_pushes_21_times_harder() -> None:
    # 48 x 73 mm against a flat ring with its sprue, 167.7 mm2.
    assert opening_force(10 * psi, 3504e-6) == pytest.approx(241.6, abs=0.05)
    assert opening_force(10 * psi, 3504e-6) / opening_force(10 * psi, 167.7e-6) == pytest.approx(20.9, abs=0.01)


# Gent 1958 as recalled, megapascal at 20 to 60 Shore A.
@pytest.mark.parametrize(("shore", "mega"), [(20, 0.73), (30, 1.14), (40, 1.69), (50, 2.46), (60, 3.61)])
def test_stiffness_agrees_with_the_recalled_relation(shore: float, mega: float) -> None:
    assert stiffness_from_hardness(shore) / 1e6 == pytest.approx(mega, abs=6e-3)


@given(outer=st.floats(20.0, 500.0), pressure=st.floats(1e3, 2e5))
def test_a_round_hollow_widens_as_a_thick_cylinder_does(outer: float, pressure: float) -> None:
    # Lame, plane strain, Poisson's ratio one half: bore strain (1 + nu) P / E x b^2 / (b^2 - a^2), with b/a given.
    stiffness = 1.69e6

    thick = 1.5 * pressure / stiffness * outer**2 / (outer**2 - 1)
    assert cavity_growth(pressure, stiffness) == pytest.approx(thick, rel=3e-3)


def test_soft_rubber_gives_more_than_firm() -> None:
    soft, firm = (cavity_growth(10 * psi, stiffness_from_hardness(s)) for s in (30.0, 50.0))

    assert soft > 2 * firm


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: opening_force(-1.0, 1e-4), "the injection pressure"),
        (lambda: opening_force(5e6, 1e-4), "marked for"),
        (lambda: opening_force(1e5, 0.0), "the area that the wax covers"),
        (lambda: stiffness_from_hardness(5.0), "the hardness is 5 Shore A"),
        (lambda: stiffness_from_hardness(95.0), "the hardness"),
        (lambda: cavity_growth(9e5, 1e6), "over the rubber's stiffness"),
        (lambda: cavity_growth(1e5, 0.0), "the rubber's stiffness"),
    ],
)
def test_what_cannot_be_is_refused(call, says: str) -> None:
    with pytest.raises(OutOfRange, match=says):
        call()
