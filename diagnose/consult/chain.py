"""The mechanism as a short chain: what was set, what that makes of it, why it goes wrong, what is seen."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagnose.consult.rank import UNLISTED
from diagnose.consult.standing import Standing
from diagnose.model.diagnosis import Evidence, RankedCause
from diagnose.model.explanation import Link

if TYPE_CHECKING:
    from diagnose.consult.consultant import Consultant

MOST_SIGNS = 4
DECIDED = 0.5
UNDECIDED = "what brought it about is not decided yet"


def chain(of: Consultant, stands: list[tuple[Standing, RankedCause]]) -> tuple[Link, ...]:
    """Return the chain over some inquiries, the earliest fault first.

    Each inquiry gives its settings, computed numbers, cause, signs and defect; where one hands over to an earlier
    fault, that fault is its cause and has been told already.
    """
    links: list[Link] = []
    for standing, cause in stands:
        if cause.id != UNLISTED:
            links += _links(of, standing, cause, told_already=bool(links))
    return tuple(links)


def _links(of: Consultant, standing: Standing, cause: RankedCause, told_already: bool) -> list[Link]:
    spoken = [e for e in cause.evidence if e.speaks == "for"]
    counted = [e for e in spoken if e.counted]
    found: list[Link] = []
    if not told_already:
        found += _settings(of, standing, spoken)
    found += _computed(of, standing, spoken)
    if cause.probability < DECIDED and not told_already:
        found = [Link(kind="open", words=UNDECIDED, because=f"Leading so far: {cause.name}.")]
    elif not (cause.hand_over and told_already):
        found.append(Link(kind="cause", words=cause.name, because=cause.how, stage=cause.stage))
    found += _signs(of, counted)
    defect = standing.desk.defect
    return [*found, Link(kind="defect", words=defect.name, because=defect.looks, stage=defect.stage)]


def _settings(of: Consultant, standing: Standing, spoken: list[Evidence]) -> list[Link]:
    """Return the recorded settings behind the evidence: those it looks at and those its numbers are computed from."""
    names: dict[str, None] = {}
    for evidence in spoken:
        for fact in evidence.facts:
            for root in roots(standing, fact.name):
                names.setdefault(root)
    words = of.base.words
    told = [
        n for n in names if n in words.settings and n in standing.resolved.facts and n not in standing.resolved.computed
    ]
    told = [n for n in told if isinstance(standing.resolved.facts[n], (float, tuple))]
    seen = {e.facts[0].name: e.because for e in spoken if len(e.facts) == 1}
    return [
        Link(
            kind="setting", words=f"{n}: {of.show.value(n, standing.resolved.facts[n])}", because=seen.get(n, ""),
            stage=words.settings[n].stage,
        )
        for n in told
    ]  # fmt: skip


def roots(standing: Standing, fact: str) -> list[str]:
    """Return the facts, told or of a material, that a fact is computed from; the fact itself if it was told."""
    done = standing.resolved.computed.get(fact)
    if done is None:
        return [fact] if fact in standing.resolved.facts else []
    found: dict[str, None] = {}
    for name in done.inputs:
        if name not in done.assumed and name != fact:
            found.update(dict.fromkeys(roots(standing, name)))
    return list(found)


def _computed(of: Consultant, standing: Standing, spoken: list[Evidence]) -> list[Link]:
    found: dict[str, Link] = {}
    for evidence in spoken:
        for fact in evidence.facts:
            if fact.origin == "computed":
                stage = standing.resolved.computed[fact.name].calculator.stage
                found.setdefault(
                    fact.name,
                    Link(kind="computed", words=f"{fact.name}: {fact.value}", because=evidence.because, stage=stage),
                )
    return list(found.values())


def _signs(of: Consultant, counted: list[Evidence]) -> list[Link]:
    words, found = of.base.words, {}
    for evidence in counted:
        seen = [f for f in evidence.facts if f.name in words.observations]
        if not seen or any(f.name in found for f in seen):
            continue
        text = "; ".join(f"{f.name}: {f.value}" for f in seen)
        found[seen[0].name] = Link(
            kind="sign", words=text, because=evidence.because, stage=words.observations[seen[0].name].stage
        )
    return list(found.values())[:MOST_SIGNS]
