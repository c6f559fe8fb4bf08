"""Which answer deserves a second look: one that fits badly with all the others, and on which the first cause rests.

A share of all answers is taken to be slips (`signs.SLIP`). Everything else that is known gives each possible answer its
chance; an answer heard with the chance p, one of k, was a slip with the odds s (1 - p) / (k - 1) to (1 - s) p.
"""

from __future__ import annotations

from collections.abc import Callable

from diagnose.consult.ask import OpenQuestion, score
from diagnose.consult.signs import SLIP, shares_of
from diagnose.consult.standing import Standing
from diagnose.model.case import Case
from diagnose.model.vocabulary import NOT_KNOWN
from diagnose.rulebase.cases import forgotten

KIND = "second look"
DOUBTFUL = 0.04  # chance of a slip from which it is worth a person's trouble; with MOST chosen by `rules simulate`
MOST = 4  # second looks asked for in one interview


def second_looks(stand: Callable[[Case], Standing], case: Case, now: Standing) -> list[OpenQuestion]:
    """Return the answers worth a second look, the likeliest slip first; `stand` says where a case stands."""
    first, found = now.ranking.first(), []
    for name, answer in case.observations.items():
        observation = now.desk.base.words.observations.get(name)
        if observation is None or answer == NOT_KNOWN:
            continue
        without = stand(forgotten(case, name))
        question = score(name, KIND, observation.effort, shares_of(observation), name, without)
        rests_on_it = any(then != first for other, _, then in question.outcomes if other != answer)
        chance = next((p for heard, p, _ in question.outcomes if heard == answer), 1.0)
        slip = SLIP * (1.0 - chance) / max(len(question.outcomes) - 1, 1)
        doubt = slip / (slip + (1.0 - SLIP) * chance)
        if rests_on_it and doubt >= DOUBTFUL:
            found.append((doubt, question))
    return [question for _, question in sorted(found, key=lambda pair: -pair[0])]
