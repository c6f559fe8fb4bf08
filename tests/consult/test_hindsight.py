"""What the rules say of a case whose cause is known, and what a shop's cases may never do to a diagnosis."""

from __future__ import annotations

from pathlib import Path

import pytest

from diagnose.consult import Consultant
from diagnose.consult.hindsight import candidates_for, counts_for, hindsight
from diagnose.consult.rank import UNLISTED
from diagnose.model.case import Case
from diagnose.model.experience import Experience, RuleCount
from diagnose.rulebase.cases import read_case

CASES = sorted((Path(__file__).resolve().parent.parent.parent / "cases").glob("*.yaml"))
SEAM = "mold.visible-seam"


def seam(**observations: str) -> Case:
    return Case(defect=SEAM, observations=observations)


def said(of: Consultant, case: Case) -> dict[str, bool]:
    """Return by rule id whether it spoke, for the case's own defect."""
    heard = next(iter(hindsight(of, case, ("mold.pack-too-empty",))))
    ids = {rule.key: rule.id for rule in of.base.defect(SEAM).rules()}
    return {ids[key]: spoke for key, spoke in heard.said.items()}


def test_a_rule_spoke_or_was_silent_or_is_left_out_when_what_it_looks_at_was_not_told(of: Consultant) -> None:
    rules = [r for r in of.base.defect(SEAM).rules() if r.when.kind == "is" and r.when.fact == "squeeze-out"]
    found = said(of, seam(**{"squeeze-out": "none"}))
    assert found == {r.id: "none" in r.when.answers for r in rules}
    assert said(of, seam(**{"squeeze-out": "not known"})) == {}


def test_a_case_behind_a_hand_over_counts_for_both_defects(of: Consultant) -> None:
    base = of.base
    later, earlier = next(
        (d, base.defect(c.cause)) for d in base.all_defects() for c in d.candidates if c.cause in base.defect_files
    )
    listed = {c.cause for c in later.candidates}
    cause = next(c.cause for c in earlier.candidates if c.cause not in listed and c.cause in base.causes)
    found = counts_for(base, later.id, (cause,))
    assert earlier.id in found[later.id]
    assert found[earlier.id] == (cause,)


def test_a_cause_listed_nowhere_is_unlisted_and_a_known_one_itself(of: Consultant) -> None:
    defect = of.base.defect(SEAM)
    assert candidates_for(of.base, defect, "mold.pack-too-empty") == ("mold.pack-too-empty",)
    assert candidates_for(of.base, defect, "unheard of") == (UNLISTED,)
    assert counts_for(of.base, "mold.no-such-defect", ("x",)) == {}


def one_sided(of: Consultant, defect: str) -> Experience:
    """Return the experience of a shop where everything was the last candidate and every rule spoke untruly."""
    candidates = of.base.defect(defect).candidates
    only = candidates[-1].cause
    rules = {}
    for rule in of.base.defect(defect).rules():
        never, ever = (only, UNLISTED) if rule.cause != only else (UNLISTED, only)
        spoke = {never: 500} if rule.speaks == "for" else {ever: 500}
        rules[rule.key] = RuleCount(told={only: 500, UNLISTED: 500, rule.cause: 500}, spoke=spoke)
    return Experience(defect=defect, confirmed={only: 5000.0}, rules=rules)


@pytest.mark.parametrize("path", CASES[::3], ids=lambda p: p.stem)
def test_what_a_shop_taught_never_silences_a_caution_nor_makes_a_cause_impossible(path: Path, of: Consultant) -> None:
    case = read_case(path, of.base)
    taught = Consultant(of.base, of.resolver, "us", lambda defect: one_sided(of, defect))
    alone, learned = of.diagnose(case), taught.diagnose(case)
    told = alone.cautions + (alone.upstream.cautions if alone.upstream else ())
    assert set(told) <= set(learned.cautions)
    assert all(c.probability > 0.0 for c in learned.causes)
    assert {c.id for c in learned.causes} == {c.id for c in alone.causes}


def test_a_diagnosis_says_what_it_owes_to_the_shop_and_the_rules_alone_say_nothing_of_it(of: Consultant) -> None:
    case = seam(**{"squeeze-out": "none"})
    taught = Consultant(of.base, of.resolver, "us", lambda defect: one_sided(of, defect))
    found = taught.diagnose(case)
    last = of.base.defect(SEAM).candidates[-1].cause
    assert "5000 confirmed cases" in found.learned
    assert "--without-shop" in found.learned
    here = next(c.here for c in found.causes if c.id == last)
    assert here is not None
    assert here.words == "in this shop 5000 of 5000 such parts were this"
    spoken = [e for c in found.causes for e in c.evidence if e.here is not None]
    assert spoken
    assert spoken[0].here is not None
    assert spoken[0].here.words.startswith("here: right ")
    assert of.diagnose(case).learned == ""
    assert all(c.here is None for c in of.diagnose(case).causes)


def test_questions_and_ranking_go_by_the_same_weights(of: Consultant) -> None:
    # A question's forecast of the ranking after an answer is the ranking after that answer.
    taught = Consultant(of.base, of.resolver, "us", lambda defect: one_sided(of, defect))
    case = seam(**{"squeeze-out": "none"})
    standing = taught.stand(case)
    question = next(q for q in taught.questions(standing, case) if q.kind == "observation")
    for answer, _, first in question.outcomes:
        told = case.model_copy(update={"observations": {**case.observations, question.name: answer}})
        assert taught.stand(told).ranking.first() == first
