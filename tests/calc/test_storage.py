"""Ageing in store against the Arrhenius equation worked out separately."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.calc.storage import stock_age, time_for_cure_at
from diagnose.errors import OutOfRange

CELSIUS, DAY = 273.15, 86400.0
COOL, WARM, PRESS = 25 + CELSIUS, 35 + CELSIUS, 153 + CELSIUS


# Ten degrees warmer than 25 degrees C, for 80, 100 and 120 kJ/mol, worked out separately.
@pytest.mark.parametrize(("energy", "factor"), [(80e3, 2.85), (100e3, 3.70), (120e3, 4.81)])
def test_a_store_ten_degrees_warmer_ages_rubber_faster(energy: float, factor: float) -> None:
    assert stock_age(DAY, WARM, COOL, energy) / DAY == pytest.approx(factor, abs=6e-3)


def test_three_minutes_at_press_heat_are_about_a_year_on_the_shelf() -> None:
    # 381 days at 25 and 103 at 35 degrees C for 100 kJ/mol; 20 kJ/mol either way moves it about tenfold.
    assert time_for_cure_at(180.0, COOL, PRESS, 100e3) / DAY == pytest.approx(381, abs=1)
    assert time_for_cure_at(180.0, WARM, PRESS, 100e3) / DAY == pytest.approx(103, abs=1)
    assert 8 < time_for_cure_at(180.0, COOL, PRESS, 120e3) / time_for_cure_at(180.0, COOL, PRESS, 100e3) < 13


@given(time=st.floats(DAY, 1e8), kelvin=st.floats(263, 320), energy=st.floats(5e4, 1.5e5))
def test_age_grows_with_time_and_warmth(time: float, kelvin: float, energy: float) -> None:
    age = stock_age(time, kelvin, COOL, energy)

    assert stock_age(2 * time, kelvin, COOL, energy) == pytest.approx(2 * age)
    assert stock_age(time, kelvin + 2, COOL, energy) > age
    assert (age > time) == (kelvin > COOL) or age == pytest.approx(time)


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: stock_age(-1.0, COOL, COOL, 1e5), "the time in store"),
        (lambda: stock_age(1e12, COOL, COOL, 1e5), "the time in store"),
        (lambda: stock_age(DAY, 400.0, COOL, 1e5), "the store temperature is 400 K"),
        (lambda: time_for_cure_at(0.0, COOL, PRESS, 1e5), "the dose"),
        (lambda: time_for_cure_at(180.0, float("nan"), PRESS, 1e5), "the store temperature"),
    ],
)
def test_what_cannot_be_is_refused(call, says: str) -> None:
    with pytest.raises(OutOfRange, match=says):
        call()
