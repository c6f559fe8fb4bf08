"""What the engine gets to see: short keys of our own, codes for answers, and plain decimal numbers.

No name or answer from the rules or from a person ever reaches the engine, so none can trip it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from diagnose.engine.demand import Demand, Look, NoneOf, OneOf, Span

# Properties that the engine, or our own frame around each message, already uses.
RESERVED = ("sid", "id", "~g", "~v", "$s", "$forward")
_OTHER_ANSWER, _NEVER_AN_ANSWER = '"-"', '"?"'


def number_text(value: float) -> str:
    """Write a finite number so that the engine reads back exactly the same one."""
    if not math.isfinite(value):
        raise ValueError(f"{value} cannot be written for the engine")
    text = repr(float(value) or 0.0)  # no negative zero
    # The engine reads an exponent only after a fraction: 1e-07 is refused, 1.0e-07 is not.
    return text.replace("e", ".0e") if "e" in text and "." not in text else text


def engine_hash(key: str) -> int:
    """Return the 32-bit FNV-1a hash by which the engine tells properties apart, without looking further."""
    value = 0x811C9DC5
    for byte in key.encode():
        value = ((value ^ byte) * 0x01000193) & 0xFFFFFFFF
    return value


class Keys:
    """Hands out property names, no two of which the engine could take for one another."""

    def __init__(self) -> None:
        self._hashes = {engine_hash(key) for key in RESERVED}
        self._last = 0

    def new(self) -> str:
        """Return a name never handed out before."""
        while True:
            self._last += 1
            key = f"k{self._last}"
            if (hashed := engine_hash(key)) not in self._hashes:
                self._hashes.add(hashed)
                return key


@dataclass(frozen=True)
class NumberField:
    """A property that carries the number itself."""

    key: str

    def text(self, value: float | str) -> str:
        """Return the value as the engine reads it."""
        return number_text(float(value))


@dataclass(frozen=True)
class AnswerField:
    """A property that says which answer it is; answers that no rule names share one code."""

    key: str
    codes: dict[str, str] = field(default_factory=dict)

    def code(self, answer: str) -> str:
        """Return the code of an answer that a rule names."""
        return self.codes.setdefault(answer, f'"{len(self.codes)}"')

    def text(self, value: float | str) -> str:
        """Return the value as the engine reads it."""
        return self.codes.get(value, _OTHER_ANSWER) if isinstance(value, str) else _OTHER_ANSWER


@dataclass(frozen=True)
class MemberField:
    """A property that says whether the answer is one of a set: one test instead of one alternative each."""

    key: str
    answers: frozenset[str]

    def text(self, value: float | str) -> str:
        """Return the value as the engine reads it."""
        return '"y"' if value in self.answers else '"n"'


Field = NumberField | AnswerField | MemberField


class Fields:
    """All properties of the messages of one rules base, made as its demands need them."""

    def __init__(self) -> None:
        self._keys = Keys()
        self._numbers: dict[Look, NumberField] = {}
        self._answers: dict[Look, AnswerField] = {}
        self._members: dict[tuple[Look, frozenset[str]], MemberField] = {}

    def by_look(self) -> Mapping[Look, tuple[Field, ...]]:
        """Return the properties that each value fills."""
        found: dict[Look, list[Field]] = {}
        for look, number in self._numbers.items():
            found.setdefault(look, []).append(number)
        for look, answer in self._answers.items():
            found.setdefault(look, []).append(answer)
        for (look, _), member in self._members.items():
            found.setdefault(look, []).append(member)
        return {look: tuple(fields) for look, fields in found.items()}

    def tests(self, look: Look, demand: Demand) -> list[tuple[str, str]]:
        """Return the tests, each with its key, that the engine must find true for the demand to be met."""
        if isinstance(demand, Span):
            return self._span(look, demand)
        if len(demand.answers) > 1:
            return [self._member(look, demand)]
        answer = self._answers.get(look) or self._answers.setdefault(look, AnswerField(self._keys.new()))
        code = answer.code(next(iter(demand.answers))) if demand.answers else _NEVER_AN_ANSWER
        test = f'{{"{answer.key}":{code}}}'
        return [(answer.key, test if isinstance(demand, OneOf) else f'{{"$neq":{test}}}')]

    def _member(self, look: Look, demand: OneOf | NoneOf) -> tuple[str, str]:
        known = self._members.get((look, demand.answers))
        if known is None:
            known = self._members[look, demand.answers] = MemberField(self._keys.new(), demand.answers)
        return known.key, f'{{"{known.key}":"{"y" if isinstance(demand, OneOf) else "n"}"}}'

    def _span(self, look: Look, span: Span) -> list[tuple[str, str]]:
        number = self._numbers.get(look)
        if number is None:
            number = self._numbers[look] = NumberField(self._keys.new())
        ends = [
            ("$gte" if span.low_shut else "$gt", span.low),
            ("$lte" if span.high_shut else "$lt", span.high),
        ]
        if not any(math.isfinite(end) for _, end in ends):
            ends = [("$gte", -1.7976931348623157e308)]  # any number will do, as long as it is known
        return [
            (number.key, f'{{"{sign}":{{"{number.key}":{number_text(end)}}}}}')
            for sign, end in ends
            if math.isfinite(end)
        ]
