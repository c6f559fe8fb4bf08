"""Heat in a round mold, against textbook series and examples and a finite-difference solution."""

from math import exp, inf

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import special
from scipy.integrate import solve_ivp
from scipy.optimize import brentq
from scipy.sparse import diags, identity, kron
from scipy.sparse.linalg import spsolve

from diagnose.calc.flask_heat import (
    Mold,
    air_film,
    fitted_diffusivity,
    mold_missing_share,
    ramp_lag,
    ramp_limit,
    round_missing_share,
    soak_time,
)
from diagnose.errors import OutOfRange

INCH = 0.0254

# H. S. Carslaw, J. C. Jaeger, Conduction of Heat in Solids: axis of a long cylinder, whole series
SERIES = [
    (0.05, 0.98710), (0.1, 0.84836), (0.2, 0.50149), (0.3, 0.28249), (0.4, 0.15849), (0.5, 0.08889),
    (0.6, 0.04985), (0.8, 0.01568), (1.0, 0.00493),
]  # fmt: skip


@pytest.mark.parametrize(("fourier", "share"), SERIES)
def test_the_axis_follows_the_published_series(fourier: float, share: float) -> None:
    assert round_missing_share(0.0, fourier) == pytest.approx(share, abs=6e-6)


@pytest.mark.parametrize(("fourier", "error"), [(0.2, 0.005), (0.1, 0.059), (0.05, 0.21)])
def test_one_term_alone_would_be_wrong_early(fourier: float, error: float) -> None:
    # Incropera's one-term approximation, which textbooks allow from a Fourier number of 0.2
    one_term = 1.6020 * exp(-5.7832 * fourier)
    assert one_term / round_missing_share(0.0, fourier) - 1.0 == pytest.approx(error, rel=0.1)


def library_share(fourier: float) -> float:
    """Share left on the axis, the series summed with a library's Bessel functions."""
    roots = special.jn_zeros(0, 60)
    return float(np.sum(2.0 / (roots * special.j1(roots)) * np.exp(-(roots**2) * fourier)))


# The last five by the one-term formula of the textbooks; one half lies where that formula is already 0.4 % off.
@pytest.mark.parametrize(
    ("share", "fourier"), [(0.5, 0.2005), (0.2, 0.3598), (0.1, 0.4796), (0.05, 0.5995), (0.02, 0.7579), (0.01, 0.8778)]
)
def test_the_time_to_a_share_is_that_of_the_series(share: float, fourier: float) -> None:
    mold = Mold(0.0381, 3e-7)
    found = soak_time(mold, share) * mold.diffusivity / mold.radius**2
    assert found == pytest.approx(fourier, abs=6e-5)
    assert found == pytest.approx(brentq(lambda f: library_share(f) - share, 0.1, 2.0, xtol=1e-12), rel=1e-7)


def test_a_thick_steel_shaft_cools_as_in_the_book() -> None:
    # Y. A. Cengel, Heat and Mass Transfer, problem (from memory): D 350 mm, 400 -> 150 degC, h 60, k 14.9,
    # a 3.95e-6, 20 min: one term 390 degC, and 385.7 degC by the whole series
    share = round_missing_share(0.0, 3.95e-6 * 1200 / 0.175**2, 60 * 0.175 / 14.9)
    assert share == pytest.approx(0.9429, abs=2e-4)
    assert 150 + 250 * share == pytest.approx(385.7, abs=0.1)


def test_a_long_shaft_cools_as_in_the_book() -> None:
    # Cengel, long cylindrical shaft (from memory): D 200 mm, 600 -> 200 degC, h 80, k 14.9, 45 min: 364 degC
    # (360 by chart)
    share = round_missing_share(0.0, 1.0665, 0.537)
    assert 200 + 400 * share == pytest.approx(364, abs=0.6)


def test_a_short_brass_cylinder_cools_as_in_the_book() -> None:
    # Cengel, example 4-8 (from memory): D 100, H 120 mm, 120 -> 25 degC, h 60, k 110, a 3.39e-5, 900 s: 63 degC by
    # chart, 0.5198 x 0.7642 by series
    brass = Mold(0.05, 3.39e-5, 0.06)
    share = mold_missing_share(brass, 900.0, 0.0, 60.0, 110.0)
    assert share == pytest.approx(0.5198 * 0.7642, abs=3e-4)
    assert 25 + 95 * share == pytest.approx(62.7, abs=0.1)


@pytest.mark.parametrize(("minutes", "celsius"), [(15, 625.9), (30, 543.2), (45, 514.7), (60, 505.0), (90, 500.6)])
def test_a_3_inch_flask_comes_down_from_the_top_as_the_series_says(minutes: int, celsius: float) -> None:
    # Carslaw & Jaeger's series, worked out separately: 732 -> 500 degC, 0.3 mm2/s
    share = mold_missing_share(Mold(0.0381, 3e-7), minutes * 60.0)
    assert 500 + 232 * share == pytest.approx(celsius, abs=0.1)


