"""Chvorinov's rule against worked textbook problems."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.calc.chvorinov import constant_from_time, modulus_ratio_for, time_ratio
from diagnose.calc.feeding import feeder_for_modulus
from diagnose.calc.modulus import box
from diagnose.errors import OutOfRange


def test_the_riser_of_the_textbook_plate() -> None:
    # Groover's riser example (2010, from memory; the same numbers in a stored solution): plate 7.5 x 12.5 x 2.0 cm,
    # 1.6 min, riser as high as wide that freezes in 2.0 min. Printed: D = 4.7 cm, with V/A rounded to 0.7.
    plate = box(7.5, 12.5, 2.0)
    constant = constant_from_time(plate, 1.6)
    assert constant == pytest.approx(3.26, abs=0.005)
    riser = plate * modulus_ratio_for(2.0 / 1.6)
    diameter = feeder_for_modulus(riser, 1.0)
    assert diameter == pytest.approx(4.7, abs=0.005)
    assert 3.141592653589793 / 4 * diameter**3 == pytest.approx(81.5, abs=0.3)


def test_the_same_plate_with_a_fifth_more_modulus() -> None:
    plate = box(7.5, 12.5, 2.0)
    assert feeder_for_modulus(1.2 * plate, 1.0) == pytest.approx(5.047, abs=0.001)
    assert time_ratio(1.2 * plate, plate) == pytest.approx(1.44)


def test_the_square_plate_with_a_tall_riser() -> None:
    # Worked exercise, plate 12 x 12 x 1.1 in, 13 min/in2, riser L = 1.5 D that takes 1.3 times as long. The stored
    # answer reads 2.711 in because 3.63 was mistyped as 3.36; carried through without the slip it is 2.826 in.
    plate = box(12.0, 12.0, 1.1)
    assert 13.0 * plate**2 == pytest.approx(2.808, abs=0.001)
    diameter = feeder_for_modulus(plate * modulus_ratio_for(1.3), 1.5)
    assert diameter == pytest.approx(2.826, abs=0.001)
    assert 1.5 * diameter == pytest.approx(4.240, abs=0.002)


def test_the_steel_plate_of_the_examination() -> None:
    # 2018 examination: plate 80 x 120 x 20 mm, 2 min; riser h = d, 3 min; the key allows 42 to 52 mm
    plate = box(80.0, 120.0, 20.0)
    assert plate == pytest.approx(7.0588, abs=1e-4)
    assert feeder_for_modulus(plate * modulus_ratio_for(1.5), 1.0) == pytest.approx(51.87, abs=0.01)


def test_a_quarter_longer_is_the_usual_riser_margin() -> None:
    assert modulus_ratio_for(1.25) == pytest.approx(1.118, abs=5e-4)


@given(st.floats(1e-4, 0.1), st.floats(1e-4, 0.1))
def test_time_ratio_and_modulus_ratio_undo_each_other(a: float, b: float) -> None:
    assert modulus_ratio_for(time_ratio(a, b)) == pytest.approx(a / b)


@pytest.mark.parametrize("value", [0.0, -1.0, float("nan"), float("inf")])
def test_values_that_nothing_has_are_refused(value: float) -> None:
    for call in (modulus_ratio_for, lambda v: time_ratio(v, 1.0), lambda v: constant_from_time(1.0, v)):
        with pytest.raises(OutOfRange):
            call(value)
