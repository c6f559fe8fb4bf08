"""Exercises from confirmed cases of the shop's own library: what it turned out to be is hidden."""

from __future__ import annotations

from collections.abc import Iterable

from diagnose.consult import Consultant
from diagnose.consult.hindsight import candidates_for
from diagnose.consult.rank import UNLISTED
from diagnose.errors import BadInput
from diagnose.model.case import Case
from diagnose.model.exercise import Exercise, Level
from diagnose.model.vocabulary import NOT_KNOWN
from diagnose.teach.bench import facts_of, only
from diagnose.teach.made import LESS_COMMON, opening

ENOUGH_FACTS = 2
"""So many recorded facts must be left to ask for."""
LIKELY = 0.5
"""With everything known, the confirmed cause must have at least this chance, or nobody could find it."""
MOST_LOOKED_AT = 300
ORIGIN = "A part of this shop's own, from its case library."
NONE = (
    "no confirmed case in the library will do{where} ({count} looked at): its recorded facts must lead to its cause, "
    "with {facts} or more of them left to ask for."
)


def from_cases(of: Consultant, cases: Iterable[tuple[str, Case]], level: Level, only_defect: str = "") -> Exercise:
    """Return the exercise that the first fitting case makes; raise BadInput when none fits.

    Each case comes with its name, in the order they are to be tried.
    """
    looked_at = 0
    for name, case in cases:
        if looked_at == MOST_LOOKED_AT:
            break
        looked_at += 1
        found = _exercise(of, name, case, level)
        if found is not None:
            return found
    if not looked_at:
        raise BadInput(
            "the library has no confirmed case" + (f" of {only_defect}." if only_defect else "."),
            next_step="Confirm some (`diagnose library confirm`), or leave out --own-cases.",
        )
    where = f" at level {level}" + (f" for {only_defect}" if only_defect else "")
    raise BadInput(
        NONE.format(where=where, facts=ENOUGH_FACTS, count=looked_at),
        next_step="Try another --level, or leave out --own-cases: `diagnose teach quiz --list` shows the shipped ones.",
    )


def _exercise(of: Consultant, name: str, case: Case, level: Level) -> Exercise | None:
    """Return a case as an exercise, or None when its cause could not be found, or would be plain from the start."""
    cause = _hidden(of, case)
    if cause is None:
        return None
    answered = {n: a for n, a in case.observations.items() if n in of.base.words.observations and a != NOT_KNOWN}
    plain = case.model_copy(update={"confirmed": (), "trials": (), "notes": "", "part": "", "observations": answered})
    standing = of.stand(plain)
    prior = standing.desk.prior
    if standing.ranking.first() != cause or standing.ranking.probabilities[cause] < LIKELY:
        return None
    if level == LESS_COMMON and prior[cause] >= max(p for c, p in prior.items() if c != UNLISTED):
        return None
    told = opening(of, plain, cause, level, plain.settings)
    exercise = Exercise(
        title=f"{case.part or of.base.defect(case.defect).name} (own case)", level=level, case=plain, told=told,
        cause=cause, origin=ORIGIN, ending=_ending(name, case),
    )  # fmt: skip
    left = len(facts_of(plain)) - len(told)
    return exercise if left >= ENOUGH_FACTS and not _settled_at_once(of, exercise) else None


def _hidden(of: Consultant, case: Case) -> str | None:
    """Return the one candidate of the case's defect that its confirmed cause counts for, or None."""
    if not case.defect or len(case.confirmed) != 1:
        return None
    found = candidates_for(of.base, of.base.defect(case.defect), case.confirmed[0])
    return found[0] if len(found) == 1 and found[0] != UNLISTED else None


def _settled_at_once(of: Consultant, exercise: Exercise) -> bool:
    if exercise.level == 1:
        return False
    known = only(exercise.case, frozenset(exercise.told))
    standing = of.stand(known)
    return of.settled(standing, of.questions(standing, known))


def _ending(name: str, case: Case) -> tuple[str, ...]:
    """Return what the library holds beyond the facts, for after the marking."""
    written = f"It was case {name}" + (f" of {case.date}." if case.date else ".")
    notes = (f"Noted: {case.notes}",) if case.notes else ()
    return (written, *notes, *(f"Tried: {t.changed} Outcome: {t.outcome}" for t in case.trials))
