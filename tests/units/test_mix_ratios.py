"""Mix ratios as people write them; what is stored is parts of the second thing per 100 of the first.

The expected numbers are plain division; which direction is meant is settled by what is plausible.
"""

from __future__ import annotations

import pytest

from diagnose.units import Ask, Reject, Value, read, say

WATER = (20.0, 60.0)
HARDENER = (5.0, 20.0)
EQUAL = (50.0, 150.0)

PAIRS = [
    ("100:38", WATER, 38.0),
    ("38:100", WATER, 38.0),
    ("100 to 38", WATER, 38.0),
    ("38%", WATER, 38.0),
    ("38 parts per 100", WATER, 38.0),
    ("38 per 100", WATER, 38.0),
    ("38", WATER, 38.0),
    ("10:1", HARDENER, 10.0),
    ("1:10", HARDENER, 10.0),
    ("1:1", EQUAL, 100.0),
    ("2:1", WATER, 50.0),
    ("1 to 3", WATER, 33.3333),
]

MORE = [
    ("40 ml/100 g", WATER, 40.0),
    ("40 ml per 100 grams", WATER, 40.0),
    ("100 g : 38 ml", WATER, 38.0),
    ("10 parts A : 1 part B", HARDENER, 10.0),
    ("38/100", WATER, 38.0),
    ("0.38", WATER, 38.0),
    ("100:37,5", WATER, 37.5),
]


@pytest.mark.parametrize(("text", "plausible", "expected"), PAIRS + MORE)
def test_a_ratio_is_stored_as_parts_per_100(text: str, plausible: tuple[float, float], expected: float) -> None:
    found = read(text, "ratio", "per 100", plausible)
    assert isinstance(found, Value), found
    assert found.si == expected


def test_a_ratio_with_a_zero_is_refused() -> None:
    found = read("0:5", "ratio", "per 100", HARDENER)
    assert found == Reject(
        "Neither side of a ratio can be zero. This asks for a mix ratio, such as 100:38 or 38 per 100."
    )


def test_a_ratio_that_fits_both_ways_is_asked_back() -> None:
    found = read("1:1.2", "ratio", "per 100", EQUAL)
    assert isinstance(found, Ask)
    assert found.why == "direction"
    assert [one.si for one in found.candidates] == [120.0, pytest.approx(100 / 1.2, rel=1e-5)]


def test_a_file_must_say_which_way_a_ratio_goes() -> None:
    found = read("100:38", "ratio", "per 100", bare="refuse")
    assert found == Reject("That can be 38 per 100 or 263.158 per 100. Write one of them.")


def test_a_file_must_give_a_ratio_a_unit() -> None:
    found = read("38", "ratio", "ml/100 g", WATER, bare="refuse", name="water for the powder")
    assert found == Reject("38 what? water for the powder needs a mix ratio: 38 ml/100 g, 38 per 100.")


def test_both_sides_must_be_measured_alike() -> None:
    found = read("5 lb : 30 ml", "ratio", "per 100", WATER)
    assert isinstance(found, Reject)
    assert found.reason.startswith("Both sides of a ratio must be measured alike.")


@pytest.mark.parametrize("text", ["38-42 ml/100 g", "38 to 42 ml/100 g", "38–42 ml per 100 g"])
def test_a_ratio_with_a_unit_may_be_a_range(text: str) -> None:
    found = read(text, "ratio", "ml/100 g", WATER, ranges=True)
    assert isinstance(found, Value)
    assert (found.si, found.to_si) == (38.0, 42.0)
    assert say(found) == "38 to 42 ml/100 g"


@pytest.mark.parametrize("text", ["1:2:3", "a:b", "100:", ":38", "1 in 10", "-1:5", "42 to 38 per 100"])
def test_what_is_no_ratio_is_refused(text: str) -> None:
    assert isinstance(read(text, "ratio", "per 100", WATER, ranges=True), Reject)


@pytest.mark.parametrize(
    ("text", "per_100"),
    [
        ("190 g per half kilo", 38.0),  # 190 / 500
        ("380 g per kilo", 38.0),
        ("200 ml per 500 g", 40.0),
        ("40 ml for 100 g of powder", 40.0),
        ("6.4 oz to a pound", 40.0),  # 16 oz are 1 lb
        ("1/2 lb per lb", 50.0),
    ],
)
def test_so_much_for_so_much_by_weight(text: str, per_100: float) -> None:
    found = read(text, "ratio", "ml/100 g", (10.0, 70.0))
    assert isinstance(found, Value)
    assert found.si == pytest.approx(per_100, rel=1e-5)


def test_little_for_much_is_asked_back() -> None:
    found = read("15 g per half kilo", "ratio", "ml/100 g", (10.0, 70.0))
    assert isinstance(found, Ask)
    assert found.candidates[0].si == pytest.approx(3.0)  # 15 / 500


@pytest.mark.parametrize("text", ["0 g per kilo", "15 g per 0 g", "15 g per yard", "15 per half kilo", "g per kilo"])
def test_so_much_for_nothing_is_refused(text: str) -> None:
    assert isinstance(read(text, "ratio", "ml/100 g"), Reject)
