"""The first settable value at which nothing is left of a gap, against looking at every settable value."""

from __future__ import annotations

from math import exp

from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.consult.revise_limits import Limit, Room
from diagnose.consult.revise_reach import reach
from diagnose.consult.revise_settable import Scale

MINUTE = 60.0
TIMES = Scale("time", "min", 1.0)
ALL_DAY = (MINUTE, 480 * MINUTE)


def room(low: float, high: float) -> Room:
    return Room(Limit(low * MINUTE, "the floor"), Limit(high * MINUTE, "the ceiling"))


@given(st.floats(20, 300), st.floats(2, 470), st.floats(0.2, 3.0), st.sampled_from([1.0, -1.0]))
@settings(max_examples=200)
def test_it_is_the_first_of_all_settable_values(recorded: float, edge: float, bend: float, sign: float) -> None:
    def gap(value: float) -> float:
        """Fall through nothing at the edge, on a bent curve."""
        return sign * (exp(bend * edge / 100) - exp(bend * value / MINUTE / 100))

    found = reach(gap, recorded * MINUTE, 5 * MINUTE, TIMES, room(1, 480), ALL_DAY)
    good = [m for m in range(1, 481) if gap(m * MINUTE) <= 0 and (m > recorded) is (sign > 0) and m != recorded]
    if gap(recorded * MINUTE) <= 0:
        assert found is None
    elif good:
        assert found is not None
        assert found.place == (min(good) if sign > 0 else max(good))
    else:
        assert found is not None
        assert found.place is None


def test_a_limit_on_the_way_is_named() -> None:
    found = reach(lambda t: 100.0 - t / MINUTE, 40 * MINUTE, 5 * MINUTE, TIMES, room(10, 60), ALL_DAY)
    assert found is not None
    assert (found.place, found.stopped) == (None, Limit(60 * MINUTE, "the ceiling"))


def test_a_limit_is_named_even_where_there_is_no_room_at_all() -> None:
    found = reach(lambda t: 100.0 - t / MINUTE, 40 * MINUTE, 5 * MINUTE, TIMES, room(40, 40), ALL_DAY)
    assert found is not None
    assert (found.place, found.stopped) == (None, Limit(40 * MINUTE, "the ceiling"))


def test_a_value_past_its_ceiling_comes_at_least_back_to_it() -> None:
    found = reach(lambda t: t / MINUTE - 90.0, 120 * MINUTE, 5 * MINUTE, TIMES, room(10, 60), ALL_DAY)
    assert found is not None
    assert found.place == 60


def test_values_that_a_calculator_refuses_are_no_way_out() -> None:
    def gap(value: float) -> float | None:
        minutes = value / MINUTE
        return None if minutes > 102 else 100.0 - minutes

    found = reach(gap, 40 * MINUTE, 5 * MINUTE, TIMES, room(1, 480), ALL_DAY)
    assert found is not None
    assert found.place == 100
    beyond = reach(lambda t: None if t > 80 * MINUTE else 100 - t / MINUTE, 2400.0, 300.0, TIMES, room(1, 480), ALL_DAY)
    assert beyond is not None
    assert beyond.place is None


def test_a_number_that_a_setting_does_not_move_has_no_way_out() -> None:
    assert reach(lambda _: 1.0, 40 * MINUTE, 5 * MINUTE, TIMES, room(1, 480), ALL_DAY) is None
