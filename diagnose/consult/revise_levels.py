"""What an accusation compares: the number, the band in which it accuses, and from where on it speaks a cause free."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from math import inf, isinf
from typing import NamedTuple

from diagnose.engine.comparison import demands, difference, look_of, ratio
from diagnose.engine.demand import Look, Span
from diagnose.model.condition import All, Any, AtLeast, Condition, Is, Leaf, leaves
from diagnose.model.knowledge import Rule

NUMERIC = ("number", "ratio", "difference")


class Exit(NamedTuple):
    """A way out of an accused band: the number compared must come to `clear`, better to `free`, rising or falling."""

    level: Look
    rises: bool
    clear: float
    free: float | None
    rule: Rule
    """The accusation that holds now."""


def numeric(leaf: Leaf) -> Look | None:
    """Return the number that a comparison looks at; None when it looks at an answer or at a window."""
    look = look_of(leaf)
    return look if look.kind in NUMERIC else None


def level(look: Look, facts: Mapping[str, object]) -> float | None:
    """Return the number compared, or None when it is not known."""
    value = facts.get(look.fact)
    if not isinstance(value, float):
        return None
    if look.other is None:
        return value
    other = facts.get(look.other)
    if not isinstance(other, float):
        return None
    return ratio(value, other) if look.kind == "ratio" else difference(value, other)


def exits(accusing: Rule, rules: Iterable[Rule], facts: Mapping[str, object]) -> list[Exit]:
    """Return the ways out of the bands that an applied rule accuses in, joined with the bands beside them."""
    same = [r for r in rules if r.cause == accusing.cause]
    found = []
    for look in dict.fromkeys(k for leaf in leaves(accusing.when) if (k := numeric(leaf)) is not None):
        now = level(look, facts)
        if now is None:
            continue
        band = _band([s for r in same if r.speaks == "for" for s in spans(r, look, facts)], now)
        if band is None:
            continue
        free = [s for r in same if r.speaks == "against" and _alone(r) for s in spans(r, look)]
        low, high = band
        if not isinf(high):
            speaks_free = _nearest([s.low for s in free if s.low >= high], rises=True)
            found.append(Exit(look, True, high, speaks_free, accusing))
        if not isinf(low):
            found.append(
                Exit(look, False, low, _nearest([s.high for s in free if s.high <= low], rises=False), accusing)
            )
    return found


def spans(rule: Rule, look: Look, facts: Mapping[str, object] | None = None) -> list[Span]:
    """Return the spans of a number in which a comparison of the rule holds.

    With `facts`, those are left out that go together with an answer that these facts do not give.
    """
    return [
        span
        for leaf in (leaves(rule.when) if facts is None else _live(rule.when, facts)) if numeric(leaf) == look
        for span in demands(leaf, True) if isinstance(span, Span)
    ]  # fmt: skip


def _live(condition: Condition, facts: Mapping[str, object]) -> Iterator[Leaf]:
    if isinstance(condition, All) and any(isinstance(p, Is) and _denied(p, facts) for p in condition.parts):
        return
    if isinstance(condition, (All, Any, AtLeast)):
        for part in condition.parts:
            yield from _live(part, facts)
    else:
        yield from leaves(condition)


def _denied(part: Is, facts: Mapping[str, object]) -> bool:
    return facts.get(part.fact) not in part.answers


def innocents(accusing: Rule, rules: Iterable[Rule]) -> frozenset[str]:
    """Return the names of the rules that speak the accused cause free by the same number or window."""
    looked = {look_of(leaf) for leaf in leaves(accusing.when) if look_of(leaf).kind != "answer"}
    return frozenset(
        r.id for r in rules
        if r.cause == accusing.cause and r.speaks == "against" and _alone(r)
        and all(look_of(leaf) in looked for leaf in leaves(r.when))
    )  # fmt: skip


def says_it_is_right(rule: Rule, rules: Iterable[Rule]) -> bool:
    """Say whether a rule accuses because a number is as it should be, so that something else must be the matter.

    Such a rule holds inside a window, or in a band closed on both sides that no other accusation of the cause adjoins.
    """
    looked = list(leaves(rule.when))
    if any(getattr(leaf, "sides", None) == ("inside",) for leaf in looked):
        return True
    for look in (k for leaf in looked if (k := numeric(leaf)) is not None):
        others = [s for r in rules if r.cause == rule.cause and r.speaks == "for" and r != rule for s in spans(r, look)]
        for span in spans(rule, look):
            closed = not isinf(span.low) and not isinf(span.high)
            if closed and not any(o.high >= span.low and o.low <= span.high for o in others):
                return True
    return False


def _alone(rule: Rule) -> bool:
    return len(list(leaves(rule.when))) == 1


def _band(accused: list[Span], now: float) -> tuple[float, float] | None:
    """Return the joined band of accusation that a number lies in."""
    here = [s for s in accused if s.low <= now <= s.high]
    if not here:
        return None
    low, high = min(s.low for s in here), max(s.high for s in here)
    grown = True
    while grown:
        beside = [s for s in accused if s.low <= high and s.high >= low]
        wider = (min(s.low for s in beside), max(s.high for s in beside))
        grown = wider != (low, high)
        low, high = wider
    return low, high


def _nearest(ends: list[float], rises: bool) -> float | None:
    finite = [e for e in ends if abs(e) < inf]
    if not finite:
        return None
    return min(finite) if rises else max(finite)
