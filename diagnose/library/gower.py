"""How alike cases are: the general coefficient of similarity of Gower (Biometrics 27, 857, 1971) on packed facts.

The mean, over the facts that both cases tell, of 1 for the same answer and 0 for another, and for a number of
1 - (difference / range). A fact that one of them does not tell is left out of both sums.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from diagnose.library.features import unpack


class Asked(NamedTuple):
    """The facts of the case at hand by the numbers of their names: an answer's number, or an SI value and its range."""

    answers: Mapping[int, int]
    numbers: Mapping[int, tuple[float, float]]


class Alike(NamedTuple):
    """For each case looked at: the similarity (0 where nothing is shared) and how many facts both tell."""

    similarity: NDArray[np.float64]
    shared: NDArray[np.intp]


def alike(asked: Asked, packed: Sequence[bytes]) -> Alike:
    """Return how alike each packed case is to the one at hand."""
    facts = unpack(b"".join(packed))
    sizes = np.fromiter(map(len, packed), dtype=np.intp, count=len(packed)) // facts.itemsize
    owner = np.repeat(np.arange(len(packed), dtype=np.int32), sizes)
    names = sorted({*asked.answers, *asked.numbers})
    # Each name's place among those asked for, looked up by its number; one more place for all that is not asked for.
    places = np.full(max((*names, int(facts["name"].max(initial=0)))) + 1, len(names), dtype=np.int16)
    places[names] = np.arange(len(names))
    place = places[facts["name"]]
    wanted = np.flatnonzero(place < len(names))
    place, owner = place[wanted], owner[wanted]
    answer = np.array([asked.answers.get(n, 0) for n in names], dtype=np.uint32)[place]
    value = np.array([asked.numbers.get(n, (np.nan, 1.0))[0] for n in names])[place]
    span = np.array([asked.numbers.get(n, (np.nan, 1.0))[1] for n in names])[place]
    apart = np.abs(value - facts["number"][wanted])
    far = np.divide(apart, span, out=np.where(apart > 0.0, 1.0, 0.0), where=span > 0.0)
    score = np.where(answer > 0, answer == facts["answer"][wanted], 1.0 - np.minimum(far, 1.0))
    told = ~np.isnan(score)  # a number in one case and an answer in the other cannot be compared
    if not told.all():
        owner, score = owner[told], score[told]
    shared = np.bincount(owner, minlength=len(packed))
    total = np.bincount(owner, weights=score, minlength=len(packed))
    return Alike(np.divide(total, shared, out=np.zeros(len(packed)), where=shared > 0), shared)
