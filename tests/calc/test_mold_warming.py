"""Heat of shots in a mold against hand arithmetic and a run followed step by step."""

from __future__ import annotations

from math import exp

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.calc import mold_warming as warming
from diagnose.errors import OutOfRange


def test_two_grams_of_wax_in_the_worked_mold() -> None:
    # 2 g from 70 to 30 degC with 150 kJ/kg: 484 J. A block of 48 x 73 x 25 mm weighs 101 g, not the 150 g of the
    # first reading: 3.2 K a shot; still air 10 W/m2K, 8 K allowed: 7.7 min, eight molds for a shot a minute.
    heat = warming.shot_heat(0.002, 2300 * 40 + 150e3)
    assert heat == pytest.approx(484, abs=0.5)
    assert warming.rise_per_shot(heat, 0.150, 1500) == pytest.approx(2.15, abs=0.005)
    mass = 0.048 * 0.073 * 0.025 * 1150
    assert mass == pytest.approx(0.101, abs=5e-4)
    rise = warming.rise_per_shot(heat, mass, 1500)
    assert rise == pytest.approx(3.2, abs=0.01)
    recovery = warming.recovery_time(mass, 1500, warming.block_surface(0.048, 0.073, 0.025), 10)
    assert recovery / 60 == pytest.approx(19.3, abs=0.05)
    interval = warming.shot_interval(rise, recovery, 8)
    assert interval / 60 == pytest.approx(7.7, abs=0.05)
    assert warming.molds_in_turn(interval, 60) == 8


@given(st.floats(0.5, 6), st.floats(300, 3000), st.floats(60, 2000))
def test_the_mean_of_a_long_run_followed_shot_by_shot(rise: float, recovery: float, interval: float) -> None:
    excess, shots = 0.0, 0
    while shots < 20 * recovery / interval + 5:
        excess = (excess + rise) * exp(-interval / recovery)
        shots += 1
    start = excess + rise
    mean = start * recovery / interval * (1 - exp(-interval / recovery))
    assert warming.settled_excess(rise, recovery, interval) == pytest.approx(mean, rel=1e-3)


@given(st.floats(0.5, 6), st.floats(300, 3000), st.floats(1, 15))
def test_the_interval_found_settles_where_it_should(rise: float, recovery: float, allowed: float) -> None:
    interval = warming.shot_interval(rise, recovery, allowed)
    assert warming.settled_excess(rise, recovery, interval) == pytest.approx(allowed)


@given(st.floats(30, 3000), st.floats(10, 600))
def test_molds_in_turn_give_each_its_rest_and_one_fewer_would_not(interval: float, pace: float) -> None:
    count = warming.molds_in_turn(interval, pace)
    assert count * pace >= interval * (1 - 1e-9)
    assert count == 1 or (count - 1) * pace < interval


def test_a_room_warmer_than_the_mold_may_be_is_refused() -> None:
    with pytest.raises(OutOfRange, match="room is 2"):
        warming.shot_interval(3.0, 1200.0, -2.0)


@pytest.mark.parametrize(
    "nonsense",
    [
        lambda: warming.shot_heat(0.0, 1.0),
        lambda: warming.rise_per_shot(1.0, -0.1, 1500),
        lambda: warming.recovery_time(0.1, 1500, 0.0, 10),
        lambda: warming.molds_in_turn(60.0, 0.0),
        lambda: warming.settled_excess(1.0, 1.0, float("nan")),
        lambda: warming.block_surface(0.1, 0.1, float("inf")),
    ],
)
def test_impossible_molds_are_refused(nonsense) -> None:
    with pytest.raises(OutOfRange):
        nonsense()
