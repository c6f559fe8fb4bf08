"""The page of a defect, a cause or a rule can be read by somebody who has never seen the file."""

from __future__ import annotations

import pytest

from diagnose.errors import BadInput
from diagnose.report.knowledge import knowledge_lines
from diagnose.rulebase.load import RuleBase


def text(base: RuleBase, name: str, system: str = "us") -> str:
    return " ".join(line.text.strip() for line in knowledge_lines(base, name, 90, system))


def test_conditions_read_as_words_with_units(base: RuleBase) -> None:
    page = text(base, "mold.soft-core")

    assert "time rule: same for all molds." in page
    assert "cure time against need below 0.75." in page


def test_numbers_come_in_the_units_asked_for(base: RuleBase) -> None:
    rule = next(
        r for r in base.defect("mold.soft-core").rules() if r.when.kind == "within" and "1.97 in" in text(base, r.id)
    )

    assert "50 mm" in text(base, rule.id, "metric")


def test_a_rule_says_where_it_stands_and_why(base: RuleBase) -> None:
    rule = base.defect("mold.soft-core").rules()[0]
    page = text(base, rule.id)

    assert rule.because in page
    assert f"line {rule.line}" in page


@pytest.mark.parametrize("name", ["mold.soft-cor", "mold.soft-core/nothing", "florble", ""])
def test_an_unknown_name_is_refused_with_a_way_on(base: RuleBase, name: str) -> None:
    with pytest.raises(BadInput) as caught:
        knowledge_lines(base, name, 80)

    assert caught.value.next_step
