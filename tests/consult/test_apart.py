"""What tells two causes apart: a factor between their odds, and nothing where the rules say the same of both."""

from __future__ import annotations

from math import log, sqrt
from pathlib import Path

import pytest

from diagnose.consult import Consultant
from diagnose.consult.apart import not_apart, pairs
from diagnose.consult.proof import prove
from diagnose.derive.resolve import Resolver
from diagnose.rulebase.load import RuleBase
from tests.rulebase.folders import small_folder

STRONG, POSITIVE = sqrt(20 * 150), sqrt(3 * 20)  # Kass & Raftery, J. Am. Stat. Assoc. 90, 773 (1995)
FOR_GAUGE = "{for: strong, when: {gauge check: differs}"
AGAINST_GAUGE = "{against: strong, when: {gauge check: agrees}"
NAME = "investment.weak-vacuum"


def consultant(at: Path, *changes: tuple[str, str]) -> Consultant:
    folder = small_folder(at)
    file = folder / "investment" / "weak-vacuum.yaml"
    text = file.read_text()
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    file.write_text(text)
    base = RuleBase(folder)
    return Consultant(base, Resolver((), base.words.settings, base.words.slots))


def test_the_best_finding_for_each_pair_is_the_one_with_the_largest_factor(tmp_path: Path) -> None:
    found = {(p.cause, p.other): p for p in pairs(consultant(tmp_path).desk(NAME))}
    hose_oil = found["investment.hose-leaks", "investment.oil-wet"]
    assert hose_oil.apart == pytest.approx(log(STRONG))
    assert hose_oil.by in ("leak sound: hisses", "leak sound: silent", "pump oil: milky")


def test_causes_with_the_same_evidence_are_not_told_apart(tmp_path: Path) -> None:
    of = consultant(
        tmp_path,
        (FOR_GAUGE, "{for: strong, when: {leak sound: hisses}"),
        (AGAINST_GAUGE, "{against: slight, when: {leak sound: silent}"),
    )
    # Strong against the one, slight against the other: a factor of 55 over 1.7 tells them apart.
    assert not_apart(of.desk(NAME)) == []
    of = consultant(
        tmp_path / "again",
        (FOR_GAUGE, "{for: strong, when: {leak sound: hisses}"),
        (AGAINST_GAUGE, "{against: strong, when: {leak sound: silent}"),
    )
    assert [(p.cause, p.other) for p in not_apart(of.desk(NAME))] == [
        ("investment.hose-leaks", "investment.gauge-wrong")
    ]
    text = " ".join(i.text() for i in prove(of))
    assert "tells it from 'investment.gauge-wrong' (the most that any does: nothing)" in text
    assert "or merge the two" in text


def test_a_slight_difference_is_not_enough_and_a_positive_one_is(tmp_path: Path) -> None:
    def left(weight: str) -> int:
        of = consultant(
            tmp_path / weight,
            (FOR_GAUGE, "{for: strong, when: {leak sound: hisses}"),
            (AGAINST_GAUGE, f"{{against: {weight}, when: {{gauge check: agrees}}"),
            ("{against: strong, when: {leak sound: silent}", "{against: slight, when: {pump oil: dark}"),
        )
        return len([p for p in not_apart(of.desk(NAME)) if p.other == "investment.gauge-wrong"])

    assert left("slight") == 1
    assert left("positive") == 0


def test_a_cause_that_another_always_outweighs_is_named(tmp_path: Path) -> None:
    of = consultant(tmp_path, (FOR_GAUGE, "{for: slight, when: {leak sound: hisses}"))
    found = [i for i in prove(of) if i.id == "investment.gauge-wrong"]
    assert any("at best" in i.what and "first then: investment.hose-leaks" in i.what for i in found)
    assert all(i.line == 17 for i in found)
