"""How well a defect is covered: what tells its causes apart, and what truthful plays of each came to."""

from __future__ import annotations

from collections.abc import Sequence
from math import exp
from statistics import fmean

from diagnose.consult.apart import Pair, pairs
from diagnose.consult.standing import Desk
from diagnose.model.coverage import CauseCovered, DefectCovered
from diagnose.model.simulation import Play


def covered(desk: Desk, plays: Sequence[Play]) -> DefectCovered:
    """Return how well a defect is covered; the plays are those of its own causes."""
    together = pairs(desk)
    causes = tuple(_cause(desk, c.cause, together, plays) for c in desk.defect.candidates)
    factors = [c.factor for c in causes if c.factor is not None]
    return DefectCovered(
        defect=desk.defect.id, name=desk.defect.name, rules=len(desk.rules), causes=causes,
        right_first=fmean(c.right_first for c in causes), questions=fmean(c.questions for c in causes),
        worst_factor=min(factors, default=None),
    )  # fmt: skip


def _cause(desk: Desk, cause: str, together: Sequence[Pair], plays: Sequence[Play]) -> CauseCovered:
    own = [p for p in plays if p.cause == cause]
    worst = min((p for p in together if cause in (p.cause, p.other)), key=lambda p: p.apart, default=None)
    found = CauseCovered(
        cause=cause, name=desk.base.cause_name(cause), right_first=fmean(p.place == 1 for p in own),
        questions=fmean(p.questions for p in own),
    )  # fmt: skip
    if worst is None:
        return found
    other = worst.other if worst.cause == cause else worst.cause
    return found.model_copy(update={"hardest_from": other, "factor": exp(worst.apart), "told_by": worst.by})
