"""What a file or a command line is told: the texts themselves, since scripts and people rely on them."""

from __future__ import annotations

import pytest

from diagnose.errors import BadInput
from diagnose.units import Ask, Reject, Value, must_read, quantity, read, span

CURE_TIME = (60.0, 8 * 3600.0)
PLATEN = (293.15, 473.15)


def refusal(text: str, dimension: str, unit: str | None, plausible: tuple[float, float] | None = None) -> str:
    found = read(text, dimension, unit, plausible, bare="refuse", name="cure time" if dimension == "time" else "")
    assert isinstance(found, Reject), found
    return found.reason


@pytest.mark.parametrize(
    ("text", "unit", "reason"),
    [
        ("40", "min", "40 what? cure time needs a time: 40 min, 0.67 h, 2400 s."),
        ("40", None, "40 what? cure time needs a time: 40 min, 40 h, 40 s."),
        ("about 40", "min", "about 40 what? cure time needs a time: 40 min, 0.67 h, 2400 s."),
        ("600 min", "min", "600 min is not plausible for cure time: expected 1 min to 8 h."),
        ("5 minuts", "min", 'I don\'t know the unit "minuts". Did you mean min? cure time needs a time, '
         "such as 45 min or 1 h 15 min."),
        ("90 F", "min", "That is a temperature. cure time needs a time, such as 45 min or 1 h 15 min."),
        ("1 h 75 min", "min", "75 min is 1 h or more. cure time needs a time, such as 45 min or 1 h 15 min."),
        ("1.5 h 10 min", "min", "Only the last part may have a fraction, and 1.5 h has one. cure time needs a time, "
         "such as 45 min or 1 h 15 min."),
        ("30-45 min", "min", "Give one value, not a range. cure time needs a time, such as 45 min or 1 h 15 min."),
        ("", "min", "Nothing was typed. cure time needs a time, such as 45 min or 1 h 15 min."),
        ("5 \x1b[31mmin", "min", "There is a control character or a hidden character in that. cure time needs a time, "
         "such as 45 min or 1 h 15 min."),
        ("1" * 81, "min", "That is longer than 80 characters. cure time needs a time, such as 45 min or 1 h 15 min."),
    ],
)  # fmt: skip
def test_a_time_in_a_file_is_refused_with_what_would_do(text: str, unit: str | None, reason: str) -> None:
    assert refusal(text, "time", unit, CURE_TIME) == reason


@pytest.mark.parametrize(
    ("text", "dimension", "unit", "reason"),
    [
        ("2 oz", "mass", "g", "That can be 2 oz av (56.7 g) or 2 ozt (62.2 g). Write one of them."),
        ("5 gr", "mass", "dwt", "That can be 5 g or 5 grain (0.324 g). Write one of them."),
        ("1,250 g", "mass", "g", "That can be 1250 g or 1.25 g. Write one of them."),
        ("12 tons", "force", "kN", "That can be 12 tonf (24000 lbf) or 12 tf (26456 lbf). Write one of them."),
        ("1:15", "time", None, '"1:15" can be hours and minutes or minutes and seconds: write 1 h 15 min. '
         "cure time needs a time, such as 45 min or 1 h 15 min."),
        ("raise by 10 F", "temperature", "F", "That is a change of temperature. This asks for a temperature, "
         "such as 64 F or 18 C."),
        ("-5 torr", "pressure", "torr", "An absolute pressure cannot be negative. This asks for a pressure, "
         "such as 15 psi or 1 bar."),
        ("185 degrees", "temperature", "F", "185 degrees what? This asks for a temperature: 185 °F, 85 °C."),
    ],
)  # fmt: skip
def test_a_doubtful_quantity_in_a_file_is_refused(text: str, dimension: str, unit: str | None, reason: str) -> None:
    assert refusal(text, dimension, unit) == reason


def test_an_absurd_value_is_refused_with_the_range_in_both_units() -> None:
    with pytest.raises(BadInput) as caught:
        must_read("1850 F", "temperature", "F", PLATEN, name="platen temperature", where="case.yaml, line 7")
    assert str(caught.value) == (
        "case.yaml, line 7: 1850 °F is not plausible for platen temperature: expected 68 to 392 °F (20 to 200 °C)."
    )


