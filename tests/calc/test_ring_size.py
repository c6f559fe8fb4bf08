"""Ring sizes against the definition by circumference and the inch system's published table."""

from __future__ import annotations

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.calc.ring_size import (
    bore_of_circumference_size,
    bore_of_inch_system_size,
    inch_system_size,
    size_by_circumference,
)
from diagnose.errors import OutOfRange

ZERO, STEP = 0.458 * 0.0254, 0.032 * 0.0254


# Inner diameter in inches 0.458 + 0.032 n (a printed table of the inch system, from memory), in millimeters, with the
# size by circumference (ISO 8653, from memory) beside it.
TABLE = [
    (5, 15.697, 49.31),
    (6, 16.510, 51.87),
    (7, 17.323, 54.42),
    (8, 18.136, 56.97),
    (10, 19.761, 62.08),
    (13, 22.200, 69.74),
]


@pytest.mark.parametrize(("size", "diameter", "around"), TABLE)
def test_the_two_systems_agree_with_the_printed_table(size: float, diameter: float, around: float) -> None:
    bore = bore_of_inch_system_size(size, ZERO, STEP)

    assert 1e3 * bore == pytest.approx(diameter, abs=6e-4)
    assert size_by_circumference(bore) == pytest.approx(around, abs=6e-3)


@pytest.mark.parametrize(
    ("size", "diameter", "inch"),
    [
        (49, 15.597, 4.88),
        (52, 16.552, 6.05),
        (54, 17.189, 6.84),
        (57, 18.144, 8.01),
        (60, 19.099, 9.18),
        (65, 20.690, 11.14),
    ],
)
def test_whole_circumference_sizes_in_the_inch_system(size: float, diameter: float, inch: float) -> None:
    bore = bore_of_circumference_size(size)

    assert 1e3 * bore == pytest.approx(diameter, abs=6e-4)
    assert inch_system_size(bore, ZERO, STEP) == pytest.approx(inch, abs=6e-3)


# The trade has another formula, 36.3 + 2.60 n mm round (common practice); with its constants the same functions give
# its values, so a stick can be matched by its two constants.
@pytest.mark.parametrize(("size", "around"), [(7, 54.50), (10, 62.30), (13, 70.10)])
def test_the_rival_formula_is_a_matter_of_two_constants(size: float, around: float) -> None:
    bore = bore_of_inch_system_size(size, 36.3e-3 / pi, 2.60e-3 / pi)
    assert size_by_circumference(bore) == pytest.approx(around, abs=5e-3)
    assert abs(size_by_circumference(bore) - size_by_circumference(bore_of_inch_system_size(size, ZERO, STEP))) < 0.4


def test_half_a_size_is_what_the_trade_says_at_size_7() -> None:
    # Half a size is 2.35 % of the bore at size 7; 0.1 mm of bore is 0.123 size.
    bore = bore_of_inch_system_size(7, ZERO, STEP)

    assert STEP / 2 / bore == pytest.approx(0.0235, abs=5e-5)
    assert inch_system_size(bore + 1e-4, ZERO, STEP) - 7 == pytest.approx(0.123, abs=5e-4)


@given(bore=st.floats(0.0132, 0.024))
def test_there_and_back_again(bore: float) -> None:
    assert bore_of_circumference_size(size_by_circumference(bore)) == pytest.approx(bore)
    assert bore_of_inch_system_size(inch_system_size(bore, ZERO, STEP), ZERO, STEP) == pytest.approx(bore)


@given(size=st.integers(41, 76))
def test_the_size_is_the_circumference_in_millimeters(size: int) -> None:
    assert pi * 1e3 * bore_of_circumference_size(size) == pytest.approx(size)


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: size_by_circumference(0.011633), "inner circumference is 36.5"),
        (lambda: size_by_circumference(0.0), "the bore is 0"),
        (lambda: bore_of_circumference_size(90.0), "the ring size is 90 mm"),
        (lambda: inch_system_size(0.010, ZERO, STEP), "the ring size is -"),
        (lambda: inch_system_size(0.017, ZERO, 0.0), "the step of a size"),
        (lambda: bore_of_inch_system_size(25.0, ZERO, STEP), "the ring size is 25"),
    ],
)
def test_what_cannot_be_is_refused(call, says: str) -> None:
    with pytest.raises(OutOfRange, match=says):
        call()
