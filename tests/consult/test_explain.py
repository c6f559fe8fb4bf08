"""Why a diagnosis says what it says: balances add up, what-ifs come true when told, chains run from cause to sight."""

from __future__ import annotations

from math import exp, isclose, log, sqrt

import pytest

from diagnose.consult import Consultant
from diagnose.consult.explain import explain, explained, why, why_not_first
from diagnose.consult.proof import example_case
from diagnose.consult.rank import UNLISTED
from diagnose.consult.signs import SLIP
from diagnose.errors import BadInput
from diagnose.model.case import Case, Recorded
from diagnose.model.explanation import Balance, ExplainedDiagnosis
from diagnose.rulebase.cases import fact_value, told

# Bands of Bayes factors for the words (Kass & Raftery, J. Am. Stat. Assoc. 90, 773, 1995, section 3.2, in twos of ln:
# 1 to 3, 3 to 20, 20 to 150, over 150), each at its geometric middle, the last capped at 200; priors 4 : 2 : 1.
FACTOR = {"slight": sqrt(3), "positive": sqrt(60), "strong": sqrt(3000), "very strong": sqrt(30000)}
SHARE = {"common": 4.0, "occasional": 2.0, "rare": 1.0}


def case_of(of: Consultant, defect: str, **facts: str) -> Case:
    case = Case(defect=defect, part="a part")
    for name, typed in facts.items():
        plain = name.replace("_", " ")
        case = told(case, plain, fact_value(of.base, plain, typed), of.base)
    return case


@pytest.fixture(scope="module")
def thin_gate(of: Consultant) -> Case:
    return case_of(
        of, "casting.shrink-porosity", metal="sterling", gate_diameter="2 mm", heaviest_section="4 mm",
        heaviest_section_width="6 mm", where_the_pores_lie="at the gate", same_place_each_time="same place",
    )  # fmt: skip


@pytest.fixture(scope="module")
def thin_gate_explained(of: Consultant, thin_gate: Case) -> ExplainedDiagnosis:
    return explained(of, thin_gate)


def odds(b: Balance) -> float:
    found = log(SHARE[b.often])
    found += sum(log(e.factor) for e in b.speaks_for)
    return found - sum(log(e.factor) for e in b.speaks_against)


def test_the_balance_of_every_cause_adds_up_to_its_probability(thin_gate_explained: ExplainedDiagnosis) -> None:
    balances = thin_gate_explained.explanation.balances
    total = sum(exp(odds(b)) for b in balances)
    for b in balances:
        assert isclose(b.probability, exp(odds(b)) / total, rel_tol=1e-9), b.name
        # What speaks against counts as its word says, less an allowance for slips; a sign counts at most that.
        assert all(isclose(e.factor, 1.0 / ((1.0 - SLIP) / FACTOR[e.weight] + SLIP)) for e in b.speaks_against)
        assert all(1.0 <= e.factor <= FACTOR[e.weight] * (1 + 1e-9) for e in b.speaks_for)


def test_all_evidence_is_laid_out_once_and_what_says_the_same_is_about_a_state_already_counted(
    thin_gate_explained: ExplainedDiagnosis,
) -> None:
    for cause, b in zip(thin_gate_explained.causes, thin_gate_explained.explanation.balances, strict=True):
        parts = [*b.speaks_for, *b.speaks_against, *b.says_the_same]
        assert sorted(e.rule for e in parts) == sorted(e.rule for e in cause.evidence)
        states = {e.about for e in (*b.speaks_for, *b.speaks_against)}
        assert {e.about for e in b.says_the_same} <= states


def test_what_is_said_to_matter_does_that_when_it_is_told(of: Consultant, thin_gate: Case) -> None:
    first = why(of, thin_gate, "tree.pinched-joint")
    unknown = next(u for u in first.would_matter if u.kind == "observation")
    for outcome in unknown.outcomes:
        for answer in outcome.answers:
            case = told(thin_gate, unknown.name, fact_value(of.base, unknown.name, answer), of.base)
            then = {c.id: c.probability for c in of.diagnose(case).causes}
            assert then["tree.pinched-joint"] == pytest.approx(outcome.probability, abs=1e-3)


def test_a_smallest_change_makes_the_cause_first_when_it_is_told_and_nothing_smaller_does(
    of: Consultant, thin_gate: Case
) -> None:
    words = of.base.words
    for cause in ("tree.pinched-joint", "burnout.flask-too-hot"):
        found = why_not_first(of, thin_gate, cause)
        assert found.ways
        for way in found.ways:
            changed = thin_gate
            for change in way.changes:
                if change.name not in words.observations:
                    break
                changed = told(changed, change.name, fact_value(of.base, change.name, change.then), of.base)
            else:
                best = of.diagnose(changed).causes[0]
                assert best.id == cause
                assert best.probability == pytest.approx(way.probability, abs=1e-6)
        if len(found.ways[0].changes) == 2:
            assert not [o for o in one_answer_otherwise(of, thin_gate) if of.stand(o).ranking.first() == cause]


def one_answer_otherwise(of: Consultant, case: Case) -> list[Case]:
    names = [n for n in of.desk(case.defect).rule_facts if n in of.base.words.observations]
    return [told(case, n, a, of.base) for n in names for a in of.base.words.observations[n].answers]


