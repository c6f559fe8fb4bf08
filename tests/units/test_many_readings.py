"""Lists of readings: one unit for all, decimal commas kept apart from commas between readings."""

from __future__ import annotations

import pytest

from diagnose.errors import BadInput
from diagnose.units import AskMany, Reject, must_read_many, read_many

PLAUSIBLE = (288.15, 473.15)


@pytest.mark.parametrize(
    ("text", "numbers", "unit"),
    [
        ("307, 305 and 298 F", [307, 305, 298], "°F"),
        ("307 F, 305, 298", [307, 305, 298], "°F"),
        ("307; 305; 298", [307, 305, 298], "°F"),
        ("307,305,298 F", [307, 305, 298], "°F"),
        ("307 305 298 F", [307, 305, 298], "°F"),
        ("150,5; 151,5 C", [150.5, 151.5], "°C"),
        ("150,5, 151,5 C", [150.5, 151.5], "°C"),
        ("150.5, 151.5, and 152 C", [150.5, 151.5, 152], "°C"),
        ("about 150 and ~151 C", [150, 151], "°C"),
        ("150 C", [150], "°C"),
        ("150;", [150], "°F"),
    ],
)
def test_a_unit_on_one_reading_serves_all(text: str, numbers: list[float], unit: str) -> None:
    found = read_many(text, "temperature", "F", PLAUSIBLE)
    assert isinstance(found, tuple), found
    assert [one.number for one in found] == numbers
    assert {one.unit for one in found} == {unit}


def test_each_reading_may_have_its_own_unit() -> None:
    found = read_many("150 C, 302 F", "temperature", "F", PLAUSIBLE)
    assert isinstance(found, tuple)
    assert [one.si for one in found] == [423.15, 423.15]


def test_the_unit_of_a_whole_list_is_asked_once() -> None:
    found = read_many("350, 340", "temperature", "C", PLAUSIBLE)
    assert isinstance(found, AskMany)
    assert found.question == "350 °C, 340 °C or 350 °F, 340 °F?"
    assert [[one.number for one in values] for values in found.candidates] == [[350, 340], [350, 340]]


def test_an_unusual_reading_is_named() -> None:
    found = read_many("150, 900 C", "temperature", "C", PLAUSIBLE)
    assert isinstance(found, AskMany)
    assert found.question.startswith('Reading 2 ("900 c"): 900 °C is above what is usual')
    assert [[one.number for one in values] for values in found.candidates] == [[150, 900]]


def test_a_bad_reading_is_named() -> None:
    assert read_many("150; high", "temperature", "C") == Reject(
        'Reading 2 ("high"): I can\'t read "high" as a temperature. This asks for a temperature, such as 64 F or 18 C.'
    )


def test_a_file_gets_an_error_with_its_place() -> None:
    with pytest.raises(BadInput) as caught:
        must_read_many("307, 305", "temperature", "F", name="platen readings", where="case.yaml, line 3")
    assert str(caught.value) == (
        'case.yaml, line 3: Reading 1 ("307"): 307 what? platen readings needs a temperature: 307 °F, 153 °C.'
    )


def test_too_many_readings_are_refused() -> None:
    found = read_many("1; " * 41, "number", "")
    assert found == Reject("Those are 41 readings, and 40 is the most. Type fewer.")


def test_a_lone_doubtful_comma_is_not_taken_for_a_list() -> None:
    found = read_many("1,250 g", "mass", "g", (0.0001, 50.0))
    assert isinstance(found, AskMany)
    assert found.why == "comma"
