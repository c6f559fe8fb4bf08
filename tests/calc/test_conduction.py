"""Slab heating against textbook tables and worked examples, published rubber checks and a short-time solution."""

from __future__ import annotations

from math import exp, inf, log, pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import erfc

from diagnose.calc.conduction import (
    fourier_at_share,
    fourier_number,
    heating_time,
    mean_missing_share,
    missing_share,
)
from diagnose.errors import OutOfRange

CELSIUS = 273.15

# H. S. Carslaw, J. C. Jaeger, Conduction of Heat in Solids, 1959, sec. 3.3: the series, summed
# separately, term by term, for the middle, half-way out, and the mean.
SERIES = [
    (0.05, 0.99687, 0.88615, 0.74769),
    (0.10, 0.94931, 0.73565, 0.64318),
    (0.15, 0.86422, 0.63252, 0.56305),
    (0.20, 0.77231, 0.55318, 0.49591),
    (0.30, 0.60680, 0.42984, 0.38676),
    (0.50, 0.37078, 0.26219, 0.23605),
    (0.75, 0.20009, 0.14149, 0.12738),
    (1.00, 0.10798, 0.07635, 0.06874),
    (1.50, 0.03144, 0.02223, 0.02002),
    (2.00, 0.00916, 0.00647, 0.00583),
]


@pytest.mark.parametrize(("fourier", "middle", "half_way", "mean"), SERIES)
def test_shares_agree_with_the_series_summed_separately(
    fourier: float, middle: float, half_way: float, mean: float
) -> None:
    assert missing_share(0.0, fourier) == pytest.approx(middle, abs=2e-5)
    assert missing_share(0.5, fourier) == pytest.approx(half_way, abs=2e-5)
    assert mean_missing_share(fourier) == pytest.approx(mean, abs=2e-5)


@pytest.mark.parametrize(("fourier", "error"), [(0.05, 0.129), (0.10, 0.0480), (0.15, 0.0175), (0.20, 0.0065)])
def test_the_one_term_formula_is_as_wrong_early_as_textbooks_warn(fourier: float, error: float) -> None:
    one_term = 4 / pi * exp(-(pi**2) / 4 * fourier)

    assert one_term / missing_share(0.0, fourier) - 1 == pytest.approx(error, abs=6e-4)


# One-term formula solved for the time (Heisler 1947, from memory), good from a Fourier number of 0.2 on.
@pytest.mark.parametrize("share", [0.2, 0.1, 0.05, 0.02, 0.01])
def test_late_fourier_numbers_agree_with_the_one_term_formula(share: float) -> None:
    assert fourier_at_share(share) == pytest.approx(4 / pi**2 * log(4 / pi / share), abs=1e-4)


# The same series, the share halved and a tenth gone, found separately by bisection.
@pytest.mark.parametrize(("share", "fourier"), [(0.9, 0.1302), (0.5, 0.3787), (0.2, 0.7502), (0.01, 1.9643)])
def test_early_and_late_fourier_numbers_agree_with_the_whole_series(share: float, fourier: float) -> None:
    assert fourier_at_share(share) == pytest.approx(fourier, abs=6e-5)


# Two images in a half-space (Carslaw and Jaeger, sec. 2.4), exact to 1e-6 while heat from the far face is on its way.
@given(depth=st.floats(0.0, 1.0), fourier=st.floats(1e-3, 0.08))
def test_early_times_agree_with_the_half_space(depth: float, fourier: float) -> None:
    reach = 2 * sqrt(fourier)
    image = 1 - erfc((1 - depth) / reach) - erfc((1 + depth) / reach)

    assert missing_share(depth, fourier) == pytest.approx(image + erfc((3 - depth) / reach), abs=2e-6)


@given(biot=st.floats(0.05, 50.0), fourier=st.floats(0.01, 0.05))
def test_early_heating_of_a_resisting_face_agrees_with_the_half_space(biot: float, fourier: float) -> None:
    # Carslaw and Jaeger, sec. 2.7 (from memory): surface of a half-space heated through a resistance.
    x = biot * sqrt(fourier)
    surface = float(erfc(x)) * exp(x**2) if x < 20 else 1 / (x * sqrt(pi))

    assert missing_share(1.0, fourier, biot) == pytest.approx(surface, abs=2e-4)


# An inch of gum rubber between platens at 153 degrees C, 0.09 mm2/s, from 23: worked out separately, term by term.
@pytest.mark.parametrize(
    ("minutes", "middle", "quarter"),
    [(10, 80.6, 101.7), (20, 121.3, 130.6), (30, 139.1, 143.2), (40, 146.9, 148.7), (60, 151.8, 152.2)],
)
def test_an_inch_of_rubber_warms_as_worked_out_separately(minutes: float, middle: float, quarter: float) -> None:
    fourier = fourier_number(0.9e-7, minutes * 60, 0.0127)

    assert 153 - 130 * missing_share(0.0, fourier) == pytest.approx(middle, abs=0.06)
    assert 153 - 130 * missing_share(0.5, fourier) == pytest.approx(quarter, abs=0.06)


