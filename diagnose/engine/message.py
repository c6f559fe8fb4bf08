"""What the engine gets to see: short keys of our own, codes for answers, and plain decimal numbers.

No name or answer from the rules or from a person ever reaches the engine, so none can trip it.
"""

from __future__ import annotations

import math
import sys
from dataclasses import dataclass, field

from diagnose.engine.demand import Demand, Look, NoneOf, OneOf, Span

# Properties that the engine, or our own frame around each message, already uses.
RESERVED = ("sid", "id", "~g", "~v", "~u", "$s", "$forward")
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
class AnswerField:
    """A property that says which answer it is; answers that no rule names share one code."""

    key: str
    codes: dict[str, str] = field(default_factory=dict)

    def code(self, answer: str) -> str:
        """Return the code of an answer that a rule names."""
        return self.codes.setdefault(answer, f'"{len(self.codes)}"')

    def text(self, answer: str | None) -> str:
        """Return what the engine reads for an answer; None stands for one that no rule names."""
        return _OTHER_ANSWER if answer is None else self.codes.get(answer, _OTHER_ANSWER)


@dataclass(frozen=True)
class MemberField:
    """A property that says whether the answer is one of a set: one test instead of one alternative each."""

    key: str
    answers: frozenset[str]

    def text(self, answer: str | None) -> str:
        """Return what the engine reads for an answer; None stands for one that no rule names."""
        return '"y"' if answer in self.answers else '"n"'


class Fields:
    """All properties of the messages of one rules base, made as its demands need them."""

    def __init__(self) -> None:
        self._keys = Keys()
        self._numbers: dict[Look, str] = {}
        self._answers: dict[Look, AnswerField] = {}
        self._members: dict[tuple[Look, frozenset[str]], MemberField] = {}

    def answers(self) -> dict[Look, tuple[AnswerField | MemberField, ...]]:
        """Return the properties that each answer or side fills."""
        found: dict[Look, tuple[AnswerField | MemberField, ...]] = {look: (a,) for look, a in self._answers.items()}
        for (look, _), member in self._members.items():
            found[look] = (*found.get(look, ()), member)
        return found

    def numbers(self) -> dict[Look, str]:
        """Return the property that each number or comparison of numbers fills."""
        return dict(self._numbers)

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
        key = self._numbers.get(look) or self._numbers.setdefault(look, self._keys.new())
        ends = [
            ("$gte" if span.low_shut else "$gt", span.low),
            ("$lte" if span.high_shut else "$lt", span.high),
        ]
        shut = [(sign, end) for sign, end in ends if math.isfinite(end)]
        # With both ends open any number will do, as long as it is known.
        shut = shut or [("$gte", -sys.float_info.max)]
        return [(key, f'{{"{sign}":{{"{key}":{number_text(end)}}}}}') for sign, end in shut]
