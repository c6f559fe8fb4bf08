"""The same rules in CLIPS, a general-purpose rules engine, through clipspy: the second opinion.

Each condition is written in the way of CLIPS: one fact for each thing known, patterns for comparisons, and
the engine's own `and` and `or` for groups. What is unknown is a fact that is not there.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal
from itertools import combinations, count

import clips

from diagnose.model.condition import (
    Against,
    All,
    Any,
    AtLeast,
    Condition,
    Is,
    Leaf,
    Nothing,
    Window,
    Within,
)

SIDES = ("below", "inside", "above")
SIGNS = {("below", True): "<", ("below", False): ">=", ("above", True): ">", ("above", False): "<="}
NEVER = "(known (name nothing) (value never))"


class Clips:
    """Rules built once; the environment is reset for every evaluation."""

    def __init__(self, rules: Sequence[tuple[str, Condition]]) -> None:
        self._env = clips.Environment()
        self._hits: list[int] = []
        self._env.define_function(self._hits.append, name="hit")
        self._symbols: dict[str, clips.Symbol] = {}
        self._variables = count()
        self._names = [name for name, _ in rules]
        built = [f"(defrule r{n} {self._condition(c, True)} => (hit {n}))" for n, (_, c) in enumerate(rules)]
        self._declare()
        for rule in built:
            self._env.build(rule)

    def evaluate(self, facts: Mapping[str, float | str], windows: Mapping[str, str]) -> list[str]:
        """Return the names of the rules that hold, in order."""
        self._env.reset()
        self._hits.clear()
        self._tell(facts, windows)
        self._env.run()
        return [self._names[number] for number in sorted(set(self._hits))]

    def _declare(self) -> None:
        for what in ("known", "lies"):
            self._env.build(f"(deftemplate {what} (slot name) (slot value))")
        self._known, self._lies = self._env.find_template("known"), self._env.find_template("lies")

    def _tell(self, facts: Mapping[str, float | str], windows: Mapping[str, str]) -> None:
        symbols = self._symbols  # a name that is not there is in no rule, so nothing is lost by not telling it
        for name, value in facts.items():
            if name in symbols:
                told = value if isinstance(value, float) else self._symbol(value)
                self._known.assert_fact(name=symbols[name], value=told)
        for name, side in windows.items():
            if name in symbols:
                self._lies.assert_fact(name=symbols[name], value=self._symbol(side))

    def _pattern(self, name: str, test: str, what: str = "known") -> str:
        return f"({what} (name {name}) (value {test}))"

    def _symbol(self, text: str) -> clips.Symbol:
        if text not in self._symbols:
            self._symbols[text] = clips.Symbol(f"s{len(self._symbols)}")
        return self._symbols[text]

    def _condition(self, condition: Condition, wanted: bool) -> str:
        match condition:
            case All():
                return self._group("and" if wanted else "or", condition.parts, wanted)
            case Any():
                return self._group("or" if wanted else "and", condition.parts, wanted)
            case Nothing():
                return self._group("and" if wanted else "or", condition.parts, not wanted)
            case AtLeast():
                need = condition.count if wanted else len(condition.parts) - condition.count + 1
                chosen = [self._group("and", some, wanted) for some in combinations(condition.parts, need)]
                return f"(or {' '.join(chosen)})" if len(chosen) > 1 else chosen[0]
        return self._leaf(condition, wanted)

    def _group(self, word: str, parts: Sequence[Condition], wanted: bool) -> str:
        inner = [self._condition(part, wanted) for part in parts]
        return f"({word} {' '.join(inner)})" if len(inner) > 1 else inner[0]

    def _leaf(self, leaf: Leaf, wanted: bool) -> str:
        name = self._symbol(leaf.fact)
        match leaf:
            case Is():
                found = [self._symbol(answer) for answer in leaf.answers]
                test = "|".join(found) if wanted else "&".join(f"~{answer}" for answer in found)
                return self._pattern(name, test)
            case Window():
                sides = [self._symbol(side) for side in SIDES if (side in leaf.sides) == wanted]
                return self._pattern(name, "|".join(sides), "lies") if sides else NEVER
            case Against():
                return self._against(leaf, wanted)
        v = self._variable()
        if isinstance(leaf, Within) == wanted:
            test = f"(and TRUE TRUE{_end(f'> {v}', leaf.low)}{_end(f'< {v}', leaf.high)})"
        else:
            test = f"(or FALSE FALSE{_end(f'<= {v}', leaf.low)}{_end(f'>= {v}', leaf.high)})"
        return self._pattern(name, f"{v}&:{test}")

    def _against(self, leaf: Against, wanted: bool) -> str:
        v = self._variable()
        o = v if leaf.fact == leaf.other else self._variable()
        sign = SIGNS[leaf.side, wanted]
        margin = Decimal(repr(leaf.amount if leaf.share is None else leaf.share))
        away = -margin if leaf.side == "below" else margin
        if leaf.share is None:
            test = f"({sign} (- {v} {o}) {float(away)!r})"
        else:
            test = f"(and (> {o} 0.0) ({sign} (/ {v} {o}) {float(1 + away)!r}))"
        name, other = self._symbol(leaf.fact), self._symbol(leaf.other)
        if name == other:
            return self._pattern(name, f"{v}&:{test}")
        return f"(and {self._pattern(name, v)} {self._pattern(other, f'{o}&:{test}')})"

    def _variable(self) -> str:
        return f"?v{next(self._variables)}"


class WideClips(Clips):
    """The same with all that is known in one fact, a slot for each name: fewer facts, wider patterns."""

    def __init__(self, rules: Sequence[tuple[str, Condition]]) -> None:
        self._slots: set[str] = set()
        super().__init__(rules)

    def _declare(self) -> None:
        slots = " ".join(f"(slot {slot} (default nil))" for slot in sorted(self._slots))
        self._env.build(f"(deftemplate known {slots})")
        self._known = self._env.find_template("known")

    def _tell(self, facts: Mapping[str, float | str], windows: Mapping[str, str]) -> None:
        slots: dict[str, object] = {}
        for name, value in facts.items():
            if (slot := f"known-{self._symbol(name)}") in self._slots:
                slots[slot] = value if isinstance(value, float) else self._symbol(value)
        for name, side in windows.items():
            if (slot := f"lies-{self._symbol(name)}") in self._slots:
                slots[slot] = self._symbol(side)
        self._known.assert_fact(**slots)

    def _pattern(self, name: str, test: str, what: str = "known") -> str:
        self._slots.add(f"{what}-{name}")
        if test.startswith("?"):
            variable, _, rest = test.partition("&")
            test = f"{variable}&~nil&{rest}" if rest else f"{variable}&~nil"
        elif test.startswith("~"):
            test = f"~nil&{test}"
        return f"(known ({what}-{name} {test}))"


def _end(test: str, end: float | None) -> str:
    return "" if end is None else f" ({test} {end!r})"
