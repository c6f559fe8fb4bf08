"""From facts to the properties of the engine's message: what is known where the rules look."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from contextlib import suppress
from math import isfinite

from diagnose.engine.comparison import SIDES, difference, ratio
from diagnose.engine.message import AnswerField, Fields, MemberField, number_text
from diagnose.errors import EngineError
from diagnose.model.condition import Side

Value = float | str | tuple[float, ...]
Entries = tuple[tuple[str, str], ...]


class Answers(dict[str, Entries]):
    """The properties that each answer to one question fills: worked out once, looked up ever after."""

    def __init__(self, fields: Sequence[AnswerField | MemberField]) -> None:
        named = {a for f in fields for a in (f.codes if isinstance(f, AnswerField) else f.answers)}
        super().__init__((answer, _entries(fields, answer)) for answer in named)
        self._other = _entries(fields, None)

    def __missing__(self, answer: str) -> Entries:
        return self._other


class Sheet:
    """The properties that the rules look at, to be filled from facts; what is unknown stays out."""

    def __init__(self, fields: Fields) -> None:
        answers, numbers = fields.answers(), fields.numbers()
        self._answers = {look.fact: Answers(f) for look, f in answers.items() if look.kind == "answer"}
        self._sides = {look.fact: Answers(f) for look, f in answers.items() if look.kind == "side"}
        self._numbers = {name: "" for look in numbers for name in (look.fact, look.other) if name is not None}
        self._numbers.update({look.fact: key for look, key in numbers.items() if look.kind == "number"})
        self._compared = [
            (look.fact, look.other, ratio if look.kind == "ratio" else difference, key)
            for look, key in numbers.items()
            if look.other is not None
        ]

    def filled(self, facts: Mapping[str, Value], windows: Mapping[str, Side]) -> dict[str, str]:
        """Return the text of every property that is known, by key."""
        texts: dict[str, str] = {}
        numbers: dict[str, float] = {}
        for name, value in facts.items():
            if name in self._answers:
                if isinstance(value, str):
                    texts.update(self._answers[name][value])
                elif not isinstance(value, tuple):
                    raise _unfit(name, f"the rules expect an answer and got {value!r}.", "Give it in words.")
            elif name in self._numbers and not isinstance(value, tuple):
                numbers[name] = number = _number(name, value)
                if key := self._numbers[name]:
                    texts[key] = f',"{key}":{number_text(number)}'
        for fact, other, compare, key in self._compared:
            if fact in numbers and other in numbers:
                result = compare(numbers[fact], numbers[other])
                if result is not None:
                    texts[key] = f',"{key}":{number_text(result)}'
        for name, side in windows.items():
            if name in self._sides:
                if side not in SIDES:
                    raise _unfit(name, f"{side!r} is not a side of a window.", "Say below, inside or above.")
                texts.update(self._sides[name][side])
        return texts


def _entries(fields: Sequence[AnswerField | MemberField], answer: str | None) -> Entries:
    return tuple((f.key, f',"{f.key}":{f.text(answer)}') for f in fields)


def _number(name: str, value: object) -> float:
    if isinstance(value, (float, int)) and not isinstance(value, bool):
        # A whole number too large for a float cannot even be asked whether it is finite.
        with suppress(OverflowError):
            if isfinite(value):
                return float(value)
    raise _unfit(name, f"the rules expect a number and got {value!r}.", "Record a plain number, or leave it out.")


def _unfit(name: str, what: str, next_step: str) -> EngineError:
    return EngineError(what, where=f"fact {name!r}", next_step=next_step)
