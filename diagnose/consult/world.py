"""Shops that could have made a part: recorded settings and materials, consistent with each other and with a cause.

A handful of shops is drawn for a defect, each setting mostly as it should be and sometimes off. The calculators say
what follows, the rules say what that would be evidence for, and a shop is taken for a cause with the chance that
these rules imply: P(shop | cause) is its Bayes factor for that cause over its strongest for any cause, state by state.
Settings drawn one by one seldom fit together, and a shop works mostly right; so each shop is drawn with one cause in
mind, in turn, and the settings that accuse another cause are drawn anew, a few times. If they still do, they are what
this shop did not write down.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import accumulate
from math import exp, sqrt
from typing import TypeVar

from diagnose.consult.ask import values_between
from diagnose.consult.needs import told_facts
from diagnose.consult.rank import counted, log_weight
from diagnose.consult.signs import shares_of
from diagnose.consult.standing import Desk, scalars, window_of, windows_for
from diagnose.derive.resolve import Resolved, Resolver
from diagnose.errors import BadInput
from diagnose.model.case import Recorded, Value
from diagnose.model.condition import Side, facts_of
from diagnose.model.knowledge import Rule
from diagnose.model.vocabulary import Setting
from diagnose.rulebase.cases import recorded
from diagnose.rulebase.load import RuleBase

Draw = Callable[[], float]
"""A uniform number from 0 up to, but not, 1."""

AS_IT_SHOULD_BE = 0.75  # share of settings that lie where they should
SHOPS = 60
AMENDED = 8  # times that the settings of a shop that would accuse another cause are drawn anew
T = TypeVar("T")


@dataclass(frozen=True)
class Shop:
    """What one shop would tell of its settings and materials, all that follows, and what that is evidence for."""

    told: Mapping[str, Value]
    facts: Mapping[str, float | str]
    windows: Mapping[str, Side]
    weights: Mapping[str, float]  # P(shop | cause), up to a factor


def pick(draw: Draw, things: Sequence[T], weights: Sequence[float]) -> T:
    """Return one of some things, each with its weight's chance."""
    sums = list(accumulate(weights))
    at = draw() * sums[-1]
    return next((thing for thing, total in zip(things, sums, strict=True) if at < total), things[-1])


def one_of(draw: Draw, things: Sequence[T]) -> T:
    """Return one of some things, all alike."""
    return things[min(int(draw() * len(things)), len(things) - 1)]


def shops(base: RuleBase, desk: Desk, resolver: Resolver, written: Mapping[str, list[Value]], draw: Draw) -> list[Shop]:
    """Return the shops drawn for a defect; a single empty one when its rules look at no setting or material."""
    names = sorted(told_facts(desk, resolver))
    if not names:
        return [Shop({}, {}, {}, dict.fromkeys(desk.prior, 1.0))]
    causes = tuple(desk.prior)

    def drawn(some: Sequence[str], known: Mapping[str, Value]) -> dict[str, Value]:
        return {**known, **_settings(base, desk, some, known, written, draw)}

    def with_in_mind(cause: str) -> Shop:
        shop, blamed = _shop(base, desk, resolver, drawn(names, {}), cause)
        for _ in range(AMENDED):
            if not blamed:
                return shop
            amended, still = _shop(base, desk, resolver, drawn(sorted(blamed), shop.told), cause)
            if amended.weights[cause] >= shop.weights[cause]:
                shop, blamed = amended, still
        written = {n: v for n, v in shop.told.items() if n not in blamed}
        return _shop(base, desk, resolver, written, cause)[0]

    return [with_in_mind(causes[number % len(causes)]) for number in range(SHOPS)]


def written_settings(base: RuleBase) -> dict[str, list[Value]]:
    """Return, per setting, the values that the worked examples of all defects record."""
    found: dict[str, list[Value]] = {}
    for defect in base.all_defects():
        for example in defect.examples:
            for name, typed in example.facts.items():
                if name in base.words.settings:
                    try:
                        found.setdefault(name, []).append(recorded(base.words.settings[name], typed).value)
                    except BadInput:
                        continue
    return found


