"""A good run as evidence: what was the same in it did not bring the fault on.

The comparison of what is with what could be and is not: C. H. Kepner, B. B. Tregoe, The Rational Manager, 1965.
Rules accuse settings: they speak for a cause because of what was set. When every setting by which a cause is accused
was the same in a run that came out well, that speaks against the cause, `positive`, once for all of them together.
When one of them differs, or was not noted in both, nothing is said.
"""

from __future__ import annotations

from diagnose.consult.chain import roots
from diagnose.consult.consultant import Consultant
from diagnose.consult.side_by_side import compare_facts, is_same
from diagnose.consult.standing import Desk, Standing
from diagnose.errors import BadInput
from diagnose.model.case import Case
from diagnose.model.comparison import ComparedDiagnosis, GoodRun, SpokenAgainst
from diagnose.model.condition import All, Is, facts_of
from diagnose.model.knowledge import Candidate, Rule

SAME = "the same"
SOURCE = "from memory of C. H. Kepner, B. B. Tregoe, The Rational Manager, 1965, McGraw-Hill, New York"
BECAUSE = "A run that came out well was set the same; a fault that comes from this alone would have been there too."


class AgainstGoodRun(Consultant):
    """A consultant for one bad case who also knows a good run; everything else works as without it."""

    def __init__(self, of: Consultant, bad: Case, good: Case) -> None:
        super().__init__(of.base, of.resolver, of.show.system, of.experience)
        if good.defect and good.defect == bad.defect:
            raise BadInput(
                f"the good run has the same fault: {of.base.defect(good.defect).name}.", where=good.part,
                next_step="Name a run that came out without it.",
            )  # fmt: skip
        self.good = good.known()
        told = bad.known()
        self.same = frozenset(
            n for n, v in told.items() if self._set(n) and n in self.good and is_same(of, n, v, self.good[n])
        )
        self.case = bad.model_copy(
            update={"observations": {**bad.observations, **{_fact(n): SAME for n in sorted(self.same)}}}
        )
        self._without = of
        self._bad = bad

    def _told_as(self, fact: str) -> str:
        slot = self.base.words.slot_of_kind(fact)
        return slot.name if slot else fact

    def _set(self, fact: str) -> bool:
        return fact in self.base.words.settings or fact in self.base.words.slots

    def desk(self, defect: str) -> Desk:
        """Return a defect with its rules compiled, those that the good run adds included."""
        if defect not in self._desks:
            plain = self._without.desk(defect)
            standing = self._without.stand(self._bad.model_copy(update={"defect": defect}))
            candidates = tuple(self._with_good_run(standing, c) for c in plain.defect.candidates)
            self._desks[defect] = Desk(
                self.base, plain.defect.model_copy(update={"candidates": candidates}), plain.learned
            )
        return self._desks[defect]

    def _with_good_run(self, standing: Standing, candidate: Candidate) -> Candidate:
        same = self.cleared_by(standing, candidate)
        if not same:
            return candidate
        rule = Rule(
            id=f"{standing.desk.defect.id}/{candidate.cause}/good-run", cause=candidate.cause, speaks="against",
            weight="positive", when=All(parts=tuple(Is(fact=_fact(n), answers=(SAME,)) for n in same)),
            about="the good run", because=BECAUSE, source=SOURCE,
        )  # fmt: skip
        return candidate.model_copy(update={"rules": (*candidate.rules, rule)})

    def cleared_by(self, standing: Standing, candidate: Candidate) -> tuple[str, ...]:
        """Return the settings by which a cause is accused here, if all of them were the same in the good run."""
        accused: dict[str, None] = {}
        for rule in standing.applied:
            behind = [self._told_as(n) for fact in facts_of(rule.when) for n in roots(standing, fact)]
            if rule.cause == candidate.cause and rule.speaks == "for" and all(map(self._set, behind)):
                accused.update(dict.fromkeys(behind))
        settings = [n for n in accused if n in self.base.words.settings]
        return tuple(sorted(accused)) if settings and all(n in self.same for n in accused) else ()


def _fact(setting: str) -> str:
    return f"{setting} in the good run"


def compared(of: Consultant, bad: Case, good: Case) -> tuple[AgainstGoodRun, ComparedDiagnosis]:
    """Return the diagnosis of a bad case with a good run as evidence, and the consultant who made it."""
    by = AgainstGoodRun(of, bad, good)
    diagnosis, standing = by.diagnose(by.case), of.stand(bad)
    facts = compare_facts(of, bad, good)
    against = [
        SpokenAgainst(cause=c.cause, name=of.show.cause(c.cause), same=by.cleared_by(standing, c))
        for c in standing.desk.defect.candidates
    ]
    run = GoodRun(
        part=good.part, differ=facts.differ, only_in_one=facts.only_in_one, same=facts.same,
        against=tuple(a for a in against if a.same), source=SOURCE,
    )  # fmt: skip
    return by, ComparedDiagnosis(**dict(diagnosis), good_run=run)
