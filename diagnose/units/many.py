"""Reads lists of readings, as for a setting that is measured in several places: 307, 305 and 298 F."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace

from diagnose.errors import BadInput
from diagnose.units.numbers import number_at
from diagnose.units.reading import Bare, Span, read
from diagnose.units.result import Ask, AskMany, Refused, Reject, Value
from diagnose.units.show import ends
from diagnose.units.tidy import cut, tidy, without_about

LONGEST, MOST = 400, 40

Reading = Value | Ask | Reject
# A comma inside a number has no space behind it; a comma between readings has one.
_BETWEEN = re.compile(r" ?(?:;|, | and | & )(?: ?(?:and|&) )? ?")
_RUN = re.compile(r"(\d{1,6}(?:\.\d{1,6})?(?:[ ,]{1,2}\d{1,6}(?:\.\d{1,6})?){1,39}) ?([^\d ].*)?")


def read_many(
    text: str,
    dimension: str,
    unit: str | None,
    plausible: Span | None = None,
    *,
    bare: Bare = "ask",
    name: str = "",
) -> tuple[Value, ...] | AskMany | Reject:
    """Read several readings; a unit on the last one is the unit of all that have none.

    >>> [value.si for value in read_many("20, 30 and 40 C", "temperature", "F")]
    [293.15, 303.15, 313.15]
    """

    def one(piece: str) -> Reading:
        return read(piece, dimension, unit, plausible, bare=bare, name=name)

    try:
        tidied = tidy(text, LONGEST)
    except Refused as refused:
        return Reject(f"{refused.reason} Type the readings with a comma and a space between them.")
    pieces = [piece for piece in _BETWEEN.split(tidied) if piece]
    if len(pieces) > MOST:
        return Reject(f"Those are {len(pieces)} readings, and {MOST} is the most. Type fewer.")
    if len(pieces) == 1 and (run := _run(tidied, one)):
        return run
    pieces = _with_units(pieces) or [tidied]
    return _gathered(pieces, [one(piece) for piece in pieces], one)


def must_read_many(
    text: str,
    dimension: str,
    unit: str | None,
    plausible: Span | None = None,
    *,
    name: str = "",
    where: str = "",
) -> tuple[Value, ...]:
    """Read several readings from a file or a command line; raise BadInput."""
    answer = read_many(text, dimension, unit, plausible, bare="refuse", name=name)
    if isinstance(answer, tuple):
        return answer
    raise BadInput(answer.reason if isinstance(answer, Reject) else answer.question, where=where)


def _run(text: str, one: Callable[[str], Reading]) -> tuple[Value, ...] | None:
    """Read 307,305,298 F or 307 305 298 F as a list, if as one number it is nothing."""
    match = _RUN.fullmatch(text)
    alone = one(text)
    if match is None or isinstance(alone, Value) or (isinstance(alone, Ask) and alone.why == "comma"):
        return None
    readings = [one(f"{number} {match[2] or ''}") for number in re.split(r"[ ,]+", match[1])]
    values = tuple(reading for reading in readings if isinstance(reading, Value))
    return values if len(values) == len(readings) else None


def _with_units(pieces: Sequence[str]) -> list[str]:
    """Give each bare number the next unit that follows it, or else the last one before it."""
    suffixes = [_suffix(piece) for piece in pieces]
    units = [suffix for suffix in suffixes if suffix]
    whole: list[str] = []
    for at, (piece, suffix) in enumerate(zip(pieces, suffixes, strict=True)):
        following = [later for later in suffixes[at:] if later]
        unit = "" if suffix != "" or not units else (following or units[-1:])[0]
        whole.append(f"{piece} {unit}".strip())
    return whole


def _suffix(piece: str) -> str | None:
    """Return what follows the number: nothing for a bare one, None when there is more than a unit."""
    text, _ = without_about(piece)
    try:
        number = number_at(text)
    except Refused:
        return None
    rest = text[number.end :].strip() if number else "?"
    return None if number is None or rest.startswith(("-", "+", ":")) else rest


def _gathered(
    pieces: Sequence[str], readings: Sequence[Reading], one: Callable[[str], Reading]
) -> tuple[Value, ...] | AskMany | Reject:
    """Join the single answers into one for the list."""
    for at, (piece, reading) in enumerate(zip(pieces, readings, strict=True), start=1):
        if isinstance(reading, Reject):
            lead = f'Reading {at} ("{cut(piece)}"): ' if len(pieces) > 1 else ""
            return Reject(lead + reading.reason)
    asks = [(at, reading) for at, reading in enumerate(readings) if isinstance(reading, Ask)]
    if not asks:
        return tuple(reading for reading in readings if isinstance(reading, Value))
    at, ask = asks[0]
    if ask.why == "unit":
        return _ask_unit(pieces, ask, one)
    rest = [reading.candidates[0] if isinstance(reading, Ask) else reading for reading in readings]
    values = [value for value in rest if isinstance(value, Value)]
    lists = tuple((*values[:at], candidate, *values[at + 1 :]) for candidate in ask.candidates)
    lead = f'Reading {at + 1} ("{cut(pieces[at])}"): ' if len(pieces) > 1 else ""
    return AskMany(lead + ask.question, lists, ask.why)


def _ask_unit(pieces: Sequence[str], ask: Ask, one: Callable[[str], Reading]) -> AskMany:
    """Ask for the unit of the whole list at once."""
    lists = []
    for unit in dict.fromkeys(candidate.unit for candidate in ask.candidates):
        readings = [one(f"{piece} {unit}" if _suffix(piece) == "" else piece) for piece in pieces]
        values = [reading.candidates[0] if isinstance(reading, Ask) else reading for reading in readings]
        if all(isinstance(value, Value) for value in values):
            lists.append(
                tuple(
                    replace(value, typed=piece)
                    for value, piece in zip(values, pieces, strict=True)
                    if isinstance(value, Value)
                )
            )
    question = " or ".join(", ".join(ends(value) for value in values) for values in lists)
    return AskMany(f"{question}?", tuple(lists), "unit")
