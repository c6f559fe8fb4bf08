"""The balance of evidence on each cause, and what would settle between them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagnose.consult.ask import OpenQuestion
from diagnose.consult.outcome import After, after_each
from diagnose.consult.rank import UNLISTED
from diagnose.consult.show import effort
from diagnose.consult.standing import Standing
from diagnose.model.diagnosis import RankedCause
from diagnose.model.explanation import Balance, Outcome, Settling, Shift, Unknown

if TYPE_CHECKING:
    from diagnose.consult.consultant import Consultant

MATTERS = 0.05  # an answer that moves a cause less is not worth naming
MOST_UNKNOWN = 4
MOST_ROWS = 5
SHOWN_FROM = 0.02
UNLISTED_WORDS = "It always competes as one occasional cause, with no evidence for or against it."

Known = dict[str, list[After]]


def outcomes_of(of: Consultant, standing: Standing, questions: list[OpenQuestion]) -> Known:
    """Return what each outcome of each open question would lead to, by the question's name."""
    return {q.name: after_each(standing, q, of.show) for q in questions}


def balance(
    of: Consultant, standing: Standing, cause: RankedCause, questions: list[OpenQuestion], after: Known
) -> Balance:
    """Return the evidence on one cause laid out."""
    counted = [e for e in cause.evidence if e.counted]
    candidate = next((c for c in standing.desk.defect.candidates if c.cause == cause.id), None)
    return Balance(
        cause=cause.id, name=cause.name, stage=cause.stage, probability=cause.probability,
        often=candidate.often if candidate else "occasional",
        how=cause.how if candidate else UNLISTED_WORDS,
        here=cause.here.words if cause.here else "",
        speaks_for=tuple(e for e in counted if e.speaks == "for"),
        speaks_against=tuple(e for e in counted if e.speaks == "against"),
        says_the_same=tuple(e for e in cause.evidence if not e.counted),
        would_matter=_unknown(of, cause, questions, after),
    )  # fmt: skip


def _unknown(of: Consultant, cause: RankedCause, questions: list[OpenQuestion], after: Known) -> tuple[Unknown, ...]:
    found: list[tuple[float, Unknown]] = []
    for q in questions:
        moves = [abs(a.ranking.probabilities[cause.id] - cause.probability) for a in after[q.name]]
        if cause.id == UNLISTED or max(moves, default=0.0) < MATTERS:
            continue
        outcomes = tuple(
            Outcome(
                answers=a.answers, chance=a.chance, probability=a.ranking.probabilities[cause.id],
                first=of.show.cause(a.ranking.first()),
            )
            for a in after[q.name]
        )  # fmt: skip
        unknown = Unknown(
            name=q.fact or q.name, kind=q.kind, question=asked(of, q), effort=effort(q.effort), outcomes=outcomes
        )
        found.append((max(moves), unknown))
    found.sort(key=lambda pair: -pair[0])
    return tuple(u for _, u in found[:MOST_UNKNOWN])


def asked(of: Consultant, q: OpenQuestion) -> str:
    """Return the words in which a question is asked."""
    words = of.base.words
    if q.name in words.observations:
        return words.observations[q.name].ask
    return words.settings[q.name].ask if q.name in words.settings else words.slots[q.name].ask


def settling(of: Consultant, standing: Standing, questions: list[OpenQuestion], after: Known) -> tuple[Settling, ...]:
    """Return the best test for its effort and, when that is no bench test, the best bench test too."""
    if not questions:
        return ()
    chosen = [questions[0]]
    if questions[0].kind != "bench test":
        chosen += [q for q in questions[1:] if q.kind == "bench test"][:1]
    return tuple(_settling(of, standing, q, after[q.name]) for q in chosen)


def _settling(of: Consultant, standing: Standing, q: OpenQuestion, after: list[After]) -> Settling:
    seen = of.base.words.observations.get(q.name)
    test = seen.bench_test if seen else None
    now = standing.ranking.probabilities
    leading = {a.ranking.first() for a in after}
    order = sorted(now, key=lambda c: -max(now[c], *(a.ranking.probabilities[c] for a in after)))
    shown = [c for c in now if c in leading or c in order[:MOST_ROWS]]
    shown = [c for c in shown if max(now[c], *(a.ranking.probabilities[c] for a in after)) >= SHOWN_FROM]
    table = tuple(
        Shift(cause=c, name=of.show.cause(c), now=now[c], then=tuple(a.ranking.probabilities[c] for a in after))
        for c in shown
    )
    prefix = "" if q.fact in ("", q.name) or q.kind in ("observation", "bench test") else f"{q.fact} "
    return Settling(
        name=q.name, kind=q.kind, question=asked(of, q), effort=effort(q.effort),
        steps=test.do if test else (), caution=test.caution if test else "",
        outcomes=tuple(tuple(prefix + one for one in a.answers) for a in after),
        chances=tuple(a.chance for a in after), table=table,
    )  # fmt: skip
