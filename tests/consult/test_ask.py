"""What is asked next: the expected information follows from the ranking itself."""

from __future__ import annotations

import pytest

from diagnose.consult import Consultant
from diagnose.consult.rank import rank
from diagnose.consult.standing import scalars
from diagnose.model.case import Case


@pytest.mark.parametrize("defect", ["mold.visible-seam", "mold.voids", "wax.flash", "casting.shrink-porosity"])
def test_each_outcome_leads_where_a_whole_evaluation_leads(defect: str, of: Consultant) -> None:
    case = Case(defect=defect)
    for _ in range(3):
        standing = of.stand(case)
        questions = [q for q in of.questions(standing, case) if q.name in of.base.words.observations]
        for q in questions[:8]:
            for answer, _, first in q.outcomes:
                facts = {**scalars(standing.resolved.facts), q.name: answer}
                desk = standing.desk
                matches = desk.matcher.evaluate(facts, standing.windows)
                whole = rank(desk.prior, (desk.rules[m.rule] for m in matches), desk.weigh)
                best = max(whole.probabilities.values())
                assert whole.probabilities[first] == pytest.approx(best)
            assert sum(p for _, p, _ in q.outcomes) == pytest.approx(1.0)
            assert 0.0 <= q.bits <= standing.ranking.entropy() + 1e-9
        name = questions[0].name
        answer = next(iter(of.base.words.observations[name].answers))
        case = case.model_copy(update={"observations": {**case.observations, name: answer}})


def test_a_question_whose_answer_changes_nothing_is_not_asked(of: Consultant) -> None:
    case = Case(defect="mold.visible-seam")
    looked_at = set(of.desk(case.defect).rule_facts)
    for q in of.questions(of.stand(case), case):
        assert q.bits > 0
        assert q.name in looked_at or q.kind in ("setting", "material")


def test_the_inquiry_settles_when_the_evidence_is_plain(of: Consultant) -> None:
    case = Case(defect="wax.flash", observations={"plates test": "gone with plates", "holding of the mold": "fingers"})
    standing = of.stand(case)
    assert standing.ranking.first() == "wax.no-plates"
    assert standing.ranking.probabilities["wax.no-plates"] >= 0.85
