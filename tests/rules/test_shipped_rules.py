"""The shipped rules base: no issue, every cause can come out first, every worked example comes true."""

from __future__ import annotations

from diagnose.consult import Consultant
from diagnose.consult.proof import best_chance, example_faults
from diagnose.derive.all import all_calculators
from diagnose.rulebase.checks import check, counts, provenance
from diagnose.rulebase.load import RuleBase


def test_the_checker_finds_nothing(base: RuleBase) -> None:
    assert [i.text() for i in check(base, all_calculators())] == []


def test_every_cause_of_every_defect_can_come_out_first(of: Consultant) -> None:
    weak = []
    for defect in of.base.all_defects():
        for candidate in defect.candidates:
            p, first = best_chance(of.desk(defect.id), candidate.cause)
            if p < 0.6 or first != candidate.cause:
                weak.append(f"{defect.id}: {candidate.cause} at best {p:.0%}, first then {first}")
    assert weak == []


def test_every_worked_example_comes_true(of: Consultant) -> None:
    faults = [
        f"{d.id}: {e.name}: {fault}"
        for d in of.base.all_defects() for e in d.examples for fault in example_faults(of, d, e)
    ]  # fmt: skip
    assert faults == []


def test_the_base_is_as_large_as_promised_and_nothing_is_unsourced(base: RuleBase) -> None:
    size = counts(base)
    assert size["defects"] >= 15
    assert size["causes"] >= 90
    assert size["rules"] >= 450
    assert size["hand-overs"] >= 12
    assert provenance(base)["no source"][0] == 0
