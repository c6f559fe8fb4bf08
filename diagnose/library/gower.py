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
    owner = np.repeat(np.arange(len(packed)), sizes)
    names = np.array(sorted({*asked.answers, *asked.numbers}), dtype=np.uint32)
    place = np.minimum(np.searchsorted(names, facts["name"]), max(len(names) - 1, 0))
    known = names[place] == facts["name"] if len(names) else np.zeros(len(facts), dtype=bool)
    facts, owner, place = facts[known], owner[known], place[known]
    answers = np.array([asked.answers.get(int(n), 0) for n in names], dtype=np.uint32)[place]
    values = np.array([asked.numbers.get(int(n), (np.nan, 1.0))[0] for n in names])[place]
    ranges = np.array([asked.numbers.get(int(n), (np.nan, 1.0))[1] for n in names])[place]
    same_answer = (answers == facts["answer"]).astype(np.float64)
    apart = np.abs(values - facts["number"])
    close = np.clip(1.0 - np.divide(apart, ranges, out=np.where(apart > 0.0, 1.0, 0.0), where=ranges > 0.0), 0.0, 1.0)
    score = np.where(answers > 0, same_answer, close)
    told = ~np.isnan(score)  # a number in one case and an answer in the other cannot be compared
    owner, score = owner[told], score[told]
    shared = np.bincount(owner, minlength=len(packed))
    total = np.bincount(owner, weights=score, minlength=len(packed))
    return Alike(np.divide(total, shared, out=np.zeros(len(packed)), where=shared > 0), shared)
