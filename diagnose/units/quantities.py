"""Reads the quantities that stand in rules and cases: strict, and fast enough for a whole rules base."""

from __future__ import annotations

import re
from functools import lru_cache

from diagnose.errors import BadInput
from diagnose.units.convert import into_si, rounded
from diagnose.units.reading import must_read
from diagnose.units.table import dimension_named, spelled

# The common shape, read without the whole grammar; everything else takes the long way.
_SIMPLE = re.compile(r"(-?\d{1,15}(?:\.\d{1,15})?(?:e-?\d{1,2})?)(?: ?([^\s\d.,:+/-].{0,20})| (1/.{1,4}))?")


@lru_cache(maxsize=4096)
def quantity(text: str, dimension: str) -> float:
    """Return the SI value of a quantity such as 307 F; anything doubtful raises BadInput.

    >>> quantity("2.7 %", "percent"), quantity("0.09 mm2/s", "diffusivity")
    (0.027, 9e-08)
    """
    kind = dimension_named(dimension)
    if match := _SIMPLE.fullmatch(text):
        units = spelled(match[2] or match[3] or "", kind)
        if len(units) == 1:
            si = rounded(into_si(float(match[1]), units[0], kind))
            if si >= 0.0 or (kind.signed and dimension != "temperature" and not units[0].reading):
                return si
    return must_read(text, dimension, None).si


@lru_cache(maxsize=1024)
def span(text: str, dimension: str) -> tuple[float, float]:
    """Return both ends, in SI, of a range such as 1 min to 8 h or 38 to 42 ml/100 g.

    >>> span("1 min to 8 h", "time"), span("38 to 42 ml/100 g", "ratio")
    ((60.0, 28800.0), (38.0, 42.0))
    """
    value = must_read(text, dimension, None, ranges=True)
    if value.to_si is None:
        raise BadInput(f'"{text}" is one value where a range is needed.', next_step="Write it as: low to high.")
    return value.si, value.to_si
