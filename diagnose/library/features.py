"""What was told and said of a case, packed into a few bytes.

Facts are packed so that thousands of cases can be laid side by side at once; causes and rules, because a row for each
would be most of a library, and nobody looks for one by one.

Each fact is one record of `FEATURE`: the number of its name and of its answer in `words`, and its SI value; answers
have no value (NaN), settings no answer (0). `not known` and lists of readings are left out.
"""

from __future__ import annotations

import struct
from collections.abc import Iterable, Iterator, Mapping
from math import nan
from operator import itemgetter

import numpy as np
from numpy.typing import NDArray

from diagnose.library.kept import Chance, Spoke, Told
from diagnose.model.vocabulary import NOT_KNOWN

FEATURE = np.dtype([("name", "<u4"), ("answer", "<u4"), ("number", "<f8")])
_CHANCE = struct.Struct("<Id")
_SPOKE = struct.Struct("<II??")
CHANCE_SIZE, SPOKE_SIZE = _CHANCE.size, _SPOKE.size
_PACK = struct.Struct("<IId").pack  # one FEATURE; a case at a time this is far quicker than an array


def pack(facts: Iterable[Told], numbers: Mapping[str, int]) -> bytes:
    """Return the packed facts of a case, in the order of the numbers of their names."""
    rows = [
        (numbers[f.name], numbers[f.answer], f.number if f.number is not None else nan)
        for f in facts
        if f.readings is None and f.answer != NOT_KNOWN
    ]
    rows.sort(key=itemgetter(0))
    return b"".join(_PACK(*row) for row in rows)


def unpack(packed: bytes) -> NDArray[np.void]:
    """Return packed facts, of one case or of many joined together, as an array of `FEATURE`."""
    return np.frombuffer(packed, dtype=FEATURE)


def pack_chances(causes: Iterable[Chance], numbers: Mapping[str, int]) -> bytes:
    """Return the causes that were named with their chances, best first."""
    return b"".join(_CHANCE.pack(numbers[c.cause], c.chance) for c in causes)


def unpack_chances(packed: bytes) -> Iterator[tuple[int, float]]:
    """Yield the number of each cause that was named and its chance, best first."""
    return _CHANCE.iter_unpack(packed)


def pack_evidence(evidence: Iterable[Spoke], numbers: Mapping[str, int]) -> bytes:
    """Return the rules that spoke."""
    return b"".join(_SPOKE.pack(numbers[e.rule], numbers[e.cause], e.speaks == "for", e.counted) for e in evidence)


def unpack_evidence(packed: bytes) -> Iterator[tuple[int, int, bool, bool]]:
    """Yield of each rule that spoke: its number, that of the cause, whether it spoke for it, whether it counted."""
    return _SPOKE.iter_unpack(packed)