@pytest.mark.parametrize(
    ("diameter", "height", "long", "short"), [(2.5, 2.5, 33.6, 25.2), (3.5, 4.0, 65.8, 53.1), (4.0, 8.0, 85.9, 82.6)]
)
def test_ends_shorten_the_soak_as_the_product_solution_says(
    diameter: float, height: float, long: float, short: float
) -> None:
    # product of the series of a long cylinder and a slab (Incropera, sec. 5.8), worked out separately; minutes to 5 %
    radius = diameter * INCH / 2
    assert soak_time(Mold(radius, 3e-7), 0.05) / 60 == pytest.approx(long, abs=0.06)
    assert soak_time(Mold(radius, 3e-7, height * INCH / 2), 0.05) / 60 == pytest.approx(short, abs=0.06)


def test_a_film_of_air_delays_the_middle() -> None:
    # Biot 8.57: first root and weight from scipy give 19.9 min to one half at 76.2 mm, against 16.2 without
    mold = Mold(0.0381, 3e-7)
    share = mold_missing_share(mold, 19.9 * 60, 0.0, 90.0, 0.4)
    assert share == pytest.approx(0.5, abs=2e-3)


def cooled(radius: float, diffusivity: float, conductivity: float, film: float, time: float, points: int) -> np.ndarray:
    """Share of a step left in a long cylinder, on a grid of rings from axis to surface, by finite volumes."""
    edges = np.linspace(0.0, radius, points + 1)
    middles = 0.5 * (edges[1:] + edges[:-1])
    width = radius / points
    volume = 0.5 * (edges[1:] ** 2 - edges[:-1] ** 2)
    outer = radius / (1.0 / film + 0.5 * width / conductivity) * diffusivity / conductivity

    def change(_: float, state: np.ndarray) -> np.ndarray:
        flow = diffusivity * edges[1:-1] * np.diff(state) / width
        total = np.concatenate((flow, [-outer * state[-1]]))
        total[1:] -= flow
        return total / volume

    found = solve_ivp(change, (0.0, time), np.ones(points), method="LSODA", rtol=1e-9, atol=1e-11)
    assert middles[0] == pytest.approx(0.5 * width)
    return found.y[:, -1]


@pytest.mark.parametrize(("seconds", "film"), [(60.0, 45.0), (600.0, 45.0), (1800.0, 90.0)])
def test_every_depth_agrees_with_finite_differences(seconds: float, film: float) -> None:
    radius, diffusivity, conductivity, points = 0.0381, 1.8e-7, 0.23, 400
    mold = Mold(radius, diffusivity)
    state = cooled(radius, diffusivity, conductivity, film, seconds, points)
    for ring in (0, 100, 200, 300, 360, 395):
        place = (ring + 0.5) * radius / points
        ours = mold_missing_share(mold, seconds, place, film, conductivity)
        assert ours == pytest.approx(state[ring], abs=3e-4)


@pytest.mark.parametrize("reach", [0.6, 1.0, 1.33, 2.5])
def test_the_lag_on_a_ramp_agrees_with_finite_differences(reach: float) -> None:
    # steady lag u: laplacian(u) = -b/a, u = 0 on the surface; one quarter of the mold on a grid
    radius, diffusivity, rate = 0.04, 2e-7, 0.03
    half, n, m = reach * radius, 120, 120
    dr, dz = radius / n, half / m
    r = (np.arange(n) + 0.5) * dr
    inner, outer = (r - 0.5 * dr) / r / dr**2, (r + 0.5 * dr) / r / dr**2
    down = -(inner + outer)
    down[-1] -= outer[-1]
    across = diags([inner[1:], down, outer[:-1]], [-1, 0, 1])
    middle = np.full(m, -2.0)
    middle[0], middle[-1] = -1.0, -3.0
    along = diags([np.ones(m - 1), middle, np.ones(m - 1)], [-1, 0, 1]) / dz**2
    operator = kron(across, identity(m)) + kron(identity(n), along)
    lag = spsolve(operator.tocsr(), np.full(n * m, -rate / diffusivity))[0]
    assert ramp_lag(Mold(radius, diffusivity, half), rate) == pytest.approx(lag, rel=2e-3)


def test_the_lag_of_a_3_inch_flask_is_that_of_the_handbook_formula() -> None:
    # Carslaw & Jaeger: b R^2 / 4a; 3 K/min, 76.2 mm, 0.3 mm2/s: 60.5 K
    assert ramp_lag(Mold(0.0381, 3e-7), 0.05) == pytest.approx(60.5, abs=0.05)


