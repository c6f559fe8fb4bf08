"""What was found, in the units that its reader writes in; the record itself, and its JSON, keep the words of the rules.

Only sentences change: a value that stands alone is in the reader's units already, and a source is cited as it is.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import TypeVar, cast

from diagnose import units
from diagnose.model.record import Record

T = TypeVar("T")
CITED = ("source", "sources")
_OF_VALUES = re.compile(r"(?:at least|at most|about|to|->|[;, ])*")


def worded(thing: T, system: str) -> T:
    """Return a record, or what a record is made of, with every sentence in the units of a system, us or metric."""
    return cast("T", _worded(thing, system))


def _worded(thing: object, system: str) -> object:
    if isinstance(thing, str):
        return sentence(thing, system)
    if isinstance(thing, Record):
        said = {n: _worded(getattr(thing, n), system) for n in type(thing).model_fields if n not in CITED}
        return thing.model_copy(update=said)
    if isinstance(thing, tuple):
        return tuple(_worded(part, system) for part in thing)
    if isinstance(thing, Mapping):
        return {_worded(key, system): _worded(value, system) for key, value in thing.items()}
    return thing


def sentence(text: str, system: str) -> str:
    """Return a text in the units of a system; one of nothing but values is left as it was worked out."""
    return text if _values_only(text) else units.prose(text, system)


def _values_only(text: str) -> bool:
    found = list(units.quantities_in(text))
    if any(" " in one.numbers for one in found):
        return False
    rest, end = [], 0
    for one in found:
        rest.append(text[end : one.start])
        end = one.end
    return bool(found) and _OF_VALUES.fullmatch("".join([*rest, text[end:]])) is not None
