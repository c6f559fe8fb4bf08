"""What a defect's page depends on: what must be told for its rules' numbers, and what else changes anything there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from diagnose.consult.standing import Desk
from diagnose.derive.resolve import Resolver
from diagnose.model.condition import facts_of


def told_facts(desk: Desk, resolver: Resolver) -> set[str]:
    """Return what must be told for the rules' numbers to be known: settings, materials, answers computed with."""
    return before(desk, resolver, (f for f in desk.rule_facts if f not in desk.base.words.observations))


def looked_at(desk: Desk, resolver: Resolver) -> set[str]:
    """Return all that can be told and changes something: rules, corrections, cautions and look-alikes look at it."""
    return before(desk, resolver, (*desk.rule_facts, *_beside_rules(desk)))


def _beside_rules(desk: Desk) -> Iterator[str]:
    for condition in desk.extra.values():
        yield from facts_of(condition)
    for cause in desk.causes():
        for move in (m for c in cause.corrections for m in c.moves):
            yield from (n for n in (move.setting, move.fact) if n)
            yield from (bound.fact for bound in (move.floor, move.ceiling) if bound and bound.fact)


def before(desk: Desk, resolver: Resolver, facts: Iterable[str]) -> set[str]:
    """Return what can be told of all that some facts are, or are computed from."""
    words = desk.base.words
    found: set[str] = set()
    todo = list(facts)
    seen: set[str] = set()
    while todo:
        name = todo.pop()
        if name in seen:
            continue
        seen.add(name)
        slot = next((s for s in words.slots if name == s or name.startswith(s + " ")), None)
        if name in words.settings or name in words.observations:
            found.add(name)
        elif slot is not None and name not in words.derived:
            found.add(slot)
        if name in words.settings:
            todo += [fact for w in words.settings[name].windows for fact in w.holds_for]
        else:
            todo += [fact for c in resolver.makers.get(name, ()) for fact in (*c.needs, *c.takes)]
    return found
