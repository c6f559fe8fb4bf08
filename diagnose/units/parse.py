"""From tidied text to the amounts it can mean; whether they make sense is judged in `reading`."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise, product

from diagnose.units.convert import into_si, out_of_si, rounded
from diagnose.units.dimension import Dimension, Unit
from diagnose.units.numbers import number_at
from diagnose.units.result import Refused
from diagnose.units.table import elsewhere, nearest, settle, spelled, unit_named


@dataclass(frozen=True)
class Amount:
    """One amount as typed: the numbers and units it can mean; no unit when none was typed."""

    numbers: tuple[float, ...]
    units: tuple[Unit, ...]
    doubt: str = ""
    basis: str | None = None
    vacuum: bool = False
    uppers: tuple[float, ...] = ()
    """Upper ends, when it was a range; as many as numbers."""


_CLOCK = re.compile(r"(\d{1,4}):(\d{1,2})(?::(\d{1,2}))? ?([a-z]*)\.?")
_BARE_DEGREE = re.compile(r"°|deg\.?|degrees?")
_TIED = re.compile(r"-(?=[a-z])")
_PART = re.compile(r"[^\d.,]*(?:[.,](?!\d)[^\d.,]*)*")
_BASIS = re.compile(
    r"(?P<before>.*?) ?(?:(?P<vacuum>(?:of )?(?:vacuum|vac)\b|below (?:ambient|atmosphere|atmospheric))"
    r"|(?P<gauge>\(?\b(?:gauge|gage)\b\)?|\(g\))|(?P<absolute>\(?\b(?:absolute|abs)\b\.?\)?|\(a\)))"
)
_SPLITS = (
    (re.compile(r"between (.+?) and (.+)"), "range"),
    (re.compile(r"from (.+?) (?:to|until) (.+)"), "range"),
    (re.compile(r"(.+?) (?:to|until|through) (.+)"), "range"),
    (re.compile(r"(.+?) ?\+/- ?(.+)"), "around"),
)


class _UnknownUnit(Refused):
    """A number was read, and what follows it is no unit of the dimension."""

    def __init__(self, rest: str) -> None:
        self.rest = rest
        super().__init__("")


def amount(text: str, dimension: Dimension, usual: Unit | None) -> Amount:
    """Read one amount, a chain such as 1 h 15 min, or a clock time."""
    if dimension.name == "time" and (match := _CLOCK.fullmatch(text)):
        return _clock(match, dimension, usual)
    number = number_at(text)
    if number is None:
        raise Refused("")
    rest = _TIED.sub("", text[number.end :].strip(), count=1)
    if not rest or (dimension.name.startswith("temperature") and _BARE_DEGREE.fullmatch(rest)):
        return Amount(number.values, (), number.doubt)
    if dimension.name == "pressure":
        units, basis, vacuum = _pressure_unit(rest, dimension)
    else:
        units, basis, vacuum = spelled(rest, dimension), None, False
    if units:
        return Amount(number.values, settle(units, rest, dimension, usual), number.doubt, basis, vacuum)
    if chain := _chain(text, dimension):
        return chain
    raise _UnknownUnit(rest)


def _pressure_unit(rest: str, dimension: Dimension) -> tuple[tuple[Unit, ...], str | None, bool]:
    """Return the unit of a pressure, and whether it was said to be gauge, absolute or vacuum."""
    basis, vacuum = None, False
    if (match := _BASIS.fullmatch(rest)) and match["before"]:
        rest, vacuum = match["before"], match["vacuum"] is not None
        basis = "absolute" if match["absolute"] else "gauge"
    units = spelled(rest, dimension)
    if not units and basis is None and rest[-1] in "ga":
        units = spelled(rest[:-1], dimension)
        basis = "gauge" if rest[-1] == "g" else "absolute"
    if units and basis is None and units[0].reading:
        basis = "gauge" if units[0].reading == "vacuum" else "absolute"
    counts_down = bool(units) and units[0].reading == "vacuum" and basis == "gauge"
    return units, basis, vacuum or counts_down


def _clock(match: re.Match[str], dimension: Dimension, usual: Unit | None) -> Amount:
    """Read 1:30 as hours and minutes, or as minutes and seconds where seconds are usual."""
    first, second, third = int(match[1]), int(match[2]), match[3]
    if second >= 60 or (third is not None and int(third) >= 60):
        raise Refused(f'In "{match[0]}" what follows a colon must be below 60.')
    said = spelled(match[4], dimension) if match[4] else ()
    if match[4] and not said:
        raise Refused("")
    finer = (said or (usual,))[0] if said or usual else None
    minutes, seconds = (unit_named(symbol, dimension.name) for symbol in ("min", "s"))
    if third is not None:
        return Amount((first * 3600.0 + second * 60.0 + int(third),), (seconds,))
    if finer is None:
        raise Refused(f'"{match[0]}" can be hours and minutes or minutes and seconds: write {first} h {second} min.')
    if finer is seconds or (said and finer is minutes):
        return Amount((first * 60.0 + second,), (seconds,))
    return Amount((first * 60.0 + second,), (minutes,))


def _chain(text: str, dimension: Dimension) -> Amount | None:
    """Read amounts in falling units, as in 2 ft 3 in, 1 lb 4 oz, 1h15; the result is in the smallest."""
    parts: list[tuple[float, tuple[Unit, ...]]] = []
    at = 0
    while at < len(text) and len(parts) < 5:
        number = number_at(text, at)
        if number is None or number.doubt or number.values[0] < 0:
            return None
        match = _PART.match(text, number.end)
        at = match.end() if match else len(text)
        word = re.sub(r"(?:,| and| ,) *$", "", text[number.end : at]).strip()
        parts.append((number.values[0], spelled(word, dimension) if word else ()))
        if (not word or not parts[-1][1]) and (at < len(text) or word):
            return None
    if at < len(text) or len(parts) < 2:
        return None
    return next((found for chain in dimension.chains if (found := _along(parts, chain, dimension))), None)


def _along(parts: list[tuple[float, tuple[Unit, ...]]], chain: tuple[str, ...], dimension: Dimension) -> Amount | None:
    """Add the parts up if each unit is the next smaller one of the chain."""
    units: list[Unit] = []
    for _, meant in parts:
        after = chain[chain.index(units[-1].symbol) + 1 :][:1] if units else chain
        fits = [unit for unit in meant or dimension.units if unit.symbol in after]
        if not fits:
            return None
        units.append(fits[0])
    for (above, _), (below, _), big, small in zip(parts, parts[1:], units, units[1:], strict=False):
        if above != int(above):
            raise Refused(f"Only the last part may have a fraction, and {above:g} {big.symbol} has one.")
        if below >= rounded(into_si(1, big, dimension) / into_si(1, small, dimension)):
            raise Refused(f"{below:g} {small.symbol} is 1 {big.symbol} or more.")
    total = sum(into_si(number, unit, dimension) for (number, _), unit in zip(parts, units, strict=True))
    return Amount((rounded(out_of_si(total, units[-1], dimension)),), (units[-1],))


def _instead(rest: str, dimension: Dimension) -> str:
    """Say what was typed instead of a unit of this dimension, as far as that can be told."""
    if other := elsewhere(rest):
        return f"That is {other.says}."
    near = nearest(rest, dimension) if rest[0].isalpha() else None
    return f'I don\'t know the unit "{rest}". Did you mean {near}?' if near else ""


def typed(text: str, dimension: Dimension, usual: Unit | None) -> Amount:
    """Read one amount or a range of amounts."""
    try:
        return amount(text, dimension, usual)
    except Refused as refused:
        first = refused
    for left, right, kind in _splits(text):
        try:
            low, high = amount(left, dimension, usual), amount(right, dimension, usual)
        except Refused:
            continue
        return _between(low, high, dimension) if kind == "range" else _around(low, high)
    raise Refused(_instead(first.rest, dimension)) if isinstance(first, _UnknownUnit) else first


def _splits(text: str) -> Iterator[tuple[str, str, str]]:
    for pattern, kind in _SPLITS:
        if match := pattern.fullmatch(text):
            yield match[1], match[2], kind
    for at, (before, sign) in enumerate(pairwise(text), start=1):
        if sign == "-" and before not in "-+/e":
            yield text[:at].strip(), text[at + 1 :].strip(), "range"


def _between(low: Amount, high: Amount, dimension: Dimension) -> Amount:
    """Join two ends into a range in one unit."""
    if low.units and high.units and low.units != high.units:
        if len(low.units) > 1 or len(high.units) > 1:
            raise Refused("Give both ends in the same unit.")
        ends = (out_of_si(into_si(one, high.units[0], dimension), low.units[0], dimension) for one in high.numbers)
        high = replace(high, numbers=tuple(rounded(end) for end in ends), units=low.units)
    if low.basis != high.basis and low.units and low.basis is not None:
        raise Refused("Give both ends on the same footing, both gauge or both absolute.")
    pairs = [(one, two) for one, two in product(low.numbers, high.numbers) if one < two]
    if not pairs:
        raise Refused("The first end of a range must be the smaller one.")
    said = high if high.units else low
    doubt = low.doubt or high.doubt
    return Amount(
        tuple(one for one, _ in pairs),
        said.units,
        doubt,
        said.basis,
        said.vacuum,
        tuple(two for _, two in pairs),
    )


def _around(middle: Amount, reach: Amount) -> Amount:
    """Turn a middle and a reach to both sides into a range."""
    if middle.units and reach.units and middle.units != reach.units:
        raise Refused("Give both numbers in the same unit.")
    value, step = middle.numbers[0], abs(reach.numbers[0])
    if middle.doubt or reach.doubt or step == 0.0:
        raise Refused("")
    said = middle if middle.units else reach
    low, high = rounded(value - step), rounded(value + step)
    return Amount((low,), said.units, "", said.basis, said.vacuum, (high,))