@pytest.mark.parametrize(
    ("thickness", "target", "minutes"),
    [
        (0.0254, 60, 6.9),
        (0.0254, 100, 13.8),
        (0.0254, 140, 30.8),
        (0.0254, 150, 48.5),
        (0.01905, 80, 5.6),
        (0.01905, 120, 11.0),
        (0.01905, 140, 17.3),
    ],
)
def test_the_middle_reaches_temperatures_when_worked_out_separately(
    thickness: float, target: float, minutes: float
) -> None:
    time = heating_time(thickness / 2, 0.9e-7, 23 + CELSIUS, 153 + CELSIUS, target + CELSIUS)

    assert time / 60 == pytest.approx(minutes, abs=0.06)


def test_contact_of_300_watts_costs_a_thin_mold_little() -> None:
    # One-term formula with the table's root and weight at a Biot number of 18.68.
    biot = 300 * 0.009525 / 0.153
    left = missing_share(0.0, fourier_number(0.9e-7, 2700, 0.009525), biot)

    assert left == pytest.approx(0.00329, abs=2e-5)
    assert 153 - 130 * left == pytest.approx(152.6, abs=0.05)


def test_the_textbook_pipe_wall_example_comes_out() -> None:
    # Incropera and DeWitt, worked example of sec. 5.5 (from memory): printed 42.9 and 45.2 degrees C.
    biot, fourier = 500 * 0.04 / 63.9, 63.9 / (7832 * 434) * 480 / 0.04**2

    assert biot == pytest.approx(0.313, abs=5e-4)
    assert fourier == pytest.approx(5.64, abs=5e-3)
    assert 60 - 80 * missing_share(0.0, fourier, biot) == pytest.approx(42.9, abs=0.3)
    assert 60 - 80 * missing_share(1.0, fourier, biot) == pytest.approx(45.2, abs=0.3)


def test_the_textbook_brass_plate_example_comes_out() -> None:
    # Y. A. Cengel, Heat and Mass Transfer, brass plate in an oven (from memory): 282 by chart, 279 lumped.
    fourier = fourier_number(33.9e-6, 420, 0.02)

    surface = 500 - 480 * missing_share(1.0, fourier, 120 * 0.02 / 110)
    lumped = 500 - 480 * exp(-120 * 33.9e-6 / 110 * 420 / 0.02)
    assert surface == pytest.approx(lumped, abs=0.5)
    assert surface == pytest.approx(279, abs=1.0)


@pytest.mark.parametrize("diffusivity", [0.8e-7, 0.9e-7, 1.1e-7])
def test_moldings_in_a_140_degree_press_warm_as_published(diffusivity: float) -> None:
    # "Thermal diffusivity", Rubber World: 5 mm is at press heat in under 10 min; 50 mm is then only slightly warm in
    # the middle and needs over three hours to get near 140 degrees C.
    def middle(thickness: float, minutes: float) -> float:
        return 140 - 120 * missing_share(0.0, fourier_number(diffusivity, minutes * 60, thickness / 2))

    assert middle(0.005, 10) > 139.9
    assert 20 < middle(0.050, 10) < 30
    assert middle(0.050, 180) < 139.0


# Time of Fo scales with the square of thickness over diffusivity: the founding similarity of heat conduction.
@given(factor=st.floats(0.2, 5.0), biot=st.sampled_from([0.5, 5.0, inf]))
def test_heating_time_scales_with_the_square_of_thickness(factor: float, biot: float) -> None:
    one = heating_time(0.01, 1e-7, 300.0, 400.0, 380.0, biot)

    assert heating_time(0.01 * factor, 1e-7, 300.0, 400.0, 380.0, biot) == pytest.approx(one * factor**2)
    assert heating_time(0.01, 1e-7 / factor, 300.0, 400.0, 380.0, biot) == pytest.approx(one * factor)


@given(depth=st.floats(0, 1), early=st.floats(0.01, 3), later=st.floats(0.01, 3), biot=st.floats(0.01, 100))
def test_less_is_missing_later_and_nearer_the_face(depth: float, early: float, later: float, biot: float) -> None:
    assert missing_share(depth, early + later, biot) <= missing_share(depth, early, biot) + 1e-12
    assert missing_share(1.0, early, biot) <= missing_share(depth, early, biot) + 1e-12


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: missing_share(1.2, 0.5), "the depth is 1.2"),
        (lambda: missing_share(0.0, 1e-7), "too short a time"),
        (lambda: missing_share(0.0, float("nan")), "Fourier number"),
        (lambda: fourier_number(0.0, 60.0, 0.01), "diffusivity"),
        (lambda: fourier_number(1e-7, -1.0, 0.01), "the time"),
        (lambda: heating_time(0.01, 1e-7, 300.0, 400.0, 410.0), "never passes 410 K"),
        (lambda: heating_time(0.01, 1e-7, 300.0, 300.0, 300.0), "never passes"),
        (lambda: heating_time(-0.01, 1e-7, 300.0, 400.0, 350.0), "half the thickness"),
    ],
)
def test_what_cannot_be_is_refused(call, says: str) -> None:
    with pytest.raises(OutOfRange, match=says):
        call()
