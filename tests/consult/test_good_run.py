"""A good run beside a bad one: what was the same speaks, once, against the causes it accuses; nothing else changes."""

from __future__ import annotations

from math import isclose, sqrt

import pytest

from diagnose.consult import Consultant
from diagnose.consult.explain import explained
from diagnose.consult.good_run import compared
from diagnose.consult.side_by_side import side_by_side
from diagnose.errors import BadInput
from diagnose.model.case import Case
from diagnose.rulebase.cases import fact_value, told

POSITIVE = sqrt(3 * 20)  # geometric middle of the band of the word (Kass & Raftery, J. Am. Stat. Assoc. 90, 773, 1995)
GATE = {"gate diameter": "2 mm", "heaviest section": "4 mm", "heaviest section width": "6 mm"}


def case_of(of: Consultant, facts: dict[str, str], defect: str = "", part: str = "") -> Case:
    case = Case(defect=defect, part=part)
    for name, typed in facts.items():
        case = told(case, name, fact_value(of.base, name, typed), of.base)
    return case


@pytest.fixture
def bad(of: Consultant) -> Case:
    return case_of(of, {**GATE, "where the pores lie": "at the gate"}, "casting.shrink-porosity", "bad ring")


def test_settings_that_were_the_same_divide_the_odds_of_what_they_accuse_by_one_positive_factor(
    of: Consultant, bad: Case
) -> None:
    before = {c.id: c.probability for c in of.diagnose(bad).causes}
    _, found = compared(of, bad, case_of(of, GATE, part="good ring"))
    after = {c.id: c.probability for c in found.causes}
    accused = {a.cause for a in found.good_run.against}
    assert "tree.gate-freezes-early" in accused
    for cause, p in before.items():
        odds = (after[cause] / after["unlisted"]) / (p / before["unlisted"])
        assert isclose(odds, 1.0 / POSITIVE if cause in accused else 1.0, rel_tol=1e-9), cause


def test_it_is_said_openly_and_counted_once_for_each_cause(of: Consultant, bad: Case) -> None:
    _, found = compared(of, bad, case_of(of, GATE, part="good ring"))
    cause = next(c for c in found.causes if c.id == "tree.gate-freezes-early")
    (said,) = [e for e in cause.evidence if e.about == "the good run"]
    assert (said.speaks, said.weight, said.counted) == ("against", "positive", True)
    assert {f.name for f in said.facts} == {f"{n} in the good run" for n in GATE}
    assert "Kepner" in said.source


@pytest.mark.parametrize(
    "good",
    [{**GATE, "gate diameter": "5 mm"}, {"gate diameter": "2 mm"}, {k: GATE[k] for k in list(GATE)[:2]}],
)  # fmt: skip
def test_a_setting_that_differs_or_was_not_noted_clears_nothing(
    of: Consultant, bad: Case, good: dict[str, str]
) -> None:
    _, found = compared(of, bad, case_of(of, good))
    assert "tree.gate-freezes-early" not in {a.cause for a in found.good_run.against}
    assert found.causes[0].probability == pytest.approx(of.diagnose(bad).causes[0].probability)


def test_settings_that_differ_stand_first(of: Consultant, bad: Case) -> None:
    good = case_of(of, {**GATE, "gate diameter": "5 mm", "where the pores lie": "all over"})
    _, found = compared(of, bad, good)
    assert next((p.name, p.kind) for p in found.good_run.differ) == ("gate diameter", "setting")
    assert [p.kind for p in found.good_run.differ] == ["setting", "observation"]
    assert {p.name for p in found.good_run.same} == {"heaviest section", "heaviest section width"}


def test_less_than_half_a_usual_step_is_the_same(of: Consultant, bad: Case) -> None:
    step = of.base.words.settings["gate diameter"].usual_step
    assert step is not None
    for share, kind in ((0.4, "same"), (0.6, "differ")):
        good = case_of(of, {**GATE, "gate diameter": f"{1000 * (2e-3 + share * step):.6f} mm"})
        found = compared(of, bad, good)[1].good_run
        assert "gate diameter" in {p.name for p in getattr(found, kind)}


def test_a_run_with_the_same_fault_is_not_taken_for_a_good_one(of: Consultant, bad: Case) -> None:
    with pytest.raises(BadInput, match="the good run has the same fault"):
        compared(of, bad, bad)


def test_a_diagnosis_against_a_good_run_can_be_explained(of: Consultant, bad: Case) -> None:
    found = explained(of, bad, case_of(of, GATE))
    assert found.good_run is not None
    balance = next(b for b in found.explanation.balances if b.cause == "tree.gate-freezes-early")
    assert any(e.about == "the good run" for e in balance.speaks_against)


def test_two_cases_side_by_side_differ_in_what_was_told_differently_and_in_what_that_says(
    of: Consultant, bad: Case
) -> None:
    wide = case_of(of, {**GATE, "gate diameter": "6 mm", "where the pores lie": "at the gate"}, bad.defect, "wide gate")
    found = side_by_side(of, bad, wide)
    assert found.parts == ("bad ring", "wide gate")
    assert next((p.name, p.one, p.other) for p in found.differ) == ("gate diameter", "2 mm", "6 mm")
    assert "gate freezes before part" in {p.name for p in found.differ}
    gate = next(c for c in found.causes if c.cause == "tree.gate-freezes-early")
    assert gate.one is not None
    assert gate.other is not None
    assert gate.one > gate.other
    # Geometry: a rod of 2 mm has the modulus 0.5 mm and freezes before a bar of 1.2 mm; one of 6 mm (1.5 mm) after it.
    assert any("gate" in e.because and e.speaks == "for" for e in gate.only_one)
    assert any(e.speaks == "against" for e in gate.only_other)
    swapped = side_by_side(of, wide, bad)
    assert {(c.cause, c.one, c.other) for c in swapped.causes} == {(c.cause, c.other, c.one) for c in found.causes}
