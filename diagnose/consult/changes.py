"""The smallest change of facts that would put another cause first: single facts, then pairs of the most telling."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from itertools import combinations
from math import log
from typing import NamedTuple

from diagnose.consult.outcome import answers_of, ranking_with
from diagnose.consult.rank import Ranking
from diagnose.consult.show import Shower
from diagnose.consult.standing import Facts, Standing, stand
from diagnose.derive.resolve import Resolver
from diagnose.model.condition import facts_of
from diagnose.model.vocabulary import Setting

PAIRED = 24  # single changes that are tried in pairs: those that bring a cause furthest
STRIDES = (1, 2, 4, 8, 16, 32)  # usual steps by which a recorded setting is moved
WAYS = 3
WORTH_NAMING = 0.25


class Otherwise(NamedTuple):
    """One fact that would be otherwise: its name, the value then, in words, and whether it contradicts a record."""

    fact: str
    value: float | str
    words: str
    recorded: bool
    size: float  # how far it goes: 0 for something found out, else usual steps (or 1 for another answer)


Size = tuple[int, float, int]


class Tried(NamedTuple):
    """Some changes and the ranking they lead to."""

    changes: tuple[Otherwise, ...]
    ranking: Ranking

    @property
    def size(self) -> Size:
        """Return how large the changes are: records contradicted, how far, how many."""
        return _size(self.changes)


class Changes:
    """Tries what-ifs on one standing; every ranking comes from the same rules."""

    def __init__(self, standing: Standing, resolver: Resolver, told: Facts, show: Shower) -> None:
        self.standing, self.resolver, self.told, self.show = standing, resolver, dict(told), show
        self.words = standing.desk.base.words
        self._together: dict[tuple[Otherwise, ...], Ranking] = {}
        self._used = {n for c in resolver.calculators for n in (*c.needs, *c.takes)}

    def ways(self, cause: str) -> list[Tried]:
        """Return the smallest changes that make a cause first, each of other facts; pairs where no single one does."""
        alone = [t for t in self.singles if _leads(t.ranking, cause)]
        alone += [t for s in self._recorded_settings() if (t := self._nearest(s, cause)) is not None]
        if alone:
            return _smallest(alone, cause)
        return _smallest(list(self._pairs(cause)), cause)

    @cached_property
    def singles(self) -> list[Tried]:
        """Return every single fact found out or answered otherwise, with the ranking then."""
        return [Tried((o,), self._with((o,))) for o in self._answers()]

    def _answers(self) -> Iterator[Otherwise]:
        facts, recorded = self.standing.resolved.facts, self._recorded_settings()
        for fact in self.standing.desk.rule_facts:
            if fact in self.standing.resolved.computed or any(fact == s.name for s in recorded):
                continue
            if self.words.slot_of_kind(fact) and fact in facts:
                continue  # a material is known for certain
            for words, value in answers_of(self.standing, fact, self.show):
                if facts.get(fact) != value:
                    known = fact in facts
                    yield Otherwise(fact, value, words, known, 1.0 if known else 0.0)

    def _recorded_settings(self) -> list[Setting]:
        """Return the recorded settings that the rules look at, themselves or through what is computed from them."""
        return [
            s for n, v in self.told.items()
            if isinstance(v, float) and self._matters(n) and (s := self.words.settings.get(n)) is not None
        ]  # fmt: skip

    def _matters(self, setting: str) -> bool:
        return setting in self._used or setting in self.standing.desk.rule_facts

    def _moved(self, setting: Setting, strides: int) -> Otherwise | None:
        now = self.told[setting.name]
        assert isinstance(now, float)
        step = setting.usual_step or 0.05 * max(abs(now), 1e-9)
        value = now + strides * step
        if not setting.plausible_low <= value <= setting.plausible_high:
            return None
        return Otherwise(setting.name, value, self.show.value(setting.name, value), True, float(abs(strides)))

    def _nearest(self, setting: Setting, cause: str) -> Tried | None:
        """Return the fewest usual steps of a recorded setting that make a cause first, up or down."""
        found = [t for sign in (1, -1) if (t := self._first_stride(setting, cause, sign)) is not None]
        return min(found, key=lambda t: t.size, default=None)

    def _first_stride(self, setting: Setting, cause: str, sign: int) -> Tried | None:
        last = 0
        for stride in STRIDES:
            tried = self._stride(setting, sign * stride)
            if tried is None:
                return None
            if _leads(tried.ranking, cause):
                low, high, best = last, stride, tried
                while high - low > 1:
                    middle = (low + high) // 2
                    nearer = self._stride(setting, sign * middle)
                    if nearer is not None and _leads(nearer.ranking, cause):
                        high, best = middle, nearer
                    else:
                        low = middle
                return best
            last = stride
        return None

    def _stride(self, setting: Setting, strides: int) -> Tried | None:
        key = (setting.name, strides)
        if key not in self._strides:
            moved = self._moved(setting, strides)
            self._strides[key] = None if moved is None else Tried((moved,), self._with((moved,)))
        return self._strides[key]

    @cached_property
    def _strides(self) -> dict[tuple[str, int], Tried | None]:
        return {}

    def _with(self, changes: tuple[Otherwise, ...]) -> Ranking:
        otherwise = {c.fact: c.value for c in changes}
        if any(c.fact in self._used and c.fact not in self.words.derived for c in changes if c.recorded):
            return stand(self.standing.desk, self.resolver, {**self.told, **otherwise}).ranking
        return ranking_with(self.standing, otherwise)

    def _pairs(self, cause: str) -> Iterator[Tried]:
        """Yield pairs that make a cause first, of the changes that bring it furthest or that one of its rules looks at.

        The smallest come first, and it ends when enough are found.
        """
        singles = [*self.singles, *(t for t in self._strides.values() if t is not None)]
        telling = sorted(singles, key=lambda t: -_lead(t.ranking, cause))[:PAIRED]
        rules = [r for r in self.standing.desk.rules.values() if r.cause == cause and len(facts_of(r.when)) > 1]
        together = {fact for r in rules for fact in facts_of(r.when)}
        telling += [t for t in singles if t.changes[0].fact in together and t not in telling]
        pairs = [
            one.changes + other.changes
            for one, other in combinations(telling, 2)
            if one.changes[0].fact != other.changes[0].fact
        ]
        taken: list[set[str]] = []
        for changes in sorted(pairs, key=_size):
            facts = {c.fact for c in changes}
            if len(taken) == WAYS or any(facts & old for old in taken):
                continue
            if changes not in self._together:
                self._together[changes] = self._with(changes)
            if _leads(self._together[changes], cause):
                taken.append(facts)
                yield Tried(changes, self._together[changes])


def _leads(ranking: Ranking, cause: str) -> bool:
    """Say whether a cause is first, and not merely first among many that are all unlikely."""
    return ranking.first() == cause and ranking.probabilities[cause] >= WORTH_NAMING


def _lead(ranking: Ranking, cause: str) -> float:
    """Return how far a cause is ahead of the best other one, in ln odds; below zero when it is behind."""
    other = max(p for c, p in ranking.probabilities.items() if c != cause)
    return log(max(ranking.probabilities[cause], 1e-300)) - log(max(other, 1e-300))


def _size(changes: tuple[Otherwise, ...]) -> Size:
    return sum(c.recorded for c in changes), sum(c.size for c in changes), len(changes)


def _smallest(found: list[Tried], cause: str) -> list[Tried]:
    chosen: list[Tried] = []
    for tried in sorted(found, key=lambda t: (t.size, -t.ranking.probabilities[cause])):
        facts = {c.fact for c in tried.changes}
        if not any(facts & {c.fact for c in old.changes} for old in chosen):
            chosen.append(tried)
    return chosen[:WAYS]
