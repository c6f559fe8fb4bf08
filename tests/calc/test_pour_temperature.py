"""Advice by section against the steps of the trade's own table."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.calc.pour_temperature import by_section
from diagnose.errors import OutOfRange

# Flask temperatures [degC] in the trade, for over 5 mm, 2 to 5, 1 to 2 and under 1 mm; the sections tried are the
# geometric middle of each class. Common practice.
TABLE = {
    "sterling, vacuum": [(400, 480), (510, 565), (565, 620), (620, 675)],
    "yellow gold": [(430, 510), (510, 580), (580, 640), (640, 690)],
    "white gold": [(480, 540), (540, 620), (620, 680), (680, 700)],
    "brass": [(430, 510), (510, 590), (590, 650), (650, 690)],
}


@pytest.mark.parametrize("metal", TABLE)
def test_two_ends_give_back_the_whole_table(metal):
    bands = TABLE[metal]
    heavy, fine = sum(bands[0]) / 2, sum(bands[-1]) / 2
    for section, (low, high) in zip((7e-3, 3.16e-3, 1.41e-3, 0.7e-3), bands, strict=True):
        assert low <= by_section(section, heavy, fine) <= high


@given(section=st.floats(1e-4, 2.5e-2))
def test_thinner_is_never_colder(section):
    assert 470 - 1e-9 <= by_section(2 * section, 470, 665) <= by_section(section, 470, 665) <= 665 + 1e-9


def test_beyond_both_ends_the_advice_stays():
    assert by_section(0.2e-3, 470, 665) == 665
    assert by_section(30e-3, 470, 665) == 470


@pytest.mark.parametrize("section", [0.0, 1.0, -1e-3, float("nan")])
def test_sections_of_no_piece_are_refused(section):
    with pytest.raises(OutOfRange, match=r"0\.0001 m to 0\.05 m"):
        by_section(section, 470, 665)


def test_advice_that_is_no_number_is_refused():
    with pytest.raises(OutOfRange, match="not a number"):
        by_section(1e-3, float("nan"), 665)
