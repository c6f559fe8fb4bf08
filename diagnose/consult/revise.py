"""Corrections worked out for one case: moves with numbers, put back through the same rules before anyone sees them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from diagnose.consult.rank import BAYES_FACTOR
from diagnose.consult.revise_inside import WELL_INSIDE, into_window
from diagnose.consult.revise_limits import SAFETY, kept_from_safety, past_safety
from diagnose.consult.show import Shower
from diagnose.consult.standing import Standing, stand, window_of
from diagnose.derive.resolve import Resolver
from diagnose.model.condition import facts_of
from diagnose.model.knowledge import Bound, Cause, Correction, Move, Rule
from diagnose.model.vocabulary import Setting

MATERIAL_MINUTES = {"none": 0.0, "low": 10.0, "medium": 40.0, "high": 120.0}
FRACTIONS = (1.0, 0.75, 0.5, 0.25)
STOPPING = ("strong", "very strong")


@dataclass(frozen=True)
class PlannedMove:
    """One setting's move: from (if recorded) to, both SI, with why and what stopped it short."""

    setting: str
    before: float | None
    after: float
    why: str
    calculation: str = ""
    held_by: str = ""
    steps: str = ""
    """How to get there in the steps that its correction names, in words; empty when one will do."""


@dataclass(frozen=True)
class Plan:
    """A correction of a cause with its moves and what putting them through the rules would change."""

    cause: str
    correction: Correction
    moves: tuple[PlannedMove, ...]
    cleared: tuple[Rule, ...] = ()
    raised: tuple[Rule, ...] = ()
    left: tuple[Rule, ...] = ()
    note: str = ""

    @property
    def minutes(self) -> float:
        """Return the cost as minutes, material counted in."""
        return self.correction.minutes + MATERIAL_MINUTES[self.correction.material]


