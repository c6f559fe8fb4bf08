"""Revised settings as an inverse problem: the smallest set of moves that clears what accused the leading causes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from diagnose.consult.rank import BAYES_FACTOR
from diagnose.consult.revise import Plan, PlannedMove, Planner
from diagnose.consult.revise_choices import Choice, Chooser, Dial, Named, dial_for, joined
from diagnose.consult.revise_inside import inside_of
from diagnose.consult.revise_limits import past_safety, room
from diagnose.consult.revise_outlook import Outlook, Verdict
from diagnose.consult.revise_search import Found, Moves, moves_of, smallest
from diagnose.consult.revise_settable import scale_of
from diagnose.consult.revise_watch import Flow, Watch, watch_for
from diagnose.consult.show import Shower
from diagnose.consult.standing import Facts, Standing, side_of, window_of
from diagnose.derive.resolve import Resolver
from diagnose.model.condition import facts_of, leaves
from diagnose.model.knowledge import Correction, Move, Rule
from diagnose.rulebase.load import RuleBase

FRACTIONS = (1.0, 0.75, 0.5, 0.25)


@dataclass(frozen=True)
class Revision:
    """What became of a search: the moves, what they do to the accusations, and what the search went through."""

    moves: tuple[Choice, ...] = ()
    unrecorded: tuple[PlannedMove, ...] = ()
    searched: bool = False
    goals: tuple[Rule, ...] = ()
    verdict: Verdict = field(default_factory=Verdict)
    cleared: tuple[Rule, ...] = ()
    share: float = 1.0
    problem: Problem | None = None
    found: Found = field(default_factory=Found)


class Problem(NamedTuple):
    """One case laid out for the search: what to clear, what may be turned, what is worth trying."""

    outlook: Outlook
    chooser: Chooser
    goals: tuple[Rule, ...]
    named: tuple[Named, ...]
    choices: dict[str, list[Choice]]


class Reviser:
    """Works revised settings out; keeps what is the same for every case of a defect."""

    def __init__(self, base: RuleBase, resolver: Resolver, show: Shower) -> None:
        self.base, self.resolver, self.show = base, resolver, show
        self.flow = Flow(resolver.calculators)
        self._watches: dict[str, Watch] = {}

    def watch(self, standing: Standing) -> Watch:
        """Return the accusations to watch while settings of this defect's stage are moved."""
        defect = standing.desk.defect
        if defect.id not in self._watches:
            self._watches[defect.id] = watch_for(self.base, defect)
        return self._watches[defect.id]

    def revise(
        self, standing: Standing, told: Mapping[str, object], leading: Iterable[str], plans: Iterable[Plan]
    ) -> Revision:
        """Return the smallest set of moves that clears what accused the leading causes.

        Where nothing that accused them depends on a setting, the first correction's own moves stand, as far as they
        accuse nothing new.
        """
        causes = tuple(leading)
        goals = [r for r in standing.applied if r.speaks == "for" and r.cause in causes]
        heavy = [r for r in goals if BAYES_FACTOR[r.weight] >= BAYES_FACTOR["positive"]]
        last = Revision()
        for wanted in (goals, heavy) if 0 < len(heavy) < len(goals) else (goals,):
            problem = self.problem(standing, told, causes, wanted)
            if problem is None:
                continue
            found = self.search(problem)
            last = self._outcome(problem, found)
            if last.moves:
                return last
        fallen_back = self._as_planned(standing, told, [p for p in plans if p.cause in causes])
        if last.problem is None:
            return fallen_back
        return replace(
            last, moves=fallen_back.moves, unrecorded=fallen_back.unrecorded, cleared=fallen_back.cleared,
            verdict=fallen_back.verdict, share=fallen_back.share,
        )  # fmt: skip

    def elsewhere(self, problem: Problem, facts: Mapping[str, object]) -> Revision:
        """Return what the same search finds when some facts are otherwise than was assumed."""
        outlook = problem.outlook.with_facts(facts)
        recorded = {name: dial.recorded for name, dial in problem.chooser.dials.items()}
        other = self._laid_out(outlook.now, outlook.told, outlook.goals, recorded, problem.named)
        return self._outcome(other, self.search(other))

    def search(self, problem: Problem) -> Found:
        """Return the smallest set for a problem; when single values do not meet, values that go together are tried."""
        touch = self.must_touch(problem)
        found = smallest(problem.choices, problem.outlook.judge, touch)
        if found.best or not problem.chooser.stopped:
            return found
        problem.choices.update(problem.chooser.with_others_moved(problem.choices))
        return smallest(problem.choices, problem.outlook.judge, touch)

    def must_touch(self, problem: Problem) -> list[frozenset[str]]:
        """Return, for each accusation, the settings that it depends on, and alone each setting that is not safe."""
        dials = frozenset(problem.chooser.dials)
        unsafe = [frozenset((name,)) for name in sorted(problem.outlook.unsafe)]
        return unsafe + [dials & self.flow.before(facts_of(goal.when)) for goal in problem.goals]

    def problem(
        self, standing: Standing, told: Mapping[str, object], causes: tuple[str, ...], accusing: Iterable[Rule]
    ) -> Problem | None:
        """Return a case laid out for the search; None when no accusation depends on a recorded setting to be moved."""
        named = tuple(self.named(standing, causes))
        recorded = self._recorded(told)
        accusing = [r for r in accusing if any(leaf.kind != "is" for leaf in leaves(r.when))]
        movable = {n.move.setting for n in named if n.move.setting in recorded}
        for rule in accusing:
            sources = _sources(facts_of(rule.when), standing)
            movable |= {n for n in recorded if n in sources and self.base.words.settings[n].usual_step is not None}
        goals = tuple(r for r in accusing if movable & self.flow.before(facts_of(r.when)))
        if not goals:
            return None
        movable |= self._unsafe(standing, recorded)
        return self._laid_out(standing, told, goals, {n: recorded[n] for n in sorted(movable)}, named)

    def _unsafe(self, standing: Standing, recorded: Mapping[str, float]) -> set[str]:
        settings, facts = self.base.words.settings, standing.resolved.facts
        return {n for n, v in recorded.items() if past_safety(settings[n], v, facts) is not None}

    def _recorded(self, told: Mapping[str, object]) -> dict[str, float]:
        return {n: v for n, v in told.items() if n in self.base.words.settings and isinstance(v, float)}

    def named(self, standing: Standing, causes: Iterable[str]) -> list[Named]:
        """Return the moves that the corrections of these causes name, where the corrections fit the case."""
        found = []
        for cause in (self.base.causes[c] for c in causes if c in self.base.causes):
            for i, correction in enumerate(cause.corrections):
                if correction.when is None or f"correction {cause.id} {i}" in standing.extras:
                    found += [Named(move, correction) for move in correction.moves]
        return found

    def _laid_out(
        self, standing: Standing, told: Mapping[str, object], goals: tuple[Rule, ...], recorded: Mapping[str, float],
        named: tuple[Named, ...],
    ) -> Problem:  # fmt: skip
        desk, facts = standing.desk, standing.resolved.facts
        every = [m for cause in desk.causes() for c in cause.corrections for m in c.moves]
        wanted = {f for n in named if (f := n.move.fact)} | {
            b.fact for m in every for b in (m.floor, m.ceiling) if b is not None and b.fact
        }  # fmt: skip
        unsafe = self._unsafe(standing, recorded)
        if unsafe:
            wanted |= {m.fact for cause in self.base.causes.values() for c in cause.corrections for m in c.moves
                       if m.setting in unsafe and m.fact is not None}  # fmt: skip
        wanted |= {f for name in recorded for w in self.base.words.settings[name].windows for f in w.holds_for}
        watch = self.watch(standing)
        outlook = Outlook(desk, self.resolver, told, goals, recorded, watch, self.flow, wanted)
        planner = Planner(standing, self.resolver, told, self.show)
        outlook.unsafe = frozenset(unsafe)
        planned = [(n.move, p) for n in named if (p := planner.move(n.move)) is not None and p.setting in recorded]
        dials = {
            n: self._dial(n, v, facts, every, [m for m in planned if m[1].setting == n]) for n, v in recorded.items()
        }
        outlook.together = joined(named, dials, planner)
        outlook.inside = {n: dial.inside for n, dial in dials.items() if dial.inside is not None}
        for move, p in planned:
            if move.how != "by step":
                outlook.targets.setdefault(p.setting, p.after)
        for n in sorted(unsafe):
            if (where := planner.belongs(dials[n].setting, recorded[n])) is not None:
                outlook.targets.setdefault(n, where[0])
        chooser = Chooser(outlook, planner, dials, named)
        return Problem(outlook, chooser, goals, named, chooser.choices())

    def _dial(
        self, name: str, recorded: float, facts: Facts, every: Iterable[Move], planned: list[tuple[Move, PlannedMove]]
    ) -> Dial:
        setting = self.base.words.settings[name]
        scale = scale_of(setting, self.show, recorded)
        window = window_of(setting, facts)
        # A step may lead out of the window, or further out where the correction says so; a step back ends inside it.
        side = side_of(window, recorded) if window is not None else "inside"
        back = {"below": 1.0, "inside": 0.0, "above": -1.0}[side]
        aims = [p.after for move, p in planned if move.how != "by step" or (p.after - recorded) * back <= 0.0]
        entitled = [scale.value(scale.up(a) if a > recorded else scale.down(a)) for a in aims]
        inside = inside_of(setting, window) if window is not None else None
        return dial_for(setting, recorded, scale, room(setting, recorded, facts, every, entitled), inside)

    def _outcome(self, problem: Problem, found: Found) -> Revision:
        best = tuple(c for c in found.best if isinstance(c, Choice))
        if not best:
            return Revision(searched=True, goals=problem.goals, problem=problem, found=found)
        order = [n.move.setting for n in problem.named]
        best = tuple(
            sorted(best, key=lambda c: (order.index(c.setting) if c.setting in order else len(order), c.setting))
        )
        moves = moves_of(best)
        verdict = problem.outlook.judge(moves)
        return Revision(
            best, self._unrecorded(problem, {c.setting for c in best}), True, problem.goals, verdict,
            self._cleared(problem.outlook, moves), 1.0, problem, found,
        )  # fmt: skip

    def _unrecorded(self, problem: Problem, moved: set[str]) -> tuple[PlannedMove, ...]:
        """Return the moves of settings nobody recorded that the corrections make together with those moved."""
        found: dict[str, PlannedMove] = {}
        for correction in {id(n.correction): n.correction for n in problem.named}.values():
            if moved & {m.setting for m in correction.moves}:
                for move in correction.moves:
                    planned = problem.chooser.planner.move(move)
                    if planned is not None and planned.before is None:
                        found.setdefault(move.setting, planned)
        return tuple(found.values())

    def _cleared(self, outlook: Outlook, moves: Moves) -> tuple[Rule, ...]:
        then = {r.id for r in outlook.standing(moves).applied}
        return tuple(r for r in outlook.now.applied if r.speaks == "for" and r.id not in then)

    def _as_planned(self, standing: Standing, told: Mapping[str, object], plans: list[Plan]) -> Revision:
        """Return the first correction's moves, rounded to what can be set and as far as they accuse nothing new.

        Settings that are recorded past a safety limit are brought back in any case.
        """
        plan = next((p for p in plans if p.moves), None)
        every = self._recorded(told)
        moved = {m.setting for m in plan.moves if m.before is not None} if plan else set()
        moved |= self._unsafe(standing, every)
        unrecorded = tuple(m for m in plan.moves if m.before is None) if plan else ()
        if not moved:
            return Revision(unrecorded=unrecorded)
        named = tuple(Named(move, plan.correction) for move in plan.correction.moves) if plan else ()
        problem = self._laid_out(standing, told, (), {n: every[n] for n in sorted(moved)}, named)
        whole = _whole(problem, plan.correction if plan else None)
        if not whole and problem.outlook.unsafe:  # nothing is known to be right inside the limit
            return Revision(unrecorded=unrecorded)
        first = problem.outlook.judge(moves_of(whole))
        for fraction in FRACTIONS if whole else ():
            shorter = tuple(c for w in whole if (c := _shortened(problem, w, fraction)) is not None)
            verdict = problem.outlook.judge(moves_of(shorter))
            if shorter and verdict.keeps:
                cleared = self._cleared(problem.outlook, moves_of(shorter))
                return Revision(shorter, unrecorded, False, (), verdict, cleared, fraction, problem)
        return Revision((), unrecorded, False, (), first, problem=problem)


def _whole(problem: Problem, correction: Correction | None) -> tuple[Choice, ...]:
    """Return a correction's moves, and those that bring settings back inside their safety limits."""
    found = problem.chooser.in_turn(correction) if correction else ()
    moved = {c.setting for c in found}
    return found + tuple(problem.choices[n][0] for n in sorted(problem.outlook.unsafe - moved) if problem.choices[n])


def _shortened(problem: Problem, whole: Choice, fraction: float) -> Choice | None:
    """Return a move that goes only part of the way; None when that is less than can be set."""
    dial = problem.chooser.dials[whole.setting]
    if fraction == 1.0 or whole.setting in problem.outlook.unsafe:
        return whole
    after = dial.settle(dial.recorded + fraction * (whole.after - dial.recorded), outward=False)
    return None if after is None else replace(whole, after=after, size=abs(after - dial.recorded) / dial.step)


def _sources(facts: Iterable[str], standing: Standing) -> set[str]:
    """Return the facts that these were computed from in this case, step by step back to what was told."""
    found: set[str] = set()
    waiting = list(facts)
    while waiting:
        fact = waiting.pop()
        if fact not in found:
            found.add(fact)
            done = standing.resolved.computed.get(fact)
            waiting += done.inputs if done else ()
    return found
