"""One function for the question why: everything that stands behind a diagnosis, and behind the earlier fault."""

from __future__ import annotations

from diagnose.consult.balance import balance, outcomes_of, settling
from diagnose.consult.chain import chain
from diagnose.consult.changes import Changes
from diagnose.consult.consultant import Consultant
from diagnose.consult.good_run import compared
from diagnose.consult.rank import UNLISTED
from diagnose.consult.standing import Standing
from diagnose.consult.unfold import unfolded
from diagnose.consult.why_not import why_not
from diagnose.errors import BadInput
from diagnose.model.case import Case
from diagnose.model.diagnosis import Diagnosis, RankedCause
from diagnose.model.explanation import Balance, ExplainedDiagnosis, Explanation, Link, WhyNot


def explain(of: Consultant, case: Case, diagnosis: Diagnosis) -> Explanation:
    """Return why a diagnosis of a case says what it says."""
    standing = of.stand(case)
    questions = of.questions(standing, case)
    after = outcomes_of(of, standing, questions)
    changes = Changes(standing, of.resolver, case.known(), of.show)
    earlier = diagnosis.upstream
    return Explanation(
        defect=diagnosis.defect, defect_name=diagnosis.defect_name, stage=diagnosis.stage,
        balances=tuple(balance(of, standing, c, questions, after) for c in diagnosis.causes),
        numbers=unfolded(of, standing),
        why_not=tuple(why_not(of, standing, c, changes) for c in diagnosis.causes[1:] if c.id != UNLISTED),
        settling=settling(of, standing, questions, after),
        chain=mechanism(of, case, diagnosis),
        upstream=explain(of, case.model_copy(update={"defect": earlier.defect}), earlier) if earlier else None,
    )  # fmt: skip


def explained(of: Consultant, case: Case, good: Case | None = None) -> ExplainedDiagnosis:
    """Return the diagnosis of a case together with why; a good run named counts as evidence."""
    if good is not None:
        by, diagnosis = compared(of, case, good)
        return ExplainedDiagnosis(**dict(diagnosis), explanation=explain(by, by.case, diagnosis))
    found = of.diagnose(case)
    return ExplainedDiagnosis(**dict(found), explanation=explain(of, case, found))


def mechanism(of: Consultant, case: Case, diagnosis: Diagnosis) -> tuple[Link, ...]:
    """Return the chain from what was set to what is seen, the earliest fault first."""
    stands: list[tuple[Standing, RankedCause]] = []
    now: Diagnosis | None = diagnosis
    while now is not None:
        stands.insert(0, (of.stand(case.model_copy(update={"defect": now.defect})), now.causes[0]))
        now = now.upstream
    return chain(of, stands)


def why(of: Consultant, case: Case, cause: str) -> Balance:
    """Return the balance of evidence on one cause of a case; raise BadInput when it is no candidate."""
    diagnosis, standing = of.diagnose(case), of.stand(case)
    questions = of.questions(standing, case)
    return balance(of, standing, _ranked(diagnosis, cause), questions, outcomes_of(of, standing, questions))


def why_not_first(of: Consultant, case: Case, cause: str) -> WhyNot:
    """Return why one cause of a case is not first; raise BadInput when it is no candidate."""
    standing = of.stand(case)
    changes = Changes(standing, of.resolver, case.known(), of.show)
    return why_not(of, standing, _ranked(of.diagnose(case), cause), changes)


def _ranked(diagnosis: Diagnosis, cause: str) -> RankedCause:
    found = next((c for c in diagnosis.causes if c.id == cause), None)
    if found is None:
        names = "; ".join(c.name for c in diagnosis.causes if c.id != UNLISTED)
        raise BadInput(f"'{cause}' is no candidate cause of {diagnosis.defect_name}.", next_step=f"There are: {names}.")
    return found
