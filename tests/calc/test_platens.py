"""Platen surveys against the trade's limits and the Arrhenius equation worked out separately."""

from __future__ import annotations

from math import exp

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.constants import R

from diagnose.calc.platens import survey, trimmed_setting
from diagnose.errors import OutOfRange

CELSIUS = 273.15
SET = 153 + CELSIUS


def readings(*off: float) -> tuple[float, ...]:
    return tuple(SET + o for o in off)


# Common practice: good within 3 degrees, acceptable within 5.
@pytest.mark.parametrize(
    ("off", "evenness"),
    [
        ((0, 2, -3, 1, 3), "even"),
        ((0, 4, -5, 1, 3), "fair"),
        ((13, -6, -3, 2, -1), "uneven yet usable"),
        ((0, -12, -3, 2, -1), "not usable"),
        ((25, 0, 0, 0, 0), "not usable"),
    ],
)
def test_evenness_is_called_as_the_trade_calls_it(off: tuple[float, ...], evenness: str) -> None:
    assert survey(readings(*off), SET, 100e3).evenness == evenness


# Rate relative to 153 degrees C for 80, 100 and 120 kJ/mol, worked out separately (three decimals).
@pytest.mark.parametrize(
    ("off", "factors"),
    [
        (-10, (0.581, 0.508, 0.443)),
        (-5, (0.765, 0.715, 0.669)),
        (-3, (0.852, 0.819, 0.787)),
        (3, (1.171, 1.218, 1.267)),
        (5, (1.299, 1.387, 1.481)),
        (10, (1.678, 1.910, 2.174)),
    ],
)
def test_each_point_has_its_own_pace_of_cure(off: float, factors: tuple[float, ...]) -> None:
    for energy, factor in zip((80e3, 100e3, 120e3), factors, strict=True):
        assert survey(readings(0, off), SET, energy).factors[1] == pytest.approx(factor, abs=6e-4)


def test_a_hot_middle_and_a_cold_edge_are_told_in_numbers() -> None:
    seen = survey(readings(13, -6, -3, 2, -1), SET, 100e3)

    assert (seen.spread, seen.most_over, seen.most_under) == pytest.approx((19.0, 13.0, 6.0))
    assert seen.mean_error == pytest.approx(1.0)
    assert seen.good_points == (3, 4, 5)
    assert max(seen.factors) == pytest.approx(exp(100e3 / R * (1 / SET - 1 / (SET + 13))))


@given(off=st.lists(st.floats(-20, 20), min_size=2, max_size=9))
def test_numbering_the_points_otherwise_changes_nothing_but_their_numbers(off: list[float]) -> None:
    one, other = survey(readings(*off), SET, 100e3), survey(readings(*reversed(off)), SET, 100e3)

    assert one.spread == pytest.approx(other.spread)
    assert one.mean_error == pytest.approx(other.mean_error)
    assert one.evenness == other.evenness
    assert one.spread == pytest.approx(max(off) - min(off), abs=1e-9)


@given(error=st.floats(-10, 10))
def test_trimming_brings_the_mean_where_it_was_wanted(error: float) -> None:
    trimmed = trimmed_setting(SET, error, 10.0)

    assert trimmed is not None
    assert trimmed + error == pytest.approx(SET)


@pytest.mark.parametrize("error", [-10.5, 12.0])
def test_more_than_ten_degrees_is_for_repair_and_not_for_the_dial(error: float) -> None:
    assert trimmed_setting(SET, error, 10.0) is None


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: survey((SET,), SET, 1e5), "1 reading says nothing"),
        (lambda: survey((SET, 20.0), SET, 1e5), "a platen reading is 20 K"),
        (lambda: survey((SET, SET), 1.0, 1e5), "reference temperature"),
        (lambda: trimmed_setting(SET, 1.0, 0.0), "the greatest trim"),
        (lambda: trimmed_setting(20.0, 1.0, 10.0), "the set value is 20 K"),
    ],
)
def test_what_cannot_be_is_refused(call, says: str) -> None:
    with pytest.raises(OutOfRange, match=says):
        call()
