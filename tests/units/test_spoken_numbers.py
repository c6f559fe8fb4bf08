"""Numbers said in words are read; words that are no number are refused with what to do instead."""

from __future__ import annotations

import pytest

from diagnose.rulebase.cases import recorded
from diagnose.rulebase.load import RuleBase
from diagnose.units import Reject, Value, read


@pytest.mark.parametrize(
    ("text", "dimension", "expected"),
    [
        ("half an hour", "time", 1800.0),
        ("Half an hour", "time", 1800.0),
        ("an hour and a half", "time", 5400.0),
        ("two and a half hours", "time", 9000.0),
        ("3 hours and a quarter", "time", 11700.0),
        ("about two hours", "time", 7200.0),
        ("three quarters of an hour", "time", 2700.0),
        ("a quarter of an inch", "length", 0.00635),
        ("quarter inch", "length", 0.00635),
        ("three quarter inch", "length", None),  # 3/4 in, or three of a quarter
        ("an inch and a half", "length", 0.0381),
        ("1 and 1/2 in", "length", 0.0381),
        ("half a pound", "mass", 0.22679619),
        ("twelve mm", "length", 0.012),
        ("none", "pressure", 0.0),
        ("no vacuum", "pressure", 0.0),
        ("zero", "length", 0.0),
        ("none", "length", None),  # said of an altitude it means that nobody told
        ("zero", "temperature", None),  # of which scale?
        ("a", "number", None),
    ],
)
def test_a_number_in_words_is_read_where_it_can_mean_one_thing(
    text: str, dimension: str, expected: float | None
) -> None:
    found = read(text, dimension, None, bare="refuse")
    if expected is None:
        assert isinstance(found, Reject)
    else:
        assert isinstance(found, Value), found
        assert found.si == pytest.approx(expected, rel=1e-5)


@pytest.mark.parametrize(
    ("text", "dimension", "instead"),
    [
        ("room temperature", "temperature", "read a thermometer"),
        ("Ambient", "temperature", "read a thermometer"),
        ("cherry red", "temperature", "pyrometer"),
        ("boiling", "temperature", "higher the place"),
        ("luke-warm", "temperature", "measure it"),
        ("full vacuum", "pressure", "read the gauge"),
        ("sea level", "pressure", "barometer"),
        ("overnight", "time", "Count it"),
        ("14k", "percent", "write the fineness"),
    ],
)
def test_words_that_are_no_number_are_refused_with_what_to_do(text: str, dimension: str, instead: str) -> None:
    found = read(text, dimension, None)
    assert isinstance(found, Reject)
    assert instead in found.reason
    assert "is no number" in found.reason


@pytest.mark.parametrize("typed", ["sea level", "at sea level", "Sea level", "0", "0 ft", "zero"])
def test_a_shop_at_sea_level_lies_at_nothing(base: RuleBase, typed: str) -> None:
    assert recorded(base.words.settings["altitude"], typed).value == 0.0


def test_sterling_is_925_in_a_thousand(base: RuleBase) -> None:
    # common practice: the mark 925 of sterling silver
    assert recorded(base.words.settings["wanted fineness"], "sterling").value == pytest.approx(0.925)


def test_what_is_not_plausible_is_said_in_the_unit_typed_first(base: RuleBase) -> None:
    start = base.words.settings["rubber start temperature"]
    reject = read("65 C", "temperature", start.unit_us, (start.plausible_low, start.plausible_high), bare="refuse")
    assert isinstance(reject, Reject)
    assert "expected -10 to 60 °C (14 to 140 °F)" in reject.reason
