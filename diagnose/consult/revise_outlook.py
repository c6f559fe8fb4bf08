"""What the rules would say if settings were moved: accusations cleared, causes spoken free, new accusations, limits."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from copy import copy
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from diagnose.consult.revise_inside import Inside
from diagnose.consult.revise_levels import Exit, exits, innocents, level
from diagnose.consult.revise_search import Moves
from diagnose.consult.revise_watch import Accused, Flow, Watch, new_accusations, worth_watching
from diagnose.consult.standing import Desk, Facts, Standing, stand_on
from diagnose.derive.resolve import Resolved, Resolver
from diagnose.errors import OutOfRange
from diagnose.model.condition import facts_of
from diagnose.model.knowledge import Rule


class Unknown(NamedTuple):
    """A number that rules look at and that can no longer be computed, and why, where a calculator said so."""

    fact: str
    why: OutOfRange | None


@dataclass(frozen=True)
class Verdict:
    """What putting a set of moves through the rules comes to."""

    left: tuple[Rule, ...] = ()
    enough: bool = True
    raised: tuple[Rule, ...] = ()
    windows: tuple[str, ...] = ()
    unknown: Unknown | None = None
    apart: tuple[str, ...] = ()
    unsafe: tuple[str, ...] = ()

    @property
    def clears(self) -> bool:
        """Whether every accusation is silent, on facts that are known, and nothing stays past a safety limit."""
        return not (self.left or self.unknown or self.unsafe)

    @property
    def keeps(self) -> bool:
        """Whether it raises nothing new, leaves no window and takes no part of a joint move alone."""
        return not (self.raised or self.windows or self.apart or self.unknown)

    @property
    def will_do(self) -> bool:
        """Whether it clears and keeps."""
        return self.clears and self.keeps


class Outlook:
    """One case with the settings that may be moved; every look into it is remembered."""

    def __init__(
        self, desk: Desk, resolver: Resolver, told: Mapping[str, object], goals: tuple[Rule, ...],
        movable: Iterable[str], watch: Watch, flow: Flow, wanted: Iterable[str] = (),
    ) -> None:  # fmt: skip
        """Take a case; `wanted` are facts to be computed beside those that rules look at."""
        self.desk, self.told, self.goals, self.watch, self.flow = desk, dict(told), goals, watch, flow
        self.movable = tuple(movable)
        self.changing = flow.after(self.movable)
        rules = [r for r in (*desk.rules.values(), *watch.rules) if not self.changing.isdisjoint(facts_of(r.when))]
        self.looked = {f for r in rules for f in facts_of(r.when)}
        self.resolver = flow.only_for(resolver, self.looked | set(wanted))
        self._own = tuple(desk.rules.values())
        self._free = {goal.id: innocents(goal, self._own) for goal in goals}
        self.together: tuple[frozenset[str], ...] = ()
        self.targets: dict[str, float] = {}
        self.unsafe: frozenset[str] = frozenset()
        self.inside: dict[str, Inside] = {}
        self._seen: dict[Moves, Standing] = {}
        self.exits = tuple(e for goal in goals for e in exits(goal, self._own, self.now.resolved.facts))

    def with_facts(self, extra: Mapping[str, object]) -> Outlook:
        """Return the same outlook with some facts told otherwise; its goals are what then accuses the same causes."""
        other = copy(self)
        other.told, other._seen = {**self.told, **extra}, {}
        for kept in ("now", "accused"):
            other.__dict__.pop(kept, None)
        other.goals = tuple(r for r in other.now.applied if r in self._kin)
        facts = other.now.resolved.facts
        other.exits = tuple(e for goal in other.goals for e in exits(goal, self._own, facts))
        other._free = {goal.id: innocents(goal, self._own) for goal in other.goals}
        return other

    @cached_property
    def _kin(self) -> tuple[Rule, ...]:
        """Return the goals, and the rules that accuse the same causes by the same numbers at `positive` or stronger."""
        looked = {(g.cause, fact) for g in self.goals for fact in facts_of(g.when) if fact in self.changing}
        return tuple(
            r for r in self._own
            if r in self.goals or (worth_watching(r) and any((r.cause, fact) in looked for fact in facts_of(r.when)))
        )  # fmt: skip

    @cached_property
    def now(self) -> Standing:
        """Return the case as recorded, as far as the moves can change it."""
        return self.standing(())

    @cached_property
    def accused(self) -> Accused:
        """Return what is accused anywhere in the stage before anything is moved."""
        return self.watch.accused(self.now.resolved.facts, self.now.windows)

    def standing(self, moves: Moves) -> Standing:
        """Return where the case would stand with these settings."""
        if moves not in self._seen:
            resolved = self.resolver.resolve({**self.told, **dict(moves)})  # type: ignore[dict-item]
            self._seen[moves] = stand_on(self.desk, resolved)
        return self._seen[moves]

    @property
    def looks(self) -> int:
        """Return how many different sets of settings were worked out so far."""
        return len(self._seen)

    def facts(self, moves: Moves) -> Facts:
        """Return the facts with these settings."""
        return self.standing(moves).resolved.facts

    def unknown(self, then: Resolved) -> Unknown | None:
        """Return a number that rules look at and that can no longer be computed; None when all can."""
        before = self.now.resolved
        for fact in sorted(self.looked & self.changing):
            if fact in before.facts and fact not in then.facts:
                makers = (c.name for c in self.resolver.calculators if fact in c.gives)
                return Unknown(fact, next((then.refused[name] for name in makers if name in then.refused), None))
        return None

    def judge(self, moves: Moves) -> Verdict:
        """Return what the rules say of a set of moves."""
        then = self.standing(moves)
        applied, moved = {r.id for r in then.applied}, frozenset(name for name, _ in moves)
        accused = self.watch.accused(then.resolved.facts, then.windows)
        return Verdict(
            left=tuple(r for r in self._kin if r.id in applied),
            enough=self._well_inside(moves) and all(self._enough(goal, moves, applied) for goal in self.goals),
            raised=new_accusations(self.accused, accused),
            windows=self._windows_left(moves, then),
            unknown=self.unknown(then.resolved),
            apart=self._apart(moved),
            unsafe=tuple(sorted(self.unsafe - moved)),
        )

    def _well_inside(self, moves: Moves) -> bool:
        """Say whether no moved setting is left near an end of its window; a target that a correction names may be."""
        return all(
            name in self.targets or name not in self.inside or self.inside[name].holds(value) for name, value in moves
        )

    def _enough(self, goal: Rule, moves: Moves, applied: set[str]) -> bool:
        """Say whether a cause is well clear of an accusation, and not by a hair.

        It is where the accused number is as well off as with every setting exactly at the target that a correction
        names; without a target, where a rule speaks it free; where the rules base knows neither, being clear is enough.
        """
        free = self._free[goal.id]
        sources = self.flow.before(facts_of(goal.when))
        aims = tuple((name, value) for name, value in sorted(self.targets.items()) if name in sources)
        if not aims:
            return bool(applied & free) or not free
        return all(self._as_well(e, moves, aims) for e in self.exits if e.rule == goal)

    def _as_well(self, way: Exit, moves: Moves, aims: Moves) -> bool:
        now, wanted = level(way.level, self.facts(moves)), level(way.level, self.facts(aims))
        if now is None or wanted is None:
            return False
        slack = 1e-9 * max(abs(wanted), 1e-6)
        return now >= wanted - slack if way.rises else now <= wanted + slack

    def _windows_left(self, moves: Moves, then: Standing) -> tuple[str, ...]:
        moved = {name for name, _ in moves}
        # How far a moved setting may go is for its room to say.
        return tuple(
            name for name, side in then.windows.items()
            if side != "inside" and name not in moved and self.now.windows.get(name) == "inside"
        )  # fmt: skip

    def _apart(self, moved: frozenset[str]) -> tuple[str, ...]:
        """Return the settings that the corrections move only together with others that are left alone here."""
        missing: set[str] = set()
        for name in moved:
            groups = [group for group in self.together if name in group]
            if groups and not any(group <= moved for group in groups):
                missing |= min((group - moved for group in groups), key=lambda g: (len(g), sorted(g)))
        return tuple(sorted(missing))
