"""Rules as lists of alternatives: groups and negations worked out, so that the engine only has to match.

A rule holds when one of its alternatives holds; an alternative holds when every demand in it is met by a
known value. Negation is pushed down to the single comparisons, so that "unknown" makes nothing true.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import comb

from diagnose.engine.comparison import demands, look_of
from diagnose.engine.demand import Demand, Look, both
from diagnose.errors import EngineError
from diagnose.model.condition import All, Any, AtLeast, Condition, Leaf, Nothing

MOST_ALTERNATIVES = 56
_MOST_ON_THE_WAY = 500


@dataclass(frozen=True)
class Alternative:
    """Demands that are enough for a rule to hold, and the comparisons in the rule that they stand for."""

    demands: Mapping[Look, Demand]
    leaves: tuple[Leaf, ...]


class _TooMany(Exception):
    """Working out a condition leads to more alternatives than anyone can have meant."""


def alternatives(rule: str, condition: Condition) -> list[Alternative]:
    """Return the alternatives of a rule in the order of its parts; none when it can never hold."""
    try:
        found = _expand(condition, True)
    except ValueError as problem:
        raise EngineError(f"{problem}.", where=f"rule {rule!r}", next_step="Correct the condition.") from problem
    except _TooMany:
        found = None
    if found is None or len(found) > MOST_ALTERNATIVES:
        count = f"{len(found)}" if found else f"more than {_MOST_ON_THE_WAY}"
        raise EngineError(
            f"the condition comes to {count} alternatives; {MOST_ALTERNATIVES} are the most.",
            where=f"rule {rule!r}",
            next_step="Split it into several rules, or count fewer things.",
        )
    if any(not one.demands for one in found):
        raise EngineError(
            "the condition holds whatever the facts are.",
            where=f"rule {rule!r}",
            next_step="Name at least one thing that must be so.",
        )
    return found


def _expand(condition: Condition, wanted: bool) -> list[Alternative]:
    if isinstance(condition, AtLeast):
        count = condition.count if wanted else len(condition.parts) - condition.count + 1
        return _at_least(count, [_expand(part, wanted) for part in condition.parts])
    if isinstance(condition, Nothing):
        return _expand(Any(parts=condition.parts), not wanted)
    if isinstance(condition, (All, Any)):
        parts = [_expand(part, wanted) for part in condition.parts]
        return _every(parts) if isinstance(condition, All) == wanted else _pruned(one for p in parts for one in p)
    look = look_of(condition)
    return [Alternative({look: demand}, (condition,)) for demand in demands(condition, wanted)]


def _at_least(count: int, parts: Sequence[list[Alternative]]) -> list[Alternative]:
    if comb(len(parts), max(count, 0)) > _MOST_ON_THE_WAY:
        raise _TooMany
    if count <= 0:
        return _every([])
    return _pruned(one for chosen in combinations(parts, count) for one in _every(chosen))


def _every(parts: Sequence[list[Alternative]]) -> list[Alternative]:
    found = [Alternative({}, ())]
    for part in parts:
        found = _pruned(one for a in found for b in part if (one := _joined(a, b)) is not None)
    return found


def _joined(first: Alternative, second: Alternative) -> Alternative | None:
    """Return the alternative that demands both; None when they contradict each other."""
    found = dict(first.demands)
    for look, demand in second.demands.items():
        together = both(found[look], demand) if look in found else demand
        if together is None:
            return None
        found[look] = together
    return Alternative(found, tuple(dict.fromkeys(first.leaves + second.leaves)))


def _pruned(found: Iterable[Alternative]) -> list[Alternative]:
    """Drop every alternative that demands all that another one demands: the other is enough."""
    kept: list[Alternative] = []
    for new in found:
        if any(old.demands.items() <= new.demands.items() for old in kept):
            continue
        kept = [old for old in kept if not new.demands.items() <= old.demands.items()]
        kept.append(new)
        if len(kept) > _MOST_ON_THE_WAY:
            raise _TooMany
    return kept
