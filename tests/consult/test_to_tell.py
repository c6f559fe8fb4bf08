"""What still has to be told before a number is known: through several calculators, never what cannot be had."""

from __future__ import annotations

import pytest

from diagnose.consult import Consultant
from diagnose.consult.outcome import said_answers
from diagnose.consult.to_tell import ToTell
from diagnose.model.case import Case
from diagnose.rulebase.cases import fact_value, told
from diagnose.rulebase.load import RuleBase


def case_of(of: Consultant, defect: str, **facts: str) -> Case:
    case = Case(defect=defect)
    for name, typed in facts.items():
        plain = name.replace("_", " ")
        case = told(case, plain, fact_value(of.base, plain, typed), of.base)
    return case


def still(of: Consultant, fact: str, case: Case, asked: tuple[str, ...] = ()) -> list[str] | None:
    standing = of.stand(case)
    return ToTell(standing.resolved, of.resolver, of.base.words, asked).for_fact(fact)


def test_a_chain_of_calculators_is_followed_to_what_a_person_knows(of: Consultant) -> None:
    case = case_of(of, "mold.soft-core", rubber="natural rubber", rubber_thickness="25 mm")
    assert still(of, "cure time against need", case) == ["platen temperature"]


def test_a_number_that_comes_only_with_one_more_input_asks_for_that(of: Consultant) -> None:
    case = case_of(of, "mold.soft-core", rubber="natural rubber", rubber_thickness="25 mm", platen_temperature="153 C")
    assert still(of, "cure time against need", case) == ["cure time"]


def test_what_was_asked_and_is_not_known_is_not_asked_for_again(of: Consultant) -> None:
    case = case_of(of, "mold.soft-core", rubber="natural rubber", rubber_thickness="25 mm")
    assert still(of, "cure time against need", case, asked=("platen temperature", "top platen temperature")) is None


def test_the_material_is_asked_for_and_not_its_numbers(of: Consultant) -> None:
    found = still(of, "cure time against need", case_of(of, "mold.soft-core", rubber_thickness="25 mm"))
    assert found == ["platen temperature", "rubber"]


def test_two_platens_read_one_by_one_will_do_where_no_common_figure_is_known(of: Consultant) -> None:
    case = case_of(of, "mold.soft-core", rubber="natural rubber", rubber_thickness="25 mm")
    found = still(of, "cure time against need", case, asked=("platen temperature",))
    assert found == ["top platen temperature", "bottom platen temperature"]


def test_a_thick_block_brings_the_question_for_its_cure_time(of: Consultant) -> None:
    # Common practice: whether a soft middle had its minutes is the first thing to find out.
    case = case_of(of, "mold.soft-core", rubber="natural rubber", rubber_thickness="57 mm", platen_temperature="153 C")
    assert "cure time" in [q.name for q in of.questions(of.stand(case), case)]


def test_a_gate_is_sized_only_for_a_section_whose_width_is_known(of: Consultant) -> None:
    """A 3 mm rod has a cooling thickness of 0.75 mm, a 3 mm wall of 1.5 mm (volume over surface): twice the gate."""
    case = case_of(of, "casting.gate-hole", metal="sterling", gate_diameter="2 mm", heaviest_section="3 mm")
    assert "needed gate diameter" not in of.stand(case).resolved.facts
    assert still(of, "needed gate diameter", case) == ["heaviest section width"]


def test_a_number_that_is_computed_from_the_answer_is_said_in_words_and_units(of: Consultant, base: RuleBase) -> None:
    found = 0
    for defect in base.defect_files:
        standing = of.stand(Case(defect=defect))
        for q in of.questions(standing, Case(defect=defect)):
            for words, first in said_answers(standing, q, of.show):
                assert first in standing.ranking.probabilities
                try:
                    float(words)
                except ValueError:
                    found += 1
                else:
                    pytest.fail(f"{defect}: {q.name} answers {words}")
    assert found > 1000
