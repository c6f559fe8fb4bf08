"""Eighty things people type, and what each must be read as.

The values are what the words say (1 1/4 is 1.25, an hour has 60 minutes, a foot 12 inches, a pound 16
ounces); what is common practice in workshops is which unit a short word stands for.
"""

from __future__ import annotations

import pytest

from diagnose.units import Ask, Reject, Value, from_si, read
from diagnose.units.convert import into_si
from diagnose.units.table import dimension_named, unit_named

F = ("temperature", "F", 60, 400)
C = ("temperature", "C", 15, 200)
IN = ("length", "in", 0.01, 120)
MM = ("length", "mm", 0.05, 3000)
MIN = ("time", "min", 0.1, 2880)
SEC = ("time", "s", 1, 3600)
BAR = ("pressure", "bar", -1.1, 10)
PSI = ("pressure", "psi", -15, 3000)
HG = ("pressure", "inHg", 0, 31)
GRAM = ("mass", "g", 0.1, 50000)
LB = ("mass", "lb", 0.1, 500)
CHANGE_F = ("temperature change", "F", -100, 100)
CHANGE_C = ("temperature change", "C", -60, 60)
ML = ("volume", "ml", 0.1, 40000)
PERCENT = ("percent", "%", 0, 100)
RPM = ("speed", "rpm", 1, 5000)

Question = tuple[str, str, float, float]

VALUES: list[tuple[str, Question, float, str]] = [
    ("307F", F, 307, "°F"),
    ("307 °F", F, 307, "°F"),
    ("153C", C, 153, "°C"),
    ("153 deg C", C, 153, "°C"),
    ("68 Fahrenheit", F, 68, "°F"),
    ("20º C", C, 20, "°C"),
    ("20 ℃", C, 20, "°C"),
    ("185", F, 185, "°F"),
    ("185", C, 185, "°C"),
    ("85c", F, 85, "°C"),
    ("358 K", C, 358, "K"),
    ("1 1/4 in", IN, 1.25, "in"),
    ('1-1/4"', IN, 1.25, "in"),
    ("1¼ in", IN, 1.25, "in"),
    ('3/8"', IN, 0.375, "in"),
    ("⅜ in", IN, 0.375, "in"),
    ("5' 6\"", IN, 66, "in"),
    ("2 ft 3 in", IN, 27, "in"),
    ("6mm", IN, 6, "mm"),
    ("0,8 mm", MM, 0.8, "mm"),
    ("1:30", MIN, 90, "min"),
    ("1:30", SEC, 90, "s"),
    ("1 hr 15 min", MIN, 75, "min"),
    ("1h15", MIN, 75, "min"),
    ("90 m", MIN, 90, "min"),
    ('45"', SEC, 45, "s"),
    ("2 days", MIN, 2, "d"),
    ("0,8 bar", BAR, 0.8, "bar"),
    ("0.5 Bar", BAR, 0.5, "bar"),
    ("-0.9 bar", BAR, -0.9, "bar"),
    ("80 PSI", PSI, 80, "psi"),
    ("1,000 psi", PSI, 1000, "psi"),
    ("1 000 psi", PSI, 1000, "psi"),
    ("1.000,5 g", GRAM, 1000.5, "g"),
    ("1,250 kg", GRAM, 1.25, "kg"),
    ("2 500 g", GRAM, 2500, "g"),
    ("1 lb 4 oz", LB, 20, "oz av"),
    ("5 gr", GRAM, 5, "g"),
    ("5#", LB, 5, "lb"),
    ("10 F", CHANGE_F, 10, "°F"),
    ("raise by 10 F", CHANGE_F, 10, "°F"),
    ("lower 5 C", CHANGE_C, -5, "°C"),
    ("16 fl oz", ML, 16, "fl oz"),
    ("50 %", PERCENT, 50, "%"),
    ("300 RPM", RPM, 300, "rpm"),
    ("１５０ C", C, 150, "°C"),
    ("0150 C", C, 150, "°C"),
]

# A cubic centimetre is a millilitre; it is shown as it was typed.
SAME_AMOUNT: list[tuple[str, Question, float, str]] = [("5 cc", ML, 5, "ml")]

ABOUT: list[tuple[str, Question, float, str]] = [
    ("~150", C, 150, "°C"),
    ("≈ 150 C", C, 150, "°C"),
    ("about 150", C, 150, "°C"),
    ("150ish", C, 150, "°C"),
]

RANGES: list[tuple[str, Question, float, float]] = [
    ("40-45 C", C, 40, 45),
    ("40–45 °C", C, 40, 45),
    ("40 to 45", C, 40, 45),
    ("40 ± 2 C", C, 38, 42),
]

