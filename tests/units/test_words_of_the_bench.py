"""Spellings and habits beyond the eighty: chains, troy weights, rates, changes, both decimal marks."""

from __future__ import annotations

import pytest

from diagnose.units import Ask, Reject, Value, read


def si(text: str, dimension: str, unit: str) -> float:
    found = read(text, dimension, unit)
    assert isinstance(found, Value), found
    return found.si


TROY_OUNCE, POUND = 0.0311034768, 0.45359237


@pytest.mark.parametrize(
    ("text", "dimension", "unit", "expected"),
    [
        ("12 dwt 6 gr", "mass", "dwt", (12 * 24 + 6) * 64.79891e-6),
        ("2 ozt 5 dwt", "mass", "g", 2.25 * TROY_OUNCE),
        ("2 oz 5 dwt", "mass", "g", 2.25 * TROY_OUNCE),
        ("2 oz", "mass", "dwt", 2 * TROY_OUNCE),
        ("2 oz", "mass", "lb", 2 * POUND / 16),
        ("3 t. oz.", "mass", "g", 3 * TROY_OUNCE),
        ("2 lb 3 1/2 oz", "mass", "lb", (2 + 3.5 / 16) * POUND),
        ("1 kg 250 g", "mass", "g", 1.25),
        ("1 hr, 15 min", "time", "min", 4500.0),
        ("1 hour and 15 minutes", "time", "min", 4500.0),
        ("2 d 3 h", "time", "h", 51 * 3600.0),
        ("1 h 2 min 3 s", "time", "min", 3723.0),
        ("1:02:03", "time", "min", 3723.0),
        ("1:30 h", "time", "s", 5400.0),
        ("1:30 min", "time", "h", 90.0),
        ("15' 30\"", "time", "min", 930.0),
        ("1 1/2 hours", "time", "min", 5400.0),
        ("1 m 20 cm", "length", "mm", 1.2),
        ("5' 6 1/2\"", "length", "in", 66.5 * 0.0254),
        ("5-mm", "length", "mm", 0.005),
        ("1/4-inch", "length", "in", 0.25 * 0.0254),
        ("3/32''", "length", "in", 3 / 32 * 0.0254),
        ("5 thou", "length", "in", 5 * 25.4e-6),
        ("2 sq. in.", "area", "in2", 2 * 0.0254**2),
        ("3 cm²", "area", "cm2", 3e-4),
        ("1,234,567 mg", "mass", "g", 1.23457),
        ("1.234,5 g", "mass", "g", 1.2345),
        ("12,000 lbf", "force", "lbf", 12000 * 4.4482216),
        (".5 in", "length", "in", 0.0127),
        ("5. mm", "length", "mm", 0.005),
        ("minus 5 C", "temperature", "C", 268.15),
        ("20 degrees Celsius", "temperature", "F", 293.15),
        ("20 C°", "temperature", "F", 293.15),
        ("5 °F per minute", "rate of temperature", "C/h", 5 * 5 / 9 / 60),
        ("-100 C / hr", "rate of temperature", "C/h", -100 / 3600),
        ("up 10 F", "temperature change", "F", 50 / 9),
        ("5 C cooler", "temperature change", "C", -5.0),
        ("0.15 W m⁻¹ K⁻¹", "conductivity", "W/m/K", 0.15),
        ("0.15 W/(m·K)", "conductivity", "W/m/K", 0.15),
        ("13 μm/m/°C", "expansion", "1/K", 13e-6),
        ("12 psi(g)", "pressure", "psi", 12 * 6894.757),
        ("20 CFH", "volume flow", "CFH", 20 * 0.3048**3 / 3600),
        ("٣٠ C", "temperature", "C", 303.15),
    ],
)
def test_what_people_write_is_read(text: str, dimension: str, unit: str, expected: float) -> None:
    assert si(text, dimension, unit) == pytest.approx(expected, rel=3e-6)


@pytest.mark.parametrize("text", ["10⁵ Pa", "10^5 Pa", "1e5.5 Pa", "1E400 Pa", "0x10 Pa", "1,00,000 Pa", "1.00.000 Pa"])
def test_powers_and_odd_groups_are_not_guessed_at(text: str) -> None:
    assert isinstance(read(text, "pressure", "Pa"), Reject)


@pytest.mark.parametrize(
    "text", ["2 ft 3 mm", "1 min 1 h", "1 h -5 min", "1 ft 14 in", "1 1/0 in", "3 5/4 in", "5 --5 in"]
)
def test_broken_chains_and_fractions_are_refused(text: str) -> None:
    assert isinstance(read(text, "time" if "min" in text else "length", None), Reject)


def test_an_ounce_is_asked_about_where_both_ounces_are_at_home() -> None:
    found = read("2 oz", "mass", "g")
    assert isinstance(found, Ask)
    assert (found.why, found.question) == ("word", "2 oz av (56.7 g) or 2 ozt (62.2 g)?")


def test_a_comma_that_can_be_read_one_way_only_is_not_asked_about() -> None:
    found = read("1,250 mm", "length", "mm", (0.0001, 0.1))
    assert isinstance(found, Value)
    assert found.number == 1.25


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        ("between 30 and 45 min", 1800.0, 2700.0),
        ("from 30 to 45 min", 1800.0, 2700.0),
        ("30 min - 1 h", 1800.0, 3600.0),
        ("1/2-3/4 h", 1800.0, 2700.0),
        ("1-1/2 - 2 h", 5400.0, 7200.0),
        ("40 +/- 5 min", 2100.0, 2700.0),
        ("40 min +- 5", 2100.0, 2700.0),
    ],
)
def test_ranges_are_read_where_they_are_allowed(text: str, low: float, high: float) -> None:
    found = read(text, "time", "min", ranges=True)
    assert isinstance(found, Value), found
    assert (found.si, found.to_si) == (low, high)


@pytest.mark.parametrize(
    "text", ["45 to 30 min", "30 to 30 min", "40 min +/- 5 s", "40 +/- 0 min", "30 to 45 to 60 min"]
)
def test_ranges_that_make_no_sense_are_refused(text: str) -> None:
    assert isinstance(read(text, "time", "min", ranges=True), Reject)
