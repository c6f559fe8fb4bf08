"""Why a cause is not first: what speaks against it, what is missing, and what would have to be different."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagnose.consult.changes import Changes, Tried
from diagnose.consult.condition_words import in_words
from diagnose.consult.rank import UNLISTED
from diagnose.consult.standing import Standing
from diagnose.model.condition import facts_of
from diagnose.model.diagnosis import RankedCause
from diagnose.model.explanation import Change, Way, WhyNot

if TYPE_CHECKING:
    from diagnose.consult.consultant import Consultant

MOST_MISSING = 4


def why_not(of: Consultant, standing: Standing, cause: RankedCause, changes: Changes) -> WhyNot:
    """Return why a cause is not first."""
    first = standing.ranking.first()
    ways = changes.ways(cause.id) if cause.id not in (UNLISTED, first) else []
    return WhyNot(
        cause=cause.id, name=cause.name, probability=cause.probability, first=first, first_name=of.show.cause(first),
        speaks_against=tuple(e for e in cause.evidence if e.counted and e.speaks == "against"),
        missing=_missing(of, standing, cause.id),
        ways=tuple(_way(of, standing, t, cause.id) for t in ways),
    )  # fmt: skip


def _missing(of: Consultant, standing: Standing, cause: str) -> tuple[str, ...]:
    """Return the signs of a cause that were looked for and are not there, the strongest first."""
    facts, applied = standing.resolved.facts, {r.id for r in standing.applied}
    votes = {about for c, about in standing.votes if c == cause}
    found: list[tuple[float, str]] = []
    for rule in standing.desk.rules.values():
        names = facts_of(rule.when)
        looked_for = all(n in facts for n in names)
        if rule.cause != cause or rule.speaks != "for" or rule.id in applied or not looked_for or rule.about in votes:
            continue
        here = ", ".join(f"{n}: {of.show.value(n, facts[n])}" for n in names)
        text = f"{in_words(rule.when, of.show)} ({standing.desk.word(rule)} sign); here {here}. {rule.because}"
        found.append((-standing.desk.weigh(rule), text))
    return tuple(text for _, text in sorted(found)[:MOST_MISSING])


def _way(of: Consultant, standing: Standing, tried: Tried, cause: str) -> Way:
    facts = standing.resolved.facts
    changes = tuple(
        Change(name=c.fact, now=of.show.value(c.fact, facts[c.fact]) if c.fact in facts else "not known", then=c.words)
        for c in tried.changes
    )
    return Way(changes=changes, probability=tried.ranking.probabilities[cause])