def test_a_recorded_setting_is_moved_by_as_few_usual_steps_as_it_takes(of: Consultant, thin_gate: Case) -> None:
    ways = why_not_first(of, thin_gate, "tree.gate-long-or-necked").ways
    (change,) = next(w.changes for w in ways if w.changes[0].name == "gate diameter")
    step = of.base.words.settings["gate diameter"].usual_step
    assert step is not None
    then = fact_value(of.base, "gate diameter", change.then)
    assert isinstance(then, Recorded)
    assert isinstance(then.value, float)
    wide = told(thin_gate, "gate diameter", then, of.base)
    nearly = told(thin_gate, "gate diameter", Recorded(typed="", value=then.value - step), of.base)
    assert of.diagnose(wide).causes[0].id == "tree.gate-long-or-necked"
    assert of.diagnose(nearly).causes[0].id != "tree.gate-long-or-necked"
    # A 4 by 6 mm bar has a modulus of 1.2 mm, so a rod of 4.8 mm freezes with it (geometry): a gate thinner than that
    # stays accused.
    assert then.value > 4.8e-3


def test_each_outcome_of_the_settling_test_leads_where_the_table_says(
    of: Consultant, thin_gate: Case, thin_gate_explained: ExplainedDiagnosis
) -> None:
    settling = thin_gate_explained.explanation.settling[0]
    assert sum(settling.chances) == pytest.approx(1.0)
    for n, answers in enumerate(settling.outcomes):
        case = told(thin_gate, settling.name, answers[0], of.base)
        then = {c.id: c.probability for c in of.diagnose(case).causes}
        for row in settling.table:
            assert row.then[n] == pytest.approx(then[row.cause], abs=1e-3)
            assert row.now == pytest.approx({c.id: c.probability for c in thin_gate_explained.causes}[row.cause])


def test_a_number_is_opened_up_to_values_with_units_and_its_assumptions_are_marked(
    thin_gate_explained: ExplainedDiagnosis,
) -> None:
    numbers = {n.name: n for n in thin_gate_explained.explanation.numbers}
    # Cooling thickness of a bar: a b / (2 (a + b)) = 4 x 6 / 20 = 1.2 mm; of a rod a quarter of 2 mm (geometry).
    assert numbers["part modulus"].value == "1.2 mm"
    assert "0.5 mm = 2 mm / 4" in numbers["gate modulus"].with_values[0]
    gate = numbers["needed gate diameter"]
    assert gate.formula == ("needed gate diameter = 4 x feeding margin x part modulus",)
    assumed = [i for i in gate.inputs if i.origin == "assumed"]
    assert [i.name for i in assumed] == ["feeding margin"]
    assert assumed[0].bounds
    assert assumed[0].source
    order = list(numbers)
    assert order.index("part modulus") < order.index("needed gate diameter")


def test_the_chain_runs_from_what_was_set_to_what_is_seen(thin_gate_explained: ExplainedDiagnosis) -> None:
    kinds = [link.kind for link in thin_gate_explained.explanation.chain]
    order = ["setting", "computed", "cause", "sign", "defect"]
    assert kinds == sorted(kinds, key=order.index)
    words = [link.words for link in thin_gate_explained.explanation.chain]
    assert "gate diameter: 2 mm" in words
    assert "gate freezes before part: yes" in words
    assert words[-1] == thin_gate_explained.defect_name


def test_a_chain_over_stages_begins_with_the_earliest_fault_and_names_each_fault_once(of: Consultant) -> None:
    case = case_of(
        of, "casting.seam-line", rubber_at_the_line="line in the rubber", line_and_cut="beside the cut",
        on_the_wax_too="yes",
    )  # fmt: skip
    case = told(case, "squeeze-out", "none", of.base)
    diagnosis = of.diagnose(case)
    assert diagnosis.upstream is not None
    links = explain(of, case, diagnosis).chain
    defects = [link.words for link in links if link.kind == "defect"]
    assert defects == [diagnosis.upstream.defect_name, diagnosis.defect_name]
    stages = [link.stage for link in links if link.stage]
    assert stages.index("mold") < stages.index("casting")


def test_an_undecided_beginning_is_called_undecided(of: Consultant) -> None:
    case = case_of(of, "mold.visible-seam")
    links = explain(of, case, of.diagnose(case)).chain
    assert "not decided" in links[0].words


def test_asking_about_a_cause_that_is_no_candidate_names_those_that_are(of: Consultant, thin_gate: Case) -> None:
    with pytest.raises(BadInput, match="no candidate cause"):
        why(of, thin_gate, "mold.pack-too-empty")


def test_every_worked_example_of_two_defects_can_be_explained(of: Consultant) -> None:
    for defect in ("wax.flash", "wax.incomplete-fill"):
        for example in of.base.defect(defect).examples[:1]:
            found = explained(of, example_case(of, of.base.defect(defect), example))
            assert len(found.explanation.balances) == len(found.causes)
            listed = {w.cause for w in found.explanation.why_not}
            assert listed == {c.id for c in found.causes[1:] if c.id != UNLISTED}
