"""Answers come in the units in which a person writes, unless one system was asked for."""

from __future__ import annotations

import pytest

from diagnose.consult.show import Shower
from diagnose.model.case import Case, Recorded
from diagnose.rulebase.load import RuleBase


def shown(base: RuleBase, system: str, *typed: tuple[str, str]) -> str:
    show = Shower(base, system)
    show.follow(Case(settings={name: Recorded(typed=text, value=1.0) for name, text in typed}))
    return show.system


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ([("rubber thickness", "25 mm"), ("platen temperature", "153 C")], "metric"),
        ([("rubber thickness", "1 in"), ("platen temperature", "307 F")], "us"),
        ([("rubber thickness", "25 mm"), ("platen temperature", "307 F"), ("wax temperature", "67 °C")], "metric"),
        ([("wax temperature", "68 C")], "metric"),
        ([("wax temperature", "154 °F"), ("rubber thickness", "25 mm"), ("platen temperature", "307 F")], "us"),
        ([("cure time", "45 min")], "us"),  # minutes belong to both
        ([("rubber thickness", "25")], "us"),
        ([], "us"),
    ],
)
def test_the_units_written_most_are_shown(base: RuleBase, typed: list[tuple[str, str]], expected: str) -> None:
    assert shown(base, "", *typed) == expected


def test_as_many_of_one_as_of_the_other_change_nothing(base: RuleBase) -> None:
    show = Shower(base, "")
    show.follow(Case(settings={"rubber thickness": Recorded(typed="25 mm", value=1.0)}))
    both = {"rubber thickness": "25 mm", "platen temperature": "307 F"}
    show.follow(Case(settings={name: Recorded(typed=text, value=1.0) for name, text in both.items()}))
    assert show.system == "metric"


def test_a_system_that_was_named_stays(base: RuleBase) -> None:
    assert shown(base, "us", ("rubber thickness", "25 mm")) == "us"
    assert shown(base, "metric", ("rubber thickness", "1 in")) == "metric"
