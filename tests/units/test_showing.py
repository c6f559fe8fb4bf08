"""Quantities written for people; definitions of the units give the numbers."""

from __future__ import annotations

import pytest

from diagnose.units import Value, read, say, show, show_both


@pytest.mark.parametrize(
    ("si", "dimension", "unit", "expected"),
    [
        (358.15, "temperature", "F", "185 °F"),
        (358.15, "temperature", "C", "85 °C"),
        (1283.15, "temperature", "F", "1850 °F"),
        (1284.26, "temperature", "F", "1852 °F"),
        (273.15, "temperature", "C", "0 °C"),
        (273.1499, "temperature", "C", "-0.0001 °C"),
        (2700.0, "time", "min", "45 min"),
        (4500.0, "time", "min", "1 h 15 min"),
        (4500.0, "time", "h", "1 h 15 min"),
        (3600.0, "time", "min", "1 h"),
        (3599.9, "time", "min", "60 min"),
        (7199.0, "time", "min", "2 h"),
        (90.0, "time", "s", "90 s"),
        (125.0, "time", "s", "2 min 5 s"),
        (1418.0, "time", "min", "23.6 min"),
        (172800.0, "time", "d", "2 d"),
        (0.0127, "length", "in", "0.5 in"),
        (9e-8, "diffusivity", "m2/s", "9e-8 m2/s"),
        (9e-8, "diffusivity", "mm2/s", "0.09 mm2/s"),
        (0.027, "percent", "%", "2.7 %"),
        (38.0, "ratio", "ml/100 g", "38 ml/100 g"),
        (1.0 / 3.0, "number", "", "0.333"),
        (0.0, "pressure", "psi", "0 psi"),
        (101325.0, "pressure", "Pa", "101325 Pa"),
        (2.0e9, "pressure", "Pa", "2e9 Pa"),
    ],
)
def test_a_quantity_is_written_without_noise(si: float, dimension: str, unit: str, expected: str) -> None:
    assert show(si, dimension, unit) == expected


@pytest.mark.parametrize(
    ("inches", "expected"),
    [(0.5, "1/2 in"), (1.25, "1 1/4 in"), (3 / 64, "3/64 in"), (2.0, "2 in"), (0.3, "0.3 in"), (1 / 128, "0.00781 in")],
)
def test_inches_on_a_rule_are_fractions_only_where_exact(inches: float, expected: str) -> None:
    assert show(inches * 0.0254, "length", "in", fractions=True) == expected


def test_the_persons_system_comes_first() -> None:
    assert show_both(425.928, "temperature", "F", "C", "us") == "307 °F (153 °C)"
    assert show_both(425.928, "temperature", "F", "C", "metric") == "153 °C (307 °F)"
    assert show_both(0.009525, "length", "in", "mm", "us") == "3/8 in (9.53 mm)"
    assert show_both(0.009525, "length", "in", "mm", "metric") == "9.53 mm (0.375 in)"
    assert show_both(2400.0, "time", "min", "min", "us") == "40 min"


@pytest.mark.parametrize(
    ("text", "dimension", "unit", "other", "expected"),
    [
        ("64 F", "temperature", "F", "C", "64 °F (17.8 °C)"),
        ("about 64", "temperature", "F", "F", "about 64 °F"),
        ("40 to 45 C", "temperature", "C", "F", "40 to 45 °C (104 to 113 °F)"),
        ("28 inHg", "pressure", "inHg", "kPa", "28 inHg of vacuum (94.8 kPa)"),
        ("80 psig", "pressure", "psi", None, "80 psi gauge"),
        ("5 torr", "pressure", "inHg", "kPa", "5 torr absolute (0.667 kPa)"),
    ],
)
def test_what_was_understood_is_said_back(
    text: str, dimension: str, unit: str, other: str | None, expected: str
) -> None:
    found = read(text, dimension, unit, ranges=True)
    assert isinstance(found, Value)
    assert say(found, other) == expected
