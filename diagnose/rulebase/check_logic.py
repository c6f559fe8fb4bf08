"""Rules that contradict, repeat or can never hold, and windows that contradict each other or can never be reached."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from math import inf
from typing import NamedTuple

from diagnose.model.condition import Against, All, AtLeast, Condition, Is, Nothing, Window, Within
from diagnose.model.condition import Any as AnyOf
from diagnose.model.knowledge import Candidate, Defect, Rule
from diagnose.model.vocabulary import Limits, Setting, SettingWindow
from diagnose.rulebase.issue import Issue
from diagnose.rulebase.load import RuleBase
from diagnose.rulebase.vocabulary import Vocabulary


def logic(base: RuleBase, defects: list[Defect]) -> Iterator[Issue]:
    """Yield what is wrong with the logic of rules and of windows."""
    for d in defects:
        for c in d.candidates:
            yield from _candidate(d, c, base.words)
    for setting in base.words.settings.values():
        for what, remedy in _windows(setting):
            file, line = base.place("fact", setting.name)
            yield Issue(file, line, setting.name, what, remedy)


def _candidate(d: Defect, c: Candidate, words: Vocabulary) -> Iterator[Issue]:
    never = {r.id: why for r in c.rules if (why := why_never(r.when, words))}
    for r in c.rules:
        if r.id in never:
            yield Issue(d.file, r.line, c.cause, f"this rule can never hold: {never[r.id]}.", "Mend its condition.")
    speaking = [r for r in c.rules if r.speaks == "for"]
    if speaking and all(r.id in never for r in speaking):
        yield Issue(d.file, speaking[0].line, c.cause, "can never come out: no rule for it can hold.", "Mend one.")
    first: dict[object, Rule] = {}
    for r in c.rules:
        same = first.setdefault(canonical(r.when), r)
        if same is not r:
            yield Issue(d.file, r.line, c.cause, f"says the same as the rule in line {same.line}.", "Keep one.")
    for a, b in combinations(c.rules, 2):
        if a.speaks != b.speaks and a.about == b.about and (both := _meet(a.when, b.when)):
            what = f"speaks both for and against when {both}: see line {a.line}."
            yield Issue(d.file, b.line, c.cause, what, "Move one of the limits.")


def canonical(condition: Condition) -> object:
    """Return a form that is equal for conditions that differ only in the order or nesting of their parts."""
    if isinstance(condition, Is):
        return ("is", condition.fact, frozenset(condition.answers))
    if isinstance(condition, Window):
        return ("window", condition.fact, frozenset(condition.sides))
    if isinstance(condition, (All, AnyOf)):
        found = frozenset(canonical(p) for p in _flat(condition, type(condition)))
        return next(iter(found)) if len(found) == 1 else (condition.kind, found)
    if isinstance(condition, (Nothing, AtLeast)):
        count = condition.count if isinstance(condition, AtLeast) else 0
        return (condition.kind, count, frozenset(canonical(p) for p in condition.parts))
    return condition


def _flat(group: All | AnyOf, kind: type[All] | type[AnyOf]) -> Iterator[Condition]:
    for part in group.parts:
        if isinstance(part, (All, AnyOf)) and isinstance(part, kind):
            yield from _flat(part, kind)
        else:
            yield part


def why_never(condition: Condition, words: Vocabulary) -> str:
    """Return why a condition can never hold, or nothing."""
    if isinstance(condition, AnyOf):
        reasons = [why_never(p, words) for p in condition.parts]
        return reasons[0] if all(reasons) else ""
    parts = list(_flat(condition, All)) if isinstance(condition, All) else [condition]
    for part in parts:
        reason = why_never(part, words) if isinstance(part, AnyOf) else _outside_plausible(part, words)
        if reason:
            return reason
    for a, b in combinations(parts, 2):
        if isinstance(a, (Is, Within, Window)) and type(a) is type(b) and a.fact == b.fact and not _meet(a, b):
            return f"it asks two things of '{a.fact}' that exclude each other"
    return ""


def _outside_plausible(leaf: Condition, words: Vocabulary) -> str:
    if not isinstance(leaf, Within):
        return ""
    if leaf.low is not None and leaf.high is not None and leaf.low >= leaf.high:
        return f"'{leaf.fact}' cannot lie above and below at once"
    setting = words.settings.get(leaf.fact)
    if setting is None:
        return ""
    if leaf.low is not None and leaf.low >= setting.plausible_high:
        return f"'{leaf.fact}' is refused above that, as not plausible"
    if leaf.high is not None and leaf.high <= setting.plausible_low:
        return f"'{leaf.fact}' is refused below that, as not plausible"
    return ""


def _meet(a: Condition, b: Condition) -> str:
    """Return, for two single comparisons of one fact, what meets both; nothing for any other conditions."""
    if isinstance(a, Is) and isinstance(b, Is) and a.fact == b.fact:
        return " or ".join(f"{a.fact} is {x}" for x in a.answers if x in b.answers)
    if isinstance(a, Window) and isinstance(b, Window) and a.fact == b.fact:
        return " or ".join(f"{a.fact} lies {x} its window" for x in a.sides if x in b.sides)
    if isinstance(a, Within) and isinstance(b, Within) and a.fact == b.fact:
        low = max(_or(a.low, -inf), _or(b.low, -inf))
        high = min(_or(a.high, inf), _or(b.high, inf))
        return f"{a.fact} lies between {low:.6g} and {high:.6g} (SI)" if low < high else ""
    if isinstance(a, Against) and isinstance(b, Against) and (a.fact, a.other) == (b.fact, b.other):
        return f"{a.fact} is {a.side} {a.other}" if a.side == b.side else ""
    return ""


def _or(value: float | None, otherwise: float) -> float:
    return otherwise if value is None else value


class _Range(NamedTuple):
    low: float
    high: float

    @classmethod
    def of(cls, limits: Limits) -> _Range:
        return cls(_or(limits.low, -inf), _or(limits.high, inf))


def _windows(s: Setting) -> Iterator[tuple[str, str]]:
    """Yield what contradicts: turned ends, nothing left of it, a window that never gets its turn."""
    limits = [("its window", w) for w in s.windows] + ([("its safe range", s.safe)] if s.safe else [])
    for name, one in limits:
        span = _Range.of(one)
        if span.low > span.high:
            yield f"{name} begins above its end.", "Turn the ends round."
        elif span.low >= s.plausible_high or span.high <= s.plausible_low:
            yield f"{name} lies outside what is plausible.", "Widen `plausible:` or mend the window."
    if s.safe:
        safe = _Range.of(s.safe)
        for w in s.windows:
            span = _Range.of(w)
            if not s.safe.hold({fact: answers[0] for fact, answers in w.holds_for.items()}):
                continue
            if span.low > safe.high or span.high < safe.low:
                yield f"{_named(w)} lies wholly outside the safe range.", "Mend one of them."
            elif s.safe.high is not None and w.high is not None and w.high > s.safe.high + 1e-9 * abs(s.safe.high):
                yield f"{_named(w)} reaches past the safe range.", "End the window where the safe range ends."
    for n, w in enumerate(s.windows):
        before = next((v for v in s.windows[:n] if _covers(v, w)), None)
        if before is not None:
            yield f"{_named(w)} never gets its turn: {_named(before)} stands before it.", "Put the narrower one first."


def _covers(first: SettingWindow, later: SettingWindow) -> bool:
    """Say whether the first window holds whenever the later one does."""
    return all(fact in later.holds_for and set(later.holds_for[fact]) <= set(a) for fact, a in first.holds_for.items())


def _named(w: SettingWindow) -> str:
    holds = ", ".join(f"{fact} {'/'.join(answers)}" for fact, answers in w.holds_for.items())
    return f"the window for {holds}" if holds else "the window for everything"
