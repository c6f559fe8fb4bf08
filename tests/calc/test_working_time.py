"""The clock of investing, against the trade's stop-watch and plain sums."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.calc.working_time import half_way_mixing, idle_time, latest_ends
from diagnose.errors import OutOfRange


def test_the_trades_stopwatch_fits_the_clock() -> None:
    # common practice: 3 min mix, 1 to 2 min bowl vacuum, under 1 min pour, 1 1/2 min flask vacuum, hands off at
    # 8 to 9 1/2 min, and still 1 1/2 to 2 min before the shine leaves at 9 to 12 min
    clock = latest_ends(630.0, 105.0, 90.0, 60.0, 90.0, 150.0)
    assert clock.mixing >= 180.0
    assert 480.0 <= clock.flask_vacuum <= 570.0


times = st.floats(0.0, 300.0)


@given(times, times, times, times)
def test_the_steps_and_the_idle_time_fill_the_clock(idle: float, bowl: float, pour: float, flask: float) -> None:
    clock = latest_ends(1800.0, idle, bowl, pour, flask, 60.0)
    assert clock.bowl_vacuum - clock.mixing == pytest.approx(bowl)
    assert clock.pouring - clock.bowl_vacuum == pytest.approx(pour)
    assert clock.flask_vacuum - clock.pouring == pytest.approx(flask)
    assert idle_time(1800.0, clock.flask_vacuum) == pytest.approx(idle)


def test_a_slurry_that_sets_before_it_is_mixed_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"leaves 15 s for mixing"):
        latest_ends(360.0, 105.0, 90.0, 60.0, 90.0, 150.0)


def test_handling_after_the_shine_left_shows_as_less_than_nothing() -> None:
    assert idle_time(540.0, 600.0) == -60.0


@given(st.floats(60.0, 600.0), st.floats(-300.0, 600.0))
def test_mixing_moves_half_of_the_excess_and_stays_in_its_range(mixing: float, idle: float) -> None:
    found = half_way_mixing(mixing, idle, 105.0, 150.0, 300.0)
    assert 150.0 <= found <= 300.0
    if 150.0 < found < 300.0:
        assert found - mixing == pytest.approx((idle - 105.0) / 2)


def test_contradicting_times_are_refused() -> None:
    with pytest.raises(OutOfRange, match="no range"):
        half_way_mixing(180.0, 120.0, 105.0, 300.0, 150.0)
    with pytest.raises(OutOfRange, match="gloss-off"):
        idle_time(-1.0, 10.0)
