"""Rules in, facts in, and out come the rules that apply with the facts that made them apply."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple, cast

from diagnose.engine.comparison import look_of
from diagnose.engine.message import Fields
from diagnose.engine.normal import alternatives
from diagnose.engine.reading import Sheet, Value
from diagnose.engine.ruleset import Ruleset, Test, fits
from diagnose.errors import EngineError
from diagnose.model.condition import Condition, Leaf, Side, Window, leaves

Looked = float | str | Side


class Match(NamedTuple):
    """A rule that applies, with the comparisons that were enough for it and the value each looked at.

    A comparison under `none` is given as it stands in the rule: its value shows that it does not hold.
    """

    rule: str
    because: tuple[tuple[Leaf, Looked], ...]


class _Way(NamedTuple):
    """One alternative of a rule: the rule's place, and each comparison with where its value is found."""

    place: int
    looks: tuple[tuple[Leaf, str, bool], ...]


class Matcher:
    """Rules compiled once; every evaluation looks at all facts afresh."""

    def __init__(self, rules: Sequence[tuple[str, Condition]]) -> None:
        self._rules = tuple(rule for rule, _ in rules)
        _refuse_doubles(self._rules)
        _refuse_mixed(rules)
        found = [(n, one) for n, rule in enumerate(rules) for one in alternatives(*rule)]
        possible = {n for n, _ in found}
        self._never = tuple(rule for n, rule in enumerate(self._rules) if n not in possible)
        fields = Fields()
        tests = [[t for look, demand in one.demands.items() for t in fields.tests(look, demand)] for _, one in found]
        ways = [_Way(n, tuple((x, x.fact, isinstance(x, Window)) for x in one.leaves)) for n, one in found]
        self._sheet = Sheet(fields)
        self._sets = [
            (Ruleset([tests[i] for i in chosen]), [ways[i] for i in chosen])
            for chosen in _packed(tests, [self._rules[n] for n, _ in found])
        ]

    @property
    def never(self) -> tuple[str, ...]:
        """The rules that can never hold, because their parts contradict each other."""
        return self._never

    def evaluate(self, facts: Mapping[str, Value], windows: Mapping[str, Side]) -> tuple[Match, ...]:
        """Return the rules that apply, in their order; facts that no rule looks at are passed over."""
        texts = self._sheet.filled(facts, windows)
        first: dict[int, _Way] = {}
        for ruleset, ways in self._sets:
            message = "".join([texts[key] for key in ruleset.keys if key in texts])
            for met in ruleset.met(message):
                first.setdefault(ways[met].place, ways[met])
        return tuple([Match(self._rules[n], _because(first[n], facts, windows)) for n in sorted(first)])

    def forget(self) -> None:
        """Forget earlier evaluations; the answers stay the same, only slower."""
        for ruleset, _ in self._sets:
            ruleset.forget()


def _packed(tests: Sequence[Sequence[Test]], rules: Sequence[str]) -> Iterator[list[int]]:
    """Yield, in order, the numbers of the alternatives that fit into one ruleset together."""
    chosen: list[int] = []
    together: set[Test] = set()
    for number, one in enumerate(tests):
        if not fits(1, set(one)):
            raise EngineError(
                f"one alternative of the condition has {len(one)} comparisons, too many at once.",
                where=f"rule {rules[number]!r}",
                next_step="Split it into several rules.",
            )
        if chosen and not fits(len(chosen) + 1, together.union(one)):
            yield chosen
            chosen, together = [], set()
        chosen.append(number)
        together.update(one)
    if chosen:
        yield chosen


def _refuse_doubles(rules: Sequence[str]) -> None:
    for rule, count in Counter(rules).items():
        if count > 1:
            raise EngineError(f"{count} rules have this name.", where=f"rule {rule!r}", next_step="Rename all but one.")


def _refuse_mixed(rules: Sequence[tuple[str, Condition]]) -> None:
    """Refuse a fact that is an answer here and a number there: the one could never hold."""
    is_answer: dict[str, bool] = {}
    for rule, leaf in ((rule, leaf) for rule, condition in rules for leaf in leaves(condition)):
        look = look_of(leaf)
        for fact in () if look.kind == "side" else (look.fact, look.other):
            if fact is not None and is_answer.setdefault(fact, look.kind == "answer") != (look.kind == "answer"):
                raise EngineError(
                    f"{fact!r} is compared with an answer in one place and with a number in another.",
                    where=f"rule {rule!r}",
                    next_step="Use two facts.",
                )


def _because(way: _Way, facts: Mapping[str, Value], windows: Mapping[str, Side]) -> tuple[tuple[Leaf, Looked], ...]:
    return tuple([(leaf, windows[name] if side else cast(Looked, facts[name])) for leaf, name, side in way.looks])
