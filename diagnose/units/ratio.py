"""Reads mix ratios: 100:38, 10 to 1, 38 %, 40 ml/100 g; stored as parts per 100 of the first thing."""

from __future__ import annotations

import re
from dataclasses import replace

from diagnose.units.convert import rounded
from diagnose.units.dimension import Dimension
from diagnose.units.numbers import Number, number_at
from diagnose.units.parse import Amount
from diagnose.units.result import Refused
from diagnose.units.table import spelled

_AGAINST = re.compile(r" ?(?::|/|-?to-?) ?")
_NAMED = re.compile(r" ?(parts?|grams?|gm|g|ml|cc|kg|l|lb|lbs|oz)?(?: [ab])?(?=$| ?[:/]| ?-?to)")
# A millilitre of water weighs a gram, and liquids are measured into powders either way.
_ALIKE = ({"g", "gram", "grams", "gm", "ml", "cc"}, {"kg", "l"}, {"lb", "lbs"}, {"oz"}, {"part", "parts"})
_GRAMS = {
    **dict.fromkeys(("g", "gm", "gram", "grams", "ml", "cc"), 1.0),
    **dict.fromkeys(("kg", "kilo", "kilos", "kilogram", "l", "liter", "litre"), 1000.0),
    **dict.fromkeys(("oz", "ounce", "ounces"), 28.349523125),
    **dict.fromkeys(("lb", "lbs", "pound", "pounds"), 453.59237),
}
"""International yard and pound agreement, 1959; a millilitre of water weighs a gram."""
_OF_WEIGHT = "|".join(sorted(_GRAMS, key=len, reverse=True))
_PER = re.compile(
    rf"(?P<number>[\d.,/ ]+?) ?(?P<unit>{_OF_WEIGHT}) (?:per|for|(?:to|in)(?= (?:an?|each|half)\b))(?: each)? "
    rf"(?P<half>half an? |half )?(?:an? )?(?P<of>[\d.,/]+)? ?(?P<whole>{_OF_WEIGHT})(?: of powder)?"
)
_WRITTEN_OUT = re.compile(r"\d{1,9}(?:[.,]\d{1,9})?|[.,]\d{1,9}")
_RANGE = re.compile(r"(\S+) ?(?:-|to) ?(\S+ .+|[\d.,]+[^\d.,].*)")


def ratio_amount(text: str, dimension: Dimension) -> Amount:
    """Return the parts per 100 that a text can mean; a pair of numbers can be meant in both directions."""
    parts_per_100 = dimension.units[0]
    number = number_at(text)
    if number is None:
        raise Refused("")
    rest = text[number.end :].strip()
    if units := spelled(rest, dimension):
        return Amount(_positive(number), units, number.doubt)
    if match := _PER.fullmatch(text):
        return Amount((rounded(_per_100(match)),), (parts_per_100,))
    if pair := _pair(text):
        first, second = pair
        ways = dict.fromkeys((rounded(100.0 * second / first), rounded(100.0 * first / second)))
        return Amount(tuple(ways), (parts_per_100,), "direction")
    if not rest:
        return _bare(number)
    if match := _RANGE.fullmatch(text):
        return _range(match[1], match[2], dimension)
    raise Refused("")


def _per_100(match: re.Match[str]) -> float:
    """Return the parts per 100 of so much of one thing for so much of another, by weight."""
    number, of = number_at(match["number"]), number_at(match["of"] or "1")
    if number is None or of is None or number.doubt or of.doubt:
        raise Refused("")
    amount, base = (found.values[0] for found in (number, of))
    base *= 0.5 if match["half"] else 1.0
    if amount <= 0.0 or base <= 0.0:
        raise Refused("A mix ratio must be above zero.")
    return 100.0 * amount * _GRAMS[match["unit"]] / (base * _GRAMS[match["whole"]])


def _bare(number: Number) -> Amount:
    """Take a number alone as parts per 100; a small one may also be parts per one part, as 0.38 is."""
    values = _positive(number)
    if len(values) == 1 and values[0] < 2.0:
        return Amount((values[0], rounded(100.0 * values[0])), (), "direction")
    return Amount(values, (), number.doubt)


def _range(low: str, high: str, dimension: Dimension) -> Amount:
    """Read 38 to 42 per 100: only with a unit, since 38 to 42 alone is a ratio."""
    bottom, top = number_at(low), ratio_amount(high, dimension)
    if bottom is None or bottom.end != len(low) or bottom.doubt or not top.units or top.doubt or top.uppers:
        raise Refused("")
    if _positive(bottom)[0] >= top.numbers[0]:
        raise Refused("The first end of a range must be the smaller one.")
    return replace(top, numbers=bottom.values, uppers=top.numbers)


def _pair(text: str) -> tuple[float, float] | None:
    """Return the two numbers of A:B, when both are of the same kind and above zero."""
    first = _part(text, 0)
    if first is None or (against := _AGAINST.match(text, first[2])) is None:
        return None
    second = _part(text, against.end())
    if second is None or second[2] != len(text):
        return None
    if first[1] and second[1] and not any({first[1], second[1]} <= kinds for kinds in _ALIKE):
        raise Refused("Both sides of a ratio must be measured alike.")
    if first[0] == 0.0 or second[0] == 0.0:
        raise Refused("Neither side of a ratio can be zero.")
    return first[0], second[0]


def _part(text: str, at: int) -> tuple[float, str, int] | None:
    """Return one side: its number, what it is counted in, and where it ends."""
    number = _WRITTEN_OUT.match(text, at)
    named = _NAMED.match(text, number.end()) if number else None
    if number is None or named is None:
        return None
    return float(number[0].replace(",", ".")), named[1] or "", named.end()


def _positive(number: Number) -> tuple[float, ...]:
    if any(value <= 0.0 for value in number.values):
        raise Refused("A mix ratio must be above zero.")
    return number.values