def likelihoods(applied: Sequence[Rule], causes: Iterable[str]) -> dict[str, float]:
    """Return for each cause its Bayes factor under some rules, over the strongest factor of any cause, by state."""
    by_state: dict[str, dict[str, float]] = {}
    for rule in counted(applied):
        by_state.setdefault(rule.about, {})[rule.cause] = log_weight(rule)
    found = {}
    for cause in causes:
        found[cause] = exp(sum(g.get(cause, 0.0) - max(0.0, *g.values()) for g in by_state.values()))
    return found


def _shop(
    base: RuleBase, desk: Desk, resolver: Resolver, told: dict[str, Value], cause: str
) -> tuple[Shop, frozenset[str]]:
    """Return a shop, and those of its settings that would accuse another cause than the one in mind."""
    resolved = resolver.resolve(told)
    windows = windows_for(base, resolved.facts)
    plain = scalars(resolved.facts)
    applied = [desk.rules[m.rule] for m in desk.matcher.evaluate(plain, windows)]
    votes: dict[tuple[str, str], float] = {(r.about, r.cause): log_weight(r) for r in counted(applied)}
    blamed: set[str] = set()
    for rule in counted(applied):
        own = votes.get((rule.about, cause), 0.0)
        if (rule.cause == cause and own < 0.0) or log_weight(rule) > max(own, 0.0):
            blamed |= _from_settings(facts_of(rule.when), resolved)
    shop = Shop(told, plain, windows, likelihoods(applied, desk.prior))
    return shop, frozenset(n for n in blamed if n in base.words.settings)


def _from_settings(facts: Iterable[str], resolved: Resolved) -> set[str]:
    """Return what was told of all from which some facts follow."""
    found: set[str] = set()
    todo = list(facts)
    while todo:
        name = todo.pop()
        if name in found:
            continue
        found.add(name)
        if name in resolved.computed:
            done = resolved.computed[name]
            todo += [n for n in done.inputs if n not in done.assumed]
    return found - set(resolved.computed)


def _settings(
    base: RuleBase, desk: Desk, names: Sequence[str], known: Mapping[str, Value], written: Mapping[str, list[Value]],
    draw: Draw,
) -> dict[str, Value]:  # fmt: skip
    """Return values for some settings and materials of a shop of which the rest is known."""
    words = base.words
    told: dict[str, Value] = {}
    for name in names:
        if name in words.slots:
            told[name] = one_of(draw, tuple(words.slots[name].materials))
        elif name in words.observations:
            usual = shares_of(words.observations[name])
            told[name] = pick(draw, tuple(usual), tuple(usual.values()))
    kinds = {
        f"{s}{end}": v for s, m in {**known, **told}.items() if s in words.slots for end, v in _both(base, s, str(m))
    }
    for name in names:
        if name in words.settings:
            value = _value(words.settings[name], {**known, **told, **kinds}, desk, written.get(name, []), draw)
            told[name] = (value, value) if words.settings[name].many and isinstance(value, float) else value
    return told


def _both(base: RuleBase, slot: str, material: str) -> Iterator[tuple[str, str]]:
    yield "", material
    yield " kind", base.words.slots[slot].materials[material].kind


def _value(s: Setting, facts: Mapping[str, Value], desk: Desk, written: list[Value], draw: Draw) -> Value:
    """Return a value for a setting: where it should be, or else where the rules would notice it."""
    window = window_of(s, facts)
    right: list[Value] = list(written)
    if s.assume:
        right += [s.assume.value, s.assume.low, s.assume.high]
    if window is not None and window.low is not None and window.high is not None:
        right = [window.low + (window.high - window.low) * part for part in (0.2, 0.5, 0.8)]
    off: list[Value] = [v for v in values_between(s.name, desk, facts) if s.plausible_low <= v <= s.plausible_high]
    choice = right if (draw() < AS_IT_SHOULD_BE and right) or not off else off
    return one_of(draw, choice) if choice else _middle(s)


def _middle(s: Setting) -> float:
    low, high = s.plausible_low, s.plausible_high
    return sqrt(low * high) if low > 0.0 else (low + high) / 2.0


def as_told(name: str, value: Value, base: RuleBase) -> Value | Recorded:
    """Return a value in the form in which a case keeps it."""
    if name in base.words.settings and not isinstance(value, str):
        return Recorded(typed=str(value), value=value)
    return value