@pytest.mark.parametrize(("diameter", "limit"), [(2.0, 5.6), (2.5, 3.6), (3.0, 2.5), (3.5, 1.8), (4.0, 1.4)])
def test_the_ramp_for_50_degrees_of_lag_falls_with_the_square_of_the_size(diameter: float, limit: float) -> None:
    # 50 K x 4a / R^2 by hand, 0.3 mm2/s, degrees a minute
    assert ramp_limit(Mold(diameter * INCH / 2, 3e-7), 50.0) * 60 == pytest.approx(limit, abs=0.06)


def test_with_the_diffusivity_of_measured_boards_the_limit_is_half_of_that() -> None:
    # by hand: 1.8e-7 at 76.2 mm: 1.49 degrees a minute
    assert ramp_limit(Mold(0.0381, 1.8e-7), 50.0) * 60 == pytest.approx(1.49, abs=0.005)


@pytest.mark.parametrize(("diameter", "minutes"), [(63.5, 11.3), (76.2, 16.2), (88.9, 22.1)])
def test_half_a_step_tells_the_diffusivity(diameter: float, minutes: float) -> None:
    # one-term formula by hand for 0.3 mm2/s: 0.2013 R^2 / a, itself 0.4 % long
    assert fitted_diffusivity(diameter / 2000, minutes * 60) == pytest.approx(3e-7, rel=8e-3)
    half = brentq(lambda f: library_share(f) - 0.5, 0.1, 1.0) * (diameter / 2000) ** 2 / 3e-7
    assert fitted_diffusivity(diameter / 2000, half) == pytest.approx(3e-7, rel=1e-7)


def test_radiation_and_air_add_up_as_in_the_book() -> None:
    # Incropera, example 1.2 (from memory): 421 W/m of radiation and 577 W/m of convection from a 70 mm pipe
    whole = air_film(473.15, 298.15, 0.8, 15.0) * np.pi * 0.070 * 175.0
    assert whole == pytest.approx(421 + 577, rel=2e-3)


@given(st.floats(0.02, 0.08), st.floats(1e-7, 5e-7), st.floats(0.5, 4.0), st.floats(60.0, 20000.0))
def test_time_heals_and_size_delays(radius: float, diffusivity: float, reach: float, time: float) -> None:
    mold = Mold(radius, diffusivity, reach * radius)
    now = mold_missing_share(mold, time)
    assert 0.0 <= now <= 1.0 + 1e-9
    assert mold_missing_share(mold, 1.5 * time) <= now + 1e-9
    assert mold_missing_share(Mold(radius * 1.2, diffusivity, reach * radius * 1.2), time) >= now - 1e-9
    assert mold_missing_share(Mold(radius, diffusivity), time) >= now - 1e-9


@given(st.floats(0.02, 0.08), st.floats(1e-7, 5e-7), st.floats(0.01, 0.9), st.floats(1.05, 2.0))
def test_soak_goes_with_the_square_of_the_size(radius: float, diffusivity: float, share: float, times: float) -> None:
    one = soak_time(Mold(radius, diffusivity), share)
    assert soak_time(Mold(radius * times, diffusivity), share) == pytest.approx(one * times**2, rel=1e-6)


@given(st.floats(0.02, 0.08), st.floats(1e-7, 5e-7), st.floats(0.5, 6.0), st.floats(1e-3, 0.2))
def test_ends_only_ever_help_and_long_molds_do_not_feel_them(
    radius: float, diffusivity: float, reach: float, rate: float
) -> None:
    long = ramp_lag(Mold(radius, diffusivity), rate)
    assert ramp_lag(Mold(radius, diffusivity, min(reach * radius, 0.6)), rate) < long * (1 + 1e-9)
    assert ramp_lag(Mold(radius, diffusivity, min(7.0 * radius, 0.6)), rate) == pytest.approx(long, rel=1e-4)


@pytest.mark.parametrize("radius", [-0.01, 38.1, float("nan")])
def test_a_mold_of_no_size_is_refused(radius: float) -> None:
    with pytest.raises(OutOfRange, match="radius"):
        Mold(radius, 2e-7)


def test_a_point_outside_the_mold_and_a_film_without_conductivity_are_refused() -> None:
    mold = Mold(0.0381, 2e-7)
    with pytest.raises(OutOfRange, match="distance from the axis"):
        mold_missing_share(mold, 100.0, 0.05)
    with pytest.raises(OutOfRange, match="conductivity"):
        mold_missing_share(mold, 100.0, 0.0, 45.0, inf)


def test_a_split_second_near_the_wall_is_refused_and_the_middle_does_not_feel_it() -> None:
    mold = Mold(0.0381, 2e-7)
    with pytest.raises(OutOfRange, match="too short a time"):
        mold_missing_share(mold, 0.1, 0.037)
    assert mold_missing_share(mold, 0.1) == 1.0