class Planner:
    """Works corrections out for one standing."""

    def __init__(self, standing: Standing, resolver: Resolver, told: Mapping[str, object], show: Shower) -> None:
        self.standing, self.resolver, self.told, self.show = standing, resolver, dict(told), show
        self.settings = standing.desk.base.words.settings

    def plans(self, cause: Cause) -> list[Plan]:
        """Return the corrections of a cause that fit this case, each with its moves checked."""
        found = []
        for i, correction in enumerate(cause.corrections):
            if correction.when is not None and f"correction {cause.id} {i}" not in self.standing.extras:
                continue
            moves = [m for m in (self.move(move) for move in correction.moves) if m is not None]
            found.append(self.checked(Plan(cause.id, correction, tuple(moves))))
        return found

    def move(self, move: Move) -> PlannedMove | None:
        """Return the move worked out, or None when it has no target here or would change nothing."""
        setting = self.settings[move.setting]
        facts = self.standing.resolved.facts
        recorded = facts.get(move.setting)
        before = recorded if isinstance(recorded, float) else None
        target = self._target(move, setting, before)
        # A limit that cannot be worked out here is no reason to move without one: the words say how far to go.
        if target is None or not self._limits_known(move):
            return None
        after, why, calculation = target
        wanted = after
        after, held = self._held(move, setting, wanted)
        if before is not None and abs(after - before) <= 1e-6 * max(abs(before), 1e-9):
            return None
        # Kept so far from a safety limit that it would go the other way: that is no step of this correction.
        if before is not None and held == SAFETY and (after - before) * (wanted - before) < 0.0:
            return None
        return PlannedMove(move.setting, before, after, why, calculation, held)

    def _target(self, move: Move, setting: Setting, before: float | None) -> tuple[float, str, str] | None:
        facts = self.standing.resolved.facts
        if move.how == "to value" and move.value is not None:
            return move.value, "the value the correction names", ""
        if move.how == "by step" and move.value is not None:
            if before is None:
                return None
            limit = past_safety(setting, before, facts)
            if limit is not None:  # a step from there is no guide: only where it belongs will do
                back = self.belongs(setting, before)
                return None if back is None else (*back[:2], "")
            return before + move.value, f"one step of {self.show.change(setting.name, move.value)}", ""
        if move.how == "to fact" and move.fact is not None:
            value = facts.get(move.fact)
            if not isinstance(value, float):
                return None
            done = self.standing.resolved.computed.get(move.fact)
            calculation = f"{done.calculator.name}: {move.fact}" if done else move.fact
            return value, f"the {move.fact}", calculation
        window = window_of(setting, facts)
        if window is None:
            return None
        if before is None:
            ends = [e for e in (window.low, window.high) if e is not None]
            return (sum(ends) / len(ends), "the middle of its window", "") if ends else None
        return into_window(setting, window, before), WELL_INSIDE, ""

    def belongs(self, setting: Setting, before: float) -> tuple[float, str, str] | None:
        """Return where a setting belongs that is past a safety limit, with why and from which source, if it is known.

        That is what every correction that names a value for it agrees on here, or else well inside its window. The
        limit itself says what must not be, not what will do.
        """
        facts = self.standing.resolved.facts
        goals = {
            facts.get(m.fact) if m.fact is not None else m.value: (m.fact or "value the correction names", c.source)
            for cause in self.standing.desk.base.causes.values() for c in cause.corrections for m in c.moves
            if m.setting == setting.name and m.how in ("to value", "to fact")
        }  # fmt: skip
        known = [(v, *words) for v, words in goals.items() if isinstance(v, float)]
        if len(known) == 1 and past_safety(setting, known[0][0], facts) is None:
            value, name, source = known[0]
            return value, f"back inside {SAFETY}: the {name}", source
        window = window_of(setting, facts)
        if window is None:
            return None
        return into_window(setting, window, before), f"back inside {SAFETY}, {WELL_INSIDE}", window.source

    def _held(self, move: Move, setting: Setting, value: float) -> tuple[float, str]:
        held = ""
        limits: list[tuple[float | None, float | None, str]] = [
            (setting.plausible_low, setting.plausible_high, "the plausible range"),
        ]
        floor, ceiling = self._bound(move.floor), self._bound(move.ceiling)
        limits.append((floor, ceiling, "the correction's limit"))
        if setting.safe and setting.safe.hold(self.standing.resolved.facts):
            low, high, keep = setting.safe.low, setting.safe.high, kept_from_safety(setting)
            limits.append((None if low is None else low + keep, None if high is None else high - keep, SAFETY))
        for low, high, name in limits:
            if low is not None and value < low:
                value, held = low, name
            if high is not None and value > high:
                value, held = high, name
        return value, held

    def _limits_known(self, move: Move) -> bool:
        return all(b is None or self._bound(b) is not None for b in (move.floor, move.ceiling))

    def _bound(self, bound: Bound | None) -> float | None:
        if bound is None:
            return None
        if bound.fact is None:
            return bound.value
        value = self.standing.resolved.facts.get(bound.fact)
        return value if isinstance(value, float) else None

    def checked(self, plan: Plan) -> Plan:
        """Return the plan after putting its moves through the rules, made smaller if they accuse something new."""
        moves = [m for m in plan.moves if m.before is not None]
        if not moves:
            return plan
        facts = self.standing.resolved.facts
        past = any(past_safety(self.settings[m.setting], m.before, facts) for m in moves if m.before is not None)
        for fraction in (1.0,) if past else FRACTIONS:  # part of the way back to what is safe is not safe
            tried = [
                replace(m, after=m.before + fraction * (m.after - m.before)) for m in moves if m.before is not None
            ]
            cleared, raised, left = self._compare(plan.cause, tried)
            if not any(r.weight in STOPPING for r in raised):
                note = (
                    ""
                    if fraction == 1.0
                    else f"Only {fraction:.0%} of the full move: more would accuse something else."
                )
                done = {m.setting: m for m in tried}
                moved = tuple(done.get(m.setting, m) for m in plan.moves)
                return replace(plan, moves=moved, cleared=cleared, raised=raised, left=left, note=note)
        blocked = "; ".join(f"{self.standing.desk.base.cause_name(r.cause)} ({r.because})" for r in raised)
        kept = tuple(m for m in plan.moves if m.before is None)
        return replace(plan, moves=kept, note=f"No number is proposed: the move would accuse {blocked}")

    def _only_seen(self, rule: Rule) -> bool:
        return all(fact in self.standing.desk.base.words.observations for fact in facts_of(rule.when))

    def _compare(
        self, cause: str, moves: list[PlannedMove]
    ) -> tuple[tuple[Rule, ...], tuple[Rule, ...], tuple[Rule, ...]]:
        then = stand(self.standing.desk, self.resolver, {**self.told, **{m.setting: m.after for m in moves}})
        before = {r.id for r in self.standing.applied}
        after = {r.id for r in then.applied}
        accused = [r for r in self.standing.applied if r.speaks == "for" and r.cause == cause]
        cleared = tuple(r for r in accused if r.id not in after)
        # What was seen on the bad part stays seen; only what settings say can be left over.
        left = tuple(r for r in accused if r.id in after and not self._only_seen(r))
        raised = tuple(
            r for r in then.applied
            if r.speaks == "for" and r.id not in before and BAYES_FACTOR[r.weight] >= BAYES_FACTOR["positive"]
        )  # fmt: skip
        return cleared, raised, left
