"""Quantities in sentences: the rules base writes them once, in metric units, and everybody reads them in their own.

A difference of temperature is told from a temperature by the words around it ("25 C cooler", "within 3 C"); where
they do not tell, it is written in K, which everybody reads as degrees of their own. A length keeps its millimetres
beside the inches, for many tools of the bench are in millimetres everywhere.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from functools import lru_cache
from math import ceil, floor
from typing import NamedTuple

from diagnose.units.convert import out_of_si, plain, rounded, to_si
from diagnose.units.table import dimension_named, unit_named


class Pair(NamedTuple):
    """A dimension, and the unit that each system has for it in sentences."""

    dimension: str
    metric: str
    us: str


DEGREE, CHANGE = Pair("temperature", "C", "F"), Pair("temperature change", "C", "F")
METRIC: Mapping[str, Pair] = {
    **dict.fromkeys(("C", "°C", "degrees C"), DEGREE),
    "K": Pair("temperature change", "K", "F"),
    "mm": Pair("length", "mm", "in"),
    "cm": Pair("length", "cm", "in"),
    "m": Pair("length", "m", "ft"),
    "bar": Pair("pressure", "bar", "psi"),
    "mbar": Pair("pressure", "mbar", "psi"),
    "kPa": Pair("pressure", "kPa", "psi"),
    "MPa": Pair("pressure", "MPa", "psi"),
    "kg": Pair("mass", "kg", "lb"),
}
"""What is given in other units to those who write in US units; grams, millilitres and micrometres they use as well."""
US: Mapping[str, tuple[str, ...]] = {
    "temperature": ("F", "°F"), "length": ("in", "inch", "ft"), "pressure": ("psi", "inHg"), "mass": ("lb",),
}  # fmt: skip

_NUMBER = r"\d+(?:\.\d+)?"
_NUMBERS = rf"{_NUMBER}(?:(?: ?(?:to|-|–|x) ?| (?:and|or|by|than at) |, ){_NUMBER})*"
_RATE = r" ?(?:/ ?|an? |per )(?:min|minute|h|hour|s|second)\b"
_QUANTITY = re.compile(
    rf"(?<![\w.,:/])(?P<numbers>{_NUMBERS})(?:(?P<gap> ?)(?P<unit>°C|mm|cm|mbar|bar|kPa|MPa|kg|C)|"
    rf"(?P<wide> )(?P<word>degrees C|K|m))(?![\w°-])(?P<rate>(?:{_RATE})?)"
)
_OF_US = re.compile(rf"(?<![\w.,:/])(?P<numbers>{_NUMBERS})[ -]?(?P<unit>°F|F|inHg|inch|in|psi|lb|ft)\b")
_BESIDE = 12
"""How many signs may stand between a quantity and the same one in the other system."""
_ALIKE = 0.04
"""How far, as a share, two numbers may be from each other that say the same, each rounded."""
_APART = {"temperature": 2.5, "temperature change": 0.5}
"""The same for temperatures. [K]"""
NEAR = 0.02
"""How far, as a share, a length may be from one of a single digit to be called so: 25 mm is 1 in, 5 mm is 0.2 in."""

_BEFORE = re.compile(
    r"(?:\b(?:within|differs? by|steps of|(?:for )?each|spread is under|misses|falls|(?<!gone )by|up|down)"
    r"(?: about| at least| at most| more than)?) $",
    re.IGNORECASE,
)
_SIDE = r"cooler|colder|hotter|warmer|lower|higher|off|apart|low|high|less"
_AFTER = re.compile(
    rf" (?:(?:(?:or|and) )?(?:more )?(?:{_SIDE})\b|or more (?:above|below|if|in a minute)\b|"
    r"(?:above|below|over) (?:it|its|the|fully)\b|at a time\b|under the solidus|make only)"
)
# A limit is never rounded past itself.
_AT_MOST_BEFORE = re.compile(
    r"\b(?:(?:never|not|no|nothing) (?:\w+ )?(?:above|over|past|hotter than)|at most|up to)(?: the)? $"
)
_AT_LEAST_BEFORE = re.compile(r"\b(?:(?:never|not|no|nothing) (?:\w+ )?(?:below|under)|at least) $")
_AT_MOST_AFTER, _AT_LEAST_AFTER = re.compile(r" or (?:below|less|colder)\b"), re.compile(r" or (?:above|more|hotter)\b")


@lru_cache(maxsize=8192)
def prose(text: str, system: str) -> str:
    """Return a sentence with its metric quantities in the units of a system, `us` or `metric`.

    A number is rounded to what it says: 480 C is given to ten degrees, so to 895 °F and not to 896. What stands there
    in both systems already is left as it is, and so is what has no unit of the closed list.

    >>> prose("pour 25 C cooler, at 400 to 480 C for over 5 mm", "us")
    'pour 45 °F cooler, at 750 to 895 °F for over 0.2 in (5 mm)'
    >>> prose("within 3 C (5 F)", "metric"), prose("2 K a minute", "metric")
    ('within 3 C (5 F)', '2 C a minute')
    """
    pieces, end = [], 0
    for found in quantities_in(text):
        pieces += [text[end : found.start], found.written(system)]
        end = found.end
    return "".join([*pieces, text[end:]])


class Found(NamedTuple):
    """A metric quantity in a sentence: where it stands, its numbers as written, and what it is."""

    text: str
    start: int
    end: int
    numbers: str
    unit: str
    pair: Pair
    rate: str
    both: bool
    """Whether the same stands beside it in US units."""

    def written(self, system: str) -> str:
        """Return the quantity as a system writes it."""
        own = self.text[self.start : self.end]
        if system == "metric":
            return f"{own.removesuffix(self.rate)[:-1]}C{self.rate}" if self.unit == "K" else own
        if self.both:
            return own
        us = unit_named(self.pair.us, self.pair.dimension).symbol
        numbers = re.sub(_NUMBER, lambda m: self._number(m[0], self._whole()), self.numbers)
        if self.unit not in ("mm", "cm") or self.rate:
            return f"{numbers} {us}{self.rate}"
        inside = self.text.count("(", 0, self.start) > self.text.count(")", 0, self.start)
        return f"{numbers} {us} = {own}" if inside else f"{numbers} {us} ({own})"

    def _whole(self) -> Callable[[float], int]:
        """Return how a temperature is made a whole number: a limit only to its safe side."""
        before, after = self.text[: self.start], self.text[self.end :]
        if _AT_LEAST_BEFORE.search(before) or _AT_LEAST_AFTER.match(after):
            return ceil
        return floor if _AT_MOST_BEFORE.search(before) or _AT_MOST_AFTER.match(after) else round

    def _number(self, typed: str, whole: Callable[[float], int]) -> str:
        dimension, metric, us = self.pair
        value = out_of_si(to_si(float(typed), metric, dimension), unit_named(us, dimension), dimension_named(dimension))
        decimals = len(typed.partition(".")[2])
        if dimension == "temperature":
            return _degrees(float(typed), value, decimals, whole)
        if dimension == "temperature change" and not self.rate:
            return f"{value:.{max(decimals, int(value < 2))}f}"
        given = len(typed.replace(".", "").strip("0"))
        short = rounded(value, 1)
        if dimension == "length" and given < 3 and abs(short - value) <= NEAR * value:
            return plain(short)
        return plain(rounded(value, max(2, given)))


def _degrees(celsius: float, fahrenheit: float, decimals: int, whole: Callable[[float], int]) -> str:
    """Write a temperature: a round one high up, unless it is a limit, to five degrees; any other as it was given."""
    ten, five = celsius % 10 == 0, celsius % 5 == 0
    fahrenheit = round(fahrenheit, 6)
    if whole is round and ((ten and celsius >= 150) or (five and celsius >= 300)):
        return f"{5 * round(fahrenheit / 5)}"
    return f"{fahrenheit:.{decimals}f}" if decimals else f"{whole(fahrenheit)}"


def quantities_in(text: str) -> Iterator[Found]:
    """Yield the metric quantities of a sentence, in order."""
    for m in _QUANTITY.finditer(text):
        unit = m["unit"] or m["word"]
        pair = METRIC[unit]
        if pair == DEGREE and (m["rate"] or _BEFORE.search(text[: m.start()]) or _AFTER.match(text[m.end() :])):
            pair = CHANGE
        yield Found(text, m.start(), m.end(), m["numbers"], unit, pair, m["rate"], _in_both(text, m, pair))


def _in_both(text: str, m: re.Match[str], pair: Pair) -> bool:
    """Say whether the same quantity stands in US units right before or after."""
    kind = "temperature" if pair == CHANGE else pair.dimension
    own = [to_si(float(n), pair.metric, pair.dimension) for n in re.findall(_NUMBER, m["numbers"])]
    for us in _OF_US.finditer(text, max(0, m.start() - 40), m.end() + 40):
        between = max(us.start() - m.end(), m.start() - us.end())
        if us["unit"] not in US[kind] or between > _BESIDE:
            continue
        same = [to_si(float(n), us["unit"], pair.dimension) for n in re.findall(_NUMBER, us["numbers"])]
        apart = _APART.get(pair.dimension, 0.0)
        if len(same) == len(own) and all(
            abs(a - b) <= (apart or _ALIKE * abs(a)) for a, b in zip(own, same, strict=True)
        ):
            return True
    return False