def test_the_same_value_is_only_questioned_when_a_person_is_there() -> None:
    found = read("1850 F", "temperature", "F", PLATEN, name="platen temperature")
    assert isinstance(found, Ask)
    assert found.question == ("1850 °F is above what is usual for platen temperature: 68 to 392 °F (20 to 200 °C).")


def test_without_a_habit_the_unit_is_asked_once() -> None:
    found = read("64", "temperature", None, (270.0, 400.0))
    assert isinstance(found, Ask)
    assert (found.why, found.question) == ("unit", "64 °F or 64 °C?")


def test_a_plain_number_needs_no_unit_in_a_file() -> None:
    found = read("1.3", "number", "", bare="refuse")
    assert isinstance(found, Value)
    assert found.si == 1.3


@pytest.mark.parametrize(
    ("text", "dimension", "si"),
    [
        ("307 F", "temperature", (307 + 459.67) * 5 / 9),
        ("150 C", "temperature", 423.15),
        ("5 F", "temperature change", 5 * 5 / 9),
        ("100 C/h", "rate of temperature", 100 / 3600),
        ("0.09 mm2/s", "diffusivity", 0.09e-6),
        ("2.7 %", "percent", 0.027),
        ("6.6e-4 1/K", "expansion", 6.6e-4),
        ("220 ppm/K", "expansion", 220e-6),
        ("100 kJ/mol", "energy per mole", 100e3),
        ("0.153 W/m/K", "conductivity", 0.153),
        ("1828 J/kg/K", "specific heat", 1828.0),
        ("1.828 kJ/(kg K)", "specific heat", 1828.0),
        ("300 W/m2/K", "heat transfer", 300.0),
        ("40 ml/100 g", "ratio", 40.0),
        ("1.05 g/cm3", "density", 1050.0),
        ("1 1/4 in", "length", 1.25 * 0.0254),
        ("1 h 15 min", "time", 4500.0),
        ("300 rpm", "speed", 300 * 3.14159265 / 30),
        ("25 mN/m", "surface tension", 0.025),
        ("0.5 Pa s", "viscosity", 0.5),
        ("112.6 J/g", "latent heat", 112600.0),
        ("10 l/min", "volume flow", 0.01 / 60),
        ("-0.037 %", "percent", -0.00037),
        ("1.5", "number", 1.5),
        ("28 inHg", "pressure", 28 * 3386.389),
    ],
)
def test_quantities_of_the_rules_are_read(text: str, dimension: str, si: float) -> None:
    assert quantity(text, dimension) == pytest.approx(si, rel=3e-6)


@pytest.mark.parametrize(
    ("text", "dimension"),
    [("307", "temperature"), ("-500 F", "temperature"), ("-3 mm", "length"), ("2 oz", "mass"), ("3 F", "time"),
     ("1e400 s", "time"), ("5 to 6 min", "time"), ("2.7", "percent"), ("nan s", "time"), ("", "number")],
)  # fmt: skip
def test_a_doubtful_quantity_in_the_rules_is_refused(text: str, dimension: str) -> None:
    with pytest.raises(BadInput):
        quantity(text, dimension)


@pytest.mark.parametrize(
    ("text", "dimension", "low", "high"),
    [
        ("1 min to 8 h", "time", 60.0, 28800.0),
        ("15 C to 35 C", "temperature", 288.15, 308.15),
        ("-5 to 5 C", "temperature", 268.15, 278.15),
        ("38 to 42 ml/100 g", "ratio", 38.0, 42.0),
        ("0.5 to 1.5", "number", 0.5, 1.5),
        ("2 to 3 %", "percent", 0.02, 0.03),
        ("1/4 in to 1 1/2 in", "length", 0.00635, 0.0381),
        ("1e-8 m2/s to 1e-6 m2/s", "diffusivity", 1e-8, 1e-6),
        ("-1 to 10 bar", "pressure", -1e5, 1e6),
    ],
)
def test_ranges_of_the_rules_are_read(text: str, dimension: str, low: float, high: float) -> None:
    assert span(text, dimension) == pytest.approx((low, high), rel=3e-6)


def test_one_value_is_no_range() -> None:
    with pytest.raises(BadInput) as caught:
        span("5 min", "time")
    assert str(caught.value) == '"5 min" is one value where a range is needed. Write it as: low to high.'
