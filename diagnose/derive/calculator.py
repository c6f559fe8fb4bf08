"""What a calculator is: named facts in, named facts out, on top of the pure functions in calc/."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from math import isfinite

from diagnose.errors import OutOfRange

Value = float | str | tuple[float, ...]
Facts = Mapping[str, Value]


@dataclass(frozen=True)
class Calculator:
    """A named computation between facts.

    `needs` are facts without which it stays silent: recorded settings, derived facts, material properties, or
    settings that the rules base allows to be assumed. `takes` are used when known and left out otherwise;
    `only_with` names those of them that play a part only where another fact has a certain answer.
    `run` gets only known facts (SI floats, answers as text, tuples for lists of readings) and returns facts by
    name; it may leave some of `gives` out when their inputs are missing, and raises OutOfRange when a value
    lies outside the validity of its formula. `says` turns the facts (inputs and results together) into
    plain sentences in which a fact's name in braces stands for its value with unit: "{core cure} of the need".
    `formula` says in words how the results come about, a line for each, facts in braces too: "{overfill} = ... - 1";
    a line that begins with no brace explains a word that the others use.
    `drawing` names the picture that shows it, if there is one; pictures are made from the same facts.
    """

    name: str
    title: str
    stage: str
    needs: tuple[str, ...]
    gives: tuple[str, ...]
    run: Callable[[Facts], dict[str, Value]]
    says: Callable[[Facts], Sequence[str]]
    sources: tuple[str, ...]
    takes: tuple[str, ...] = ()
    only_with: Mapping[str, tuple[str, str]] = field(default_factory=dict)
    formula: tuple[str, ...] = ()
    drawing: str = ""

    def compute(self, facts: Facts) -> dict[str, Value]:
        """Return what `run` finds; raise OutOfRange where an input or a result is no finite number."""
        for name, value in facts.items():
            if not _finite(value):
                raise OutOfRange(f"{name} is {value}, which is no number.", next_step=f"Check {name}.")
        found = self.run(facts)
        for name, value in found.items():
            if not _finite(value):
                raise OutOfRange(f"these inputs give no finite {name}.", next_step="Check them, and their units.")
        return found


def _finite(value: Value) -> bool:
    if isinstance(value, str):
        return True
    return all(map(isfinite, value)) if isinstance(value, tuple) else isfinite(value)


def number(facts: Facts, name: str) -> float:
    """Return a fact that must be a number."""
    value = facts[name]
    if not isinstance(value, float):
        raise TypeError(f"{name} is not a number: {value!r}")
    return value