BASES: list[tuple[str, Question, float, str, str]] = [
    ("80 psig", PSI, 80, "psi", "gauge"),
    ("28 in Hg", HG, 28, "inHg", "gauge"),
    ('28"Hg', HG, 28, "inHg", "gauge"),
    ("28 inches of mercury", HG, 28, "inHg", "gauge"),
    ("5 torr", HG, 5, "torr", "absolute"),
]

ASKED: list[tuple[str, Question, str, list[tuple[float, str]]]] = [
    ("350", C, "unit", [(350, "°C"), (350, "°F")]),
    ("-5 C", C, "unusual", [(-5, "°C")]),
    ("1850 F", F, "unusual", [(1850, "°F")]),
    ("5 mil", IN, "unusual", [(5, "mil")]),
    ("1,250 g", GRAM, "comma", [(1250, "g"), (1.25, "g")]),
]

REJECTED: list[tuple[str, Question, str]] = [
    ("-500 F", F, "-500 °F is below absolute zero."),
    ("45-40 C", C, "The first end of a range must be the smaller one."),
    ("1/0 in", IN, '"1/0" has a zero below the line.'),
    ("1:75", MIN, 'In "1:75" what follows a colon must be below 60.'),
    ("-10 min", MIN, "A time cannot be negative."),
    ("90 F", MIN, "That is a temperature."),
    ("10**10**10", C, 'I can\'t read "10**10**10" as a temperature.'),
    ("1.5.2 C", C, '"1.5.2" is not a number.'),
    ("nan C", C, 'I can\'t read "nan C" as a temperature.'),
    ("150 C; drop table", C, 'I can\'t read "150 C; drop table" as a temperature.'),
    ("high", C, 'I can\'t read "high" as a temperature.'),
    ("12 in", C, "That is a length."),
    ("150 160", C, "That looks like two numbers."),
    ("1_000 psi", PSI, 'I can\'t read "1_000 psi" as a pressure.'),
]


def answer(text: str, question: Question, ranges: bool = True) -> Value | Ask | Reject:
    dimension, unit, low, high = question
    kind, usual = dimension_named(dimension), unit_named(unit, dimension)
    return read(text, dimension, unit, (into_si(low, usual, kind), into_si(high, usual, kind)), ranges)


def value(text: str, question: Question) -> Value:
    found = answer(text, question)
    assert isinstance(found, Value), found
    return found


def test_there_are_eighty() -> None:
    assert sum(map(len, (VALUES, SAME_AMOUNT, ABOUT, RANGES, BASES, ASKED, REJECTED))) == 80


@pytest.mark.parametrize(("text", "question", "number", "unit"), VALUES)
def test_a_reading_is_understood(text: str, question: Question, number: float, unit: str) -> None:
    found = value(text, question)
    assert (found.number, found.unit, found.about, found.to_number) == (number, unit, False, None)
    assert found.typed == text


@pytest.mark.parametrize(("text", "question", "number", "unit"), SAME_AMOUNT)
def test_a_reading_is_the_same_amount(text: str, question: Question, number: float, unit: str) -> None:
    assert from_si(value(text, question).si, unit, question[0]) == number


@pytest.mark.parametrize(("text", "question", "number", "unit"), ABOUT)
def test_about_is_kept(text: str, question: Question, number: float, unit: str) -> None:
    found = value(text, question)
    assert (found.number, found.unit, found.about) == (number, unit, True)


@pytest.mark.parametrize(("text", "question", "low", "high"), RANGES)
def test_a_range_has_two_ends(text: str, question: Question, low: float, high: float) -> None:
    found = value(text, question)
    assert (found.number, found.to_number) == (low, high)
    assert found.to_si == pytest.approx(high + 273.15)


@pytest.mark.parametrize(("text", "question", "number", "unit", "basis"), BASES)
def test_a_pressure_keeps_its_basis(text: str, question: Question, number: float, unit: str, basis: str) -> None:
    found = value(text, question)
    assert (found.number, found.unit, found.basis) == (number, unit, basis)


@pytest.mark.parametrize(("text", "question", "why", "readings"), ASKED)
def test_a_doubtful_reading_is_asked_back(
    text: str, question: Question, why: str, readings: list[tuple[float, str]]
) -> None:
    found = answer(text, question)
    assert isinstance(found, Ask), found
    assert found.why == why
    assert [(one.number, one.unit) for one in found.candidates] == readings


@pytest.mark.parametrize(("text", "question", "reason"), REJECTED)
def test_nonsense_is_refused_with_its_reason(text: str, question: Question, reason: str) -> None:
    found = answer(text, question)
    assert isinstance(found, Reject), found
    assert found.reason.startswith(reason)
    assert dimension_named(question[0]).examples in found.reason
