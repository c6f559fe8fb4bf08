"""What was told and said of a case, packed into a few bytes.

Facts are packed so that thousands of cases can be laid side by side at once; what was observed, causes and rules,
because a row for each would be most of a library, and nobody looks for one by one.

Each fact is one record of `FEATURE`: the number of its name and of its answer in `words`, and its SI value; answers
have no value (NaN), settings no answer (0). `not known` and lists of readings are left out.
"""

from __future__ import annotations

import struct
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cache
from itertools import chain
from math import nan
from operator import itemgetter

import numpy as np
from numpy.typing import NDArray

from diagnose.library.leaf import Fact, Observed
from diagnose.model.vocabulary import NOT_KNOWN

FEATURE = np.dtype([("name", "<u4"), ("answer", "<u4"), ("number", "<f8")])
_CHANCE, _SPOKE, _FACT = struct.Struct("<Id"), struct.Struct("<II??"), struct.Struct("<IId")
_SEEN = struct.Struct("<II")
CHANCE_SIZE, SPOKE_SIZE, SEEN_SIZE = _CHANCE.size, _SPOKE.size, _SEEN.size


def pack(facts: Iterable[Fact], observed: Observed, numbers: Mapping[str, int]) -> bytes:
    """Return the packed facts of a case, in the order of the numbers of their names."""
    rows = [
        (numbers[name], numbers[answer], number if number is not None else nan)
        for _, name, _, number, readings, answer in facts
        if readings is None and answer != NOT_KNOWN
    ]
    rows += [(numbers[name], numbers[answer], nan) for name, answer in observed if answer != NOT_KNOWN]
    rows.sort(key=itemgetter(0))
    return _many(_FACT, len(rows)).pack(*chain.from_iterable(rows))


@cache
def _many(one: struct.Struct, count: int) -> struct.Struct:
    """Return the form of so many records, one after the other: packing them in one go is far quicker."""
    return struct.Struct("<" + one.format[1:] * count)


def unpack(packed: bytes) -> NDArray[np.void]:
    """Return packed facts, of one case or of many joined together, as an array of `FEATURE`."""
    return np.frombuffer(packed, dtype=FEATURE)


def pack_observed(observed: Iterable[tuple[int, int]]) -> bytes:
    """Return what was observed, `not known` included: the numbers of names and answers."""
    flat = [number for seen in observed for number in seen]
    return _many(_SEEN, len(flat) // 2).pack(*flat)


def unpack_observed(packed: bytes) -> Iterator[tuple[int, int]]:
    """Yield the number of the name and of the answer of each observation."""
    return _SEEN.iter_unpack(packed)


def pack_chances(causes: Sequence[tuple[str, float]], numbers: Mapping[str, int]) -> bytes:
    """Return the causes that were named with their chances, best first."""
    flat = [value for cause, chance in causes for value in (numbers[cause], chance)]
    return _many(_CHANCE, len(causes)).pack(*flat)


def unpack_chances(packed: bytes) -> Iterator[tuple[int, float]]:
    """Yield the number of each cause that was named and its chance, best first."""
    return _CHANCE.iter_unpack(packed)


def pack_evidence(evidence: Sequence[tuple[str, str, bool, bool]], numbers: Mapping[str, int]) -> bytes:
    """Return the rules that spoke: rule, cause, whether for it, whether it counted."""
    flat = [v for rule, cause, speaks, counted in evidence for v in (numbers[rule], numbers[cause], speaks, counted)]
    return _many(_SPOKE, len(evidence)).pack(*flat)


def unpack_evidence(packed: bytes) -> Iterator[tuple[int, int, bool, bool]]:
    """Yield of each rule that spoke: its number, that of the cause, whether it spoke for it, whether it counted."""
    return _SPOKE.iter_unpack(packed)
