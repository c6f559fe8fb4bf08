"""Is it the defect that was named? What the facts suggest instead, and the looks that would tell."""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.consult.ask import OpenQuestion
from diagnose.consult.standing import Standing
from diagnose.model.condition import facts_of
from diagnose.model.knowledge import LookAlike

KIND = "look-alike"
QUICK = 300.0  # [s] a look that costs more is not taken only to be sure of the name


def suggested(standing: Standing) -> list[LookAlike]:
    """Return the other defects that the facts suggest."""
    every = enumerate(standing.desk.defect.mistaken_for)
    return [
        one for n, one in every if f"alike {n}" in standing.extras and one.defect in standing.desk.base.defect_files
    ]


def telling(standing: Standing, asked: frozenset[str]) -> list[OpenQuestion]:
    """Return the quick looks that would suggest another defect, each once; no question of the rules asks for them."""
    return list({q.name: q for q in _telling(standing, asked)}.values())


def tells_from(standing: Standing, fact: str) -> list[LookAlike]:
    """Return the other defects that a look tells this one from."""
    return [one for one in standing.desk.defect.mistaken_for if one.when is not None and fact in facts_of(one.when)]


def _telling(standing: Standing, asked: frozenset[str]) -> Iterator[OpenQuestion]:
    base, known = standing.desk.base, standing.resolved.facts
    for one in standing.desk.defect.mistaken_for:
        if one.when is None or one.defect not in base.defect_files:
            continue
        missing = [fact for fact in facts_of(one.when) if fact not in known]
        if len(missing) != 1 or missing[0] in asked:
            continue
        look = base.words.observations.get(missing[0])
        if look is not None and look.effort <= QUICK:
            yield OpenQuestion(look.name, KIND, 0.0, look.effort, look.about, False, (), look.name)
