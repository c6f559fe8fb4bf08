"""Scatter, odd readings and trends against scipy's distributions and printed tables."""

from __future__ import annotations

from statistics import fmean

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from diagnose.calc import scatter
from diagnose.errors import OutOfRange

readings = st.lists(st.floats(1.0, 3.0), min_size=5, max_size=15)


@pytest.mark.parametrize("freedom", [1, 2, 5, 9, 30, 200])
@pytest.mark.parametrize("probability", [0.6, 0.95, 0.975, 0.9999])
def test_quantiles_agree_with_scipy(freedom: int, probability: float) -> None:
    assert scatter.student_quantile(probability, freedom) == pytest.approx(stats.t.ppf(probability, freedom), rel=1e-6)
    for p in (probability, 1 - probability):
        assert scatter.chi_square_quantile(p, freedom) == pytest.approx(stats.chi2.ppf(p, freedom), rel=1e-6)


def test_ten_readings_pin_down_the_mean_and_hardly_the_scatter() -> None:
    # any t and chi-square table: 2.262/sqrt(10) and sqrt(9/19.023), sqrt(9/2.700)
    assert scatter.mean_uncertainty(1.0, 10) == pytest.approx(0.715, abs=5e-4)
    assert scatter.scatter_range(1.0, 10) == pytest.approx((0.69, 1.83), abs=5e-3)


@pytest.mark.parametrize(("count", "limit"), [(3, 1.155), (5, 1.715), (8, 2.126), (10, 2.290), (20, 2.709)])
def test_the_limit_for_an_odd_reading_is_the_printed_one(count: int, limit: float) -> None:
    # upper 2.5 % points of Grubbs' table, as in ASTM E178 (from memory)
    assert scatter.grubbs_limit(count) == pytest.approx(limit, abs=2e-3)


def test_an_odd_wax_is_found_and_a_sound_set_left_alone() -> None:
    sound = [1.80, 1.81, 1.79, 1.80, 1.82, 1.80, 1.79, 1.81, 1.80, 1.80]
    assert scatter.odd_reading(sound) is None
    assert scatter.odd_reading([*sound[:4], 1.70, *sound[5:]]) == 4
    assert scatter.odd_reading([1.8] * 6) is None


@given(readings)
def test_the_odd_reading_is_the_one_grubbs_test_picks_in_scipy_terms(values: list[float]) -> None:
    if max(values) - min(values) < 1e-6:
        return
    n, mean, spread = len(values), fmean(values), stats.tstd(values)
    far = max(abs(v - mean) for v in values) / spread
    t = stats.t.ppf(1 - 0.05 / (2 * n), n - 2)
    limit = (n - 1) / n**0.5 * (t * t / (n - 2 + t * t)) ** 0.5
    if abs(far - limit) > 1e-6:
        assert (scatter.odd_reading(values) is not None) == (far > limit)


@given(readings)
def test_trend_and_its_weight_agree_with_scipys_regression(values: list[float]) -> None:
    if max(values) - min(values) < 1e-6:
        assert scatter.trend([values[0]] * len(values))[1] == "none"
        return
    line = stats.linregress(range(len(values)), values)
    slope, word = scatter.trend(values)
    assert slope == pytest.approx(line.slope, abs=1e-9)
    if abs(line.pvalue - 0.05) > 1e-6 and abs(line.slope) > 1e-9:
        assert (word != "none") == (line.pvalue < 0.05)
        assert word in ("none", "rising" if line.slope > 0 else "falling")


@given(readings, st.floats(0.1, 10))
def test_everything_scales_with_the_unit(values: list[float], times: float) -> None:
    mean, spread = scatter.mean_and_scatter(values)
    assert scatter.mean_and_scatter([v * times for v in values]) == pytest.approx((mean * times, spread * times))


@pytest.mark.parametrize(
    "nonsense",
    [
        lambda: scatter.mean_and_scatter([1.0, 2.0]),
        lambda: scatter.mean_and_scatter([1.0, -2.0, 1.0]),
        lambda: scatter.mean_and_scatter([1.0, float("nan"), 1.0]),
        lambda: scatter.trend([1.0, 2.0, 3.0]),
        lambda: scatter.grubbs_limit(2),
        lambda: scatter.student_quantile(0.2, 5),
        lambda: scatter.chi_square_quantile(0.5, 0),
        lambda: scatter.mean_uncertainty(1.0, 1),
        lambda: scatter.scatter_range(1.0, 10, 1.0),
    ],
)
def test_too_few_or_impossible_readings_are_refused(nonsense) -> None:
    with pytest.raises(OutOfRange):
        nonsense()
