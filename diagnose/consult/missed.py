"""What nobody could tell: a look answered `not known` that could still bring another cause up beside the first.

`not known` says nothing, and nobody is asked twice. A verdict that such a look could unsettle names it, so that it is
taken before anything is changed.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from diagnose.consult.ask import WORTH_ASKING, OpenQuestion, in_file_order
from diagnose.consult.outcome import after_each
from diagnose.consult.rank import SEVERAL, UNLISTED
from diagnose.consult.standing import Standing
from diagnose.model.case import Case
from diagnose.model.vocabulary import NOT_KNOWN

if TYPE_CHECKING:
    from diagnose.consult.consultant import Consultant

WORTH_NAMING = 0.01  # chance that a look shows another cause, below which the verdict is not reserved to it


class Missed(NamedTuple):
    """A look that was not known, the cause it could show, and the chance that it does."""

    look: OpenQuestion
    rival: str
    chance: float


def missed(of: Consultant, standing: Standing, case: Case) -> Missed | None:
    """Return the look that could bring the likeliest rival up beside the first cause, if one was not known.

    Of several such looks a bench test comes first, for it can still be made; then the likeliest to show the rival.
    """
    chances = standing.ranking.probabilities
    found = [m for look in _not_known(of, standing, case) for m in _could_show(of, standing, look)]
    return max(found, key=lambda m: (chances[m.rival], m.look.kind == "bench test", m.chance), default=None)


def best_not_known(of: Consultant, standing: Standing, case: Case) -> OpenQuestion | None:
    """Return what would tell most of all that was not known, a bench test before anything else."""
    found = [look for look in _not_known(of, standing, case) if look.bits >= WORTH_ASKING]
    return max(found, key=lambda look: (look.kind == "bench test", look.bits), default=None)


def _not_known(of: Consultant, standing: Standing, case: Case) -> list[OpenQuestion]:
    unknown = {name for name, answer in case.observations.items() if answer == NOT_KNOWN}
    if not unknown:
        return []
    told = frozenset((*case.observations, *case.settings, *case.materials)) - unknown
    return [look for look in in_file_order(standing, of.resolver, told) if look.name in unknown]


def _could_show(of: Consultant, standing: Standing, look: OpenQuestion) -> list[Missed]:
    """Return the causes that some answer would put first, or make likely enough to be named beside the first."""
    now = standing.ranking
    found: dict[str, float] = {}
    for after in after_each(standing, look, of.show):
        for cause, chance in after.ranking.probabilities.items():
            newly_named = now.probabilities[cause] < SEVERAL <= chance
            if cause not in (now.first(), UNLISTED) and (newly_named or cause == after.ranking.first()):
                found[cause] = found.get(cause, 0.0) + after.chance
    return [Missed(look, cause, chance) for cause, chance in found.items() if chance >= WORTH_NAMING]
