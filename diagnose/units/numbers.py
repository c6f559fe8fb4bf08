"""Reads the number at a place in tidied text: mixed fractions, both decimal marks, groups of thousands."""

from __future__ import annotations

import re
from dataclasses import dataclass

from diagnose.units.result import Refused

_SIGN = re.compile(r"[+-] ?|minus |plus ")
_MIXED = re.compile(r"(\d{1,9})[ -](\d{1,6})/(\d{1,6})(?![\d/])")
_FRACTION = re.compile(r"(\d{1,9})/(\d{1,9})(?![\d/.,:])")
_SPACED = re.compile(r"\d{1,3}(?: \d{3})+(?:[.,]\d{1,12})?(?![\d.,/])")
_PLAIN = re.compile(r"(?:\d+(?:[.,]\d+)*\.?|[.,]\d+)(?:e[+-]?\d{1,2}(?![\d.,]))?")


@dataclass(frozen=True)
class Number:
    """A number read from text: its possible values, where it ends, and what made it doubtful."""

    values: tuple[float, ...]
    end: int
    doubt: str = ""
    """`comma`: the mark may be decimal or thousands. `spaced`: groups that may be several numbers."""


def number_at(text: str, start: int = 0) -> Number | None:
    """Read the number that begins at a place, or return None when there is none."""
    sign, at = 1.0, start
    if match := _SIGN.match(text, start):
        sign = -1.0 if match[0][0] in "-m" else 1.0
        at = match.end()
    found = _fraction_at(text, at) or _decimal_at(text, at)
    if found is None:
        return None
    return Number(tuple(sign * value for value in found.values), found.end, found.doubt)


def _fraction_at(text: str, at: int) -> Number | None:
    if match := _MIXED.match(text, at):
        whole, above, below = (int(part) for part in match.groups())
    elif match := _FRACTION.match(text, at):
        whole, (above, below) = 0, (int(part) for part in match.groups())
    else:
        return None
    if below == 0:
        raise Refused(f'"{match[0]}" has a zero below the line.')
    if whole and above >= below:
        raise Refused(f'"{match[0]}" is not a whole number and a fraction below one.')
    return Number((whole + above / below,), match.end())


def _decimal_at(text: str, at: int) -> Number | None:
    if match := _SPACED.match(text, at):
        return Number((float(match[0].replace(" ", "").replace(",", ".")),), match.end(), "spaced")
    if match := _PLAIN.match(text, at):
        mantissa, _, exponent = match[0].partition("e")
        written = _marks(mantissa.rstrip("."))
        values = tuple(float(f"{one}e{exponent or 0}") for one in written)
        return Number(values, match.end(), "comma" if len(values) > 1 else "")
    return None


def _marks(text: str) -> tuple[str, ...]:
    """Return the ways to read dots and commas, each with a dot for the decimal mark."""
    marks = [one for one in text if one in ".,"]
    if len(set(marks)) == 2:
        last = marks[-1]
        other = "," if last == "." else "."
        whole, _, rest = text.rpartition(last)
        if marks.count(last) == 1 and _grouped(whole.split(other)):
            return (f"{whole.replace(other, '')}.{rest}",)
        raise Refused(f'"{text}" is not a number.')
    if len(marks) > 1:
        groups = text.split(marks[0])
        if _grouped(groups):
            return ("".join(groups),)
        raise Refused(f'"{text}" is not a number.')
    if marks == [","]:
        whole, rest = text.split(",")
        if len(rest) == 3 and 1 <= len(whole) <= 3 and whole[0] != "0":
            thousands = f"{whole}{rest}"
            return (thousands,) if rest == "000" else (thousands, f"{whole}.{rest}")
    return (text.replace(",", "."),)


def _grouped(groups: list[str]) -> bool:
    return 1 <= len(groups[0]) <= 3 and all(len(group) == 3 for group in groups[1:])
