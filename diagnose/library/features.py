"""The facts of a case packed into a few bytes, so that thousands of cases can be laid side by side at once.

Each fact is one record of `FEATURE`: the number of its name and of its answer in `words`, and its SI value; answers
have no value (NaN), settings no answer (0). `not known` and lists of readings are left out.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from diagnose.library.kept import Kept
from diagnose.model.vocabulary import NOT_KNOWN

FEATURE = np.dtype([("name", "<u4"), ("answer", "<u4"), ("number", "<f8")])


def pack(kept: Kept, number: Callable[[str], int]) -> bytes:
    """Return the packed facts of a case, in the order of the numbers of their names."""
    rows = [
        (number(f.name), number(f.answer), f.number if f.number is not None else np.nan)
        for f in kept.facts()
        if f.readings is None and f.answer != NOT_KNOWN
    ]
    return np.array(sorted(rows, key=lambda r: r[0]), dtype=FEATURE).tobytes()


def unpack(packed: bytes) -> NDArray[np.void]:
    """Return packed facts, of one case or of many joined together, as an array of `FEATURE`."""
    return np.frombuffer(packed, dtype=FEATURE)
