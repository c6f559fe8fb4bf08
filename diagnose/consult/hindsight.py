"""What the rules say of a case whose cause is known: the raw stuff of learning.

A case counts for its own defect, and where the confirmed cause lies behind a hand-over, for the earlier defect too.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from diagnose.consult.rank import UNLISTED
from diagnose.consult.standing import Standing, scalars
from diagnose.model.case import Case
from diagnose.model.experience import Heard
from diagnose.model.knowledge import Defect
from diagnose.rulebase.load import RuleBase

if TYPE_CHECKING:
    from diagnose.consult.consultant import Consultant


def hindsight(of: Consultant, case: Case, causes: tuple[str, ...]) -> Iterator[Heard]:
    """Yield what the rules of each defect that a case counts for say of it; nothing for a defect that is not known."""
    for defect, candidates in counts_for(of.base, case.defect, causes).items():
        standing = of.stand(case.model_copy(update={"defect": defect}))
        yield Heard(defect=defect, causes=candidates, said=said(standing))


def said(standing: Standing) -> dict[str, bool]:
    """Return for each rule, by its key, whether it spoke; a rule that looks at something not told is left out."""
    held = {match.rule for match in standing.matches}
    failed = standing.desk.opposites.evaluate(scalars(standing.resolved.facts), standing.windows)
    known = held | {match.rule for match in failed}
    return {rule.key: rule.id in held for rule in standing.desk.rules.values() if rule.id in known}


def counts_for(base: RuleBase, defect: str, causes: tuple[str, ...]) -> dict[str, tuple[str, ...]]:
    """Return the defects that a case counts for, each with the candidates that its causes are among.

    A cause that a defect does not list itself is looked for behind its hand-overs; found nowhere, it is unlisted.
    """
    found: dict[str, tuple[str, ...]] = {}
    open_defects = [defect] if defect in base.defect_files else []
    while open_defects:
        here = open_defects.pop(0)
        listed = base.defect(here)
        named = tuple(dict.fromkeys(name for cause in causes for name in candidates_for(base, listed, cause)))
        if here != defect:
            named = tuple(name for name in named if name != UNLISTED)  # that one was found elsewhere
        found[here] = named
        behind = [name for name in named if name in base.defect_files and name not in causes]
        open_defects += [name for name in behind if name not in found]
    return found


def candidates_for(base: RuleBase, defect: Defect, cause: str) -> tuple[str, ...]:
    """Return the candidates of a defect that a confirmed cause counts for."""
    listed = tuple(c.cause for c in defect.candidates)
    if cause in listed:
        return (cause,)
    behind = tuple(name for name in listed if name in base.defect_files and cause in _behind(base, name, frozenset()))
    return behind or (UNLISTED,)


def _behind(base: RuleBase, defect: str, seen: frozenset[str]) -> frozenset[str]:
    """Return the causes that a defect lists, itself or through hand-overs."""
    listed = {c.cause for c in base.defect(defect).candidates}
    more = (_behind(base, d, seen | {defect}) for d in listed if d in base.defect_files and d not in seen)
    return frozenset(listed.union(*more))
