"""Rules in, facts in, and out come the rules that apply with the facts that made them apply."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from diagnose.engine.comparison import look_of
from diagnose.engine.message import Fields
from diagnose.engine.normal import Alternative, alternatives
from diagnose.engine.reading import Value, seen
from diagnose.engine.ruleset import Ruleset, Test, fits
from diagnose.errors import EngineError
from diagnose.model.condition import Condition, Leaf, Side, Window, leaves

Looked = float | str | Side


@dataclass(frozen=True)
class Match:
    """A rule that applies, with the comparisons that were enough for it and the value each looked at.

    A comparison under `none` is given as it stands in the rule: its value shows that it does not hold.
    """

    rule: str
    because: tuple[tuple[Leaf, Looked], ...]


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
        tests = [
            [t for look, demand in one.demands.items() for t in fields.tests(look, demand)]
            for _, one in found
        ]
        self._fields = fields.by_look()
        self._looks = tuple(self._fields)
        self._sets = [
            (Ruleset([tests[i] for i in chosen]), [found[i] for i in chosen])
            for chosen in self._packed(tests, found)
        ]

    @property
    def never(self) -> tuple[str, ...]:
        """The rules that can never hold, because their parts contradict each other."""
        return self._never

    def evaluate(self, facts: Mapping[str, Value], windows: Mapping[str, Side]) -> tuple[Match, ...]:
        """Return the rules that apply, in their order; facts that no rule looks at are passed over."""
        texts: dict[str, str] = {}
        for look in self._looks:
            value = seen(look, facts, windows)
            if value is not None:
                for field in self._fields[look]:
                    texts[field.key] = f',"{field.key}":{field.text(value)}'
        first: dict[int, Alternative] = {}
        for ruleset, members in self._sets:
            message = "".join([texts[key] for key in ruleset.keys if key in texts])
            for met in ruleset.met(message):
                first.setdefault(*members[met])
        return tuple(Match(self._rules[n], _because(first[n], facts, windows)) for n in sorted(first))

    def forget(self) -> None:
        """Forget earlier evaluations; the answers stay the same, only slower."""
        for ruleset, _ in self._sets:
            ruleset.forget()

    def _packed(
        self, tests: Sequence[Sequence[Test]], found: Sequence[tuple[int, Alternative]]
    ) -> Iterator[list[int]]:
        """Yield, in order, the numbers of the alternatives that fit into one ruleset together."""
        chosen: list[int] = []
        together: set[Test] = set()
        for number, one in enumerate(tests):
            if not fits(1, set(one)):
                raise EngineError(
                    f"one alternative of the condition has {len(one)} comparisons, too many at once.",
                    where=f"rule {self._rules[found[number][0]]!r}",
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
            raise EngineError(
                f"{count} rules have this name.", where=f"rule {rule!r}", next_step="Rename all but one."
            )


def _refuse_mixed(rules: Sequence[tuple[str, Condition]]) -> None:
    """Refuse a fact that is an answer here and a number there: the one could never hold."""
    is_answer: dict[str, bool] = {}
    for rule, leaf in ((rule, leaf) for rule, condition in rules for leaf in leaves(condition)):
        look = look_of(leaf)
        for fact in () if look.kind == "side" else (look.fact, look.other):
            if fact and is_answer.setdefault(fact, look.kind == "answer") != (look.kind == "answer"):
                raise EngineError(
                    f"{fact!r} is compared with an answer in one place and with a number in another.",
                    where=f"rule {rule!r}",
                    next_step="Use two facts.",
                )


def _because(
    one: Alternative, facts: Mapping[str, Value], windows: Mapping[str, Side]
) -> tuple[tuple[Leaf, Looked], ...]:
    found: list[tuple[Leaf, Looked]] = []
    for leaf in one.leaves:
        value = windows[leaf.fact] if isinstance(leaf, Window) else facts[leaf.fact]
        assert not isinstance(value, tuple)  # a list of readings makes no comparison true
        found.append((leaf, value))
    return tuple(found)
