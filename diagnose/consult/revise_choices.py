"""The values worth trying for each setting: what corrections name, its window, and where accusations just end."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import NamedTuple

from diagnose.consult.revise import PlannedMove, Planner
from diagnose.consult.revise_inside import WELL_INSIDE, Inside, into_window
from diagnose.consult.revise_levels import Exit, level
from diagnose.consult.revise_limits import Limit, Room
from diagnose.consult.revise_outlook import Outlook
from diagnose.consult.revise_reach import reach
from diagnose.consult.revise_search import Moves, moves_of
from diagnose.consult.revise_settable import Scale, usual_step
from diagnose.consult.standing import window_of
from diagnose.model.condition import facts_of, leaves
from diagnose.model.knowledge import Correction, Move
from diagnose.model.vocabulary import Setting

STRICT = 1e-9  # a rule that speaks free does so only beyond its number


class Named(NamedTuple):
    """A move that a correction of a leading cause names, with the correction."""

    move: Move
    correction: Correction


class Way(NamedTuple):
    """How an accusation was left: past its end with something to spare, or to where the cause is spoken free."""

    exit: Exit
    free: bool
    back_in: str = ""
    """The limit that the recorded value is past, when coming back inside it is already enough."""
    well_in: bool = False
    """Whether it goes on from there until it is well inside the setting's window."""


@dataclass(frozen=True)
class Choice:
    """One value that a setting could be moved to, rounded to what can be set, and where it comes from."""

    setting: str
    before: float
    after: float
    size: float
    named: bool
    why: str
    source: str
    calculation: str = ""
    aim: Move | Way | None = None


@dataclass(frozen=True)
class Dial:
    """A recorded setting that may be moved: its value now, its settable values and its room."""

    setting: Setting
    recorded: float
    step: float
    scale: Scale
    room: Room
    inside: Inside | None = None
    """What is well inside its window, where it has one."""

    @property
    def plausible(self) -> tuple[float, float]:
        """Return the ends of the range that can be asked about at all."""
        return self.setting.plausible_low, self.setting.plausible_high

    def back_in(self, after: float) -> str:
        """Return the limit that the recorded value is past, when a value lies just inside it; empty otherwise."""
        lowest, highest = self.scale.within(self.room.lowest, self.room.highest)
        if self.recorded > self.room.high.value and self.scale.up(after) >= highest:
            return self.room.high.name
        return self.room.low.name if self.recorded < self.room.low.value and self.scale.up(after) <= lowest else ""

    def settle(self, value: float, outward: bool) -> float | None:
        """Return a value rounded to what can be set, away from the recorded one if so wished, inside the room."""
        up = (value >= self.recorded) is outward
        place = self.scale.up(value) if up else self.scale.down(value)
        low, high = self.scale.within(self.room.lowest, self.room.highest)
        if low > high:
            return None
        found = self.scale.value(max(min(place, high), low))
        # Less than half a settable value is no move.
        return None if abs(found - self.recorded) < 0.5 * self.scale.apart else found

    def well_in(self, value: float) -> float:
        """Return a value, or one further on from the recorded one if only that is well inside the window."""
        if self.inside is None:
            return value
        found = self.inside.nearest(value)
        return found if (found - value) * (value - self.recorded) >= 0.0 else value


class Chooser:
    """Finds the values worth trying in one outlook."""

    def __init__(self, outlook: Outlook, planner: Planner, dials: Mapping[str, Dial], named: Iterable[Named]) -> None:
        """Take an outlook, a planner on its facts, what may be turned, and the moves that corrections name."""
        self.outlook, self.planner, self.dials = outlook, planner, dict(dials)
        self.named = tuple(named)
        self.exits = tuple({(e.level, e.rises, e.clear): e for e in outlook.exits}.values())
        self.stopped: dict[str, Limit] = {}
        self._turns: dict[int, tuple[Choice, ...]] = {}
        self._brought_back = moves_of([c for name in sorted(self.dials) for c in self._safe(name)])

    def choices(self) -> dict[str, list[Choice]]:
        """Return the values worth trying for each setting, each once, taken alone."""
        found = {name: [*self._safe(name), *self._targets(name), *self._window(name)] for name in self.dials}
        for name in self.dials:
            groups = [group for group in self.outlook.together if name in group]
            for group in groups:
                found[name] += self._ends(name, self._beside(name, self._targets_of(group - {name})))
            if not groups:
                found[name] += self._ends(name, self._beside(name, ()))
        return {name: _once(choices) for name, choices in found.items()}

    def with_others_moved(self, choices: Mapping[str, list[Choice]]) -> dict[str, list[Choice]]:
        """Return more values: settings that fell short alone go as far as they may, and the others take up the rest."""
        found = {name: list(known) for name, known in choices.items()}
        for other, limit in list(self.stopped.items()):
            far = self.dials[other].settle(limit.value, outward=False)
            if far is None:
                continue
            if (far - self.dials[other].recorded) * (limit.value - self.dials[other].recorded) <= 0.0:
                continue
            why = f"as far as {limit.name} allows"
            found[other].append(self._choice(self.dials[other], far, why, limit.source))
            for name in self.dials:
                if name != other:
                    found[name] += self._ends(name, self._beside(name, ((other, far),)))
        return {name: _once(known) for name, known in found.items()}

    def _beside(self, name: str, others: Moves) -> Moves:
        """Return other moves together with those that bring unsafe settings back, which are made in any case."""
        return tuple(sorted((n, v) for n, v in {**dict(self._brought_back), **dict(others)}.items() if n != name))

    def _safe(self, name: str) -> list[Choice]:
        """Return where a setting belongs that is recorded past its safety limit, if that is known."""
        dial = self.dials[name]
        found = self.planner.belongs(dial.setting, dial.recorded) if name in self.outlook.unsafe else None
        after = dial.settle(found[0], outward=True) if found is not None else None
        return [] if found is None or after is None else [self._choice(dial, after, *found[1:])]

    def again(self, choice: Choice, others: Moves) -> float | None:
        """Return the value of a choice afresh, for this outlook's facts; None when it has no value here."""
        dial = self.dials[choice.setting]
        if isinstance(choice.aim, Way):
            found = self._reach(dial, choice.aim, others, choice.after)
            return self._well_in(dial, found) if found is not None and choice.aim.well_in else found
        if isinstance(choice.aim, Move):
            return next((c.after for c in self._targets(choice.setting) if c.aim == choice.aim), None)
        return choice.after

    def in_turn(self, correction: Correction) -> tuple[Choice, ...]:
        """Return a correction's moves, each rounded before the next is worked out, so that they still fit together."""
        if id(correction) not in self._turns:
            found: list[Choice] = []
            for move in correction.moves:
                if move.setting in self.dials and (choice := self._target(move, correction, found)) is not None:
                    found.append(choice)
            self._turns[id(correction)] = tuple(found)
        return self._turns[id(correction)]

    def _target(self, move: Move, correction: Correction, before: list[Choice]) -> Choice | None:
        planner, dial = self.planner, self.dials[move.setting]
        beside = self._beside(move.setting, moves_of(before))
        if beside:
            then = self.outlook.standing(beside)
            planner = Planner(then, planner.resolver, planner.told, planner.show)
        planned = planner.move(move)
        if planned and move.how == "by step" and (inner := dial.well_in(planned.after)) != planned.after:
            planned = replace(planned, after=inner, why=WELL_INSIDE)
        after = self._rounded(dial, planned.after) if planned else None
        if planned is None or after is None or (after > dial.recorded) is not (planned.after > dial.recorded):
            return None
        return self._choice(dial, after, planned.why, self._source(move, correction), move, planned)

    def _targets_of(self, group: frozenset[str]) -> Moves:
        targets = {name: self._targets(name) for name in sorted(group)}
        return tuple((name, found[0].after) for name, found in targets.items() if found)

    def _targets(self, name: str) -> list[Choice]:
        corrections = {id(n.correction): n.correction for n in self.named if n.move.setting == name}
        return [c for correction in corrections.values() for c in self.in_turn(correction) if c.setting == name]

    def _source(self, move: Move, correction: Correction) -> str:
        done = self.outlook.now.resolved.computed.get(move.fact or "")
        if done is not None:
            return "; ".join(done.calculator.sources)
        if move.how == "into window":
            window = window_of(self.dials[move.setting].setting, self.outlook.now.resolved.facts)
            return window.source if window else correction.source
        return correction.source

    def _rounded(self, dial: Dial, value: float) -> float | None:
        """Return a target rounded so that it is fully reached; just not when that would accuse something else."""
        full, name = dial.settle(value, outward=True), dial.setting.name
        if full is None or any(name in group for group in self.outlook.together):
            return full
        then = self.outlook.judge(((name, full),))
        return dial.settle(value, outward=False) if then.raised or then.unknown else full

    def _window(self, name: str) -> list[Choice]:
        """Return what lies well inside a setting's window, and its end, where the window itself is accused."""
        dial = self.dials[name]
        window = window_of(dial.setting, self.outlook.now.resolved.facts)
        looks = {leaf.fact for goal in self.outlook.goals for leaf in leaves(goal.when) if leaf.kind == "window"}
        if window is None or name not in looks:
            return []
        ends = [e for e in (window.low, window.high) if e is not None]
        wanted = {into_window(dial.setting, window, dial.recorded): WELL_INSIDE}
        if len(ends) == 2:
            wanted[sum(ends) / 2.0] = "the middle of its window"
        wanted |= dict.fromkeys(ends, "the nearest end of its window")
        found = []
        for value, why in wanted.items():
            after = dial.settle(value, outward=value not in ends or (value >= dial.recorded) is (value == window.low))
            if after is not None and (window.low or after) <= after <= (window.high or after):
                found.append(self._choice(dial, after, why, window.source))
        return found

    def _ends(self, name: str, others: Moves) -> list[Choice]:
        dial, found = self.dials[name], []
        for way in self.exits:
            if name not in self.outlook.flow.before(facts_of(way.rule.when)):
                continue
            for free in (False, True) if way.free is not None else (False,):
                after = self._reach(dial, Way(way, free), others)
                if after is None:
                    break
                aim = Way(way, free, dial.back_in(after))
                why = f"so that {way.level.fact} {'speaks the cause free' if free else 'is no longer accused'}"
                found.append(self._choice(dial, after, why, way.rule.source, aim))
                further = self._well_in(dial, after)
                if further != after:
                    well = aim._replace(well_in=True)
                    found.append(self._choice(dial, further, f"{why} and {WELL_INSIDE}", way.rule.source, well))
        return found

    def _well_in(self, dial: Dial, value: float) -> float:
        """Return a value, or the settable one further on that is well inside the window."""
        found = dial.well_in(value)
        settled = value if found == value else dial.settle(found, outward=True)
        return value if settled is None else settled

    def _reach(self, dial: Dial, way: Way, others: Moves, start: float | None = None) -> float | None:
        edge = way.exit.free if way.free and way.exit.free is not None else way.exit.clear
        slack = STRICT * max(abs(edge), 1e-6) if way.free else 0.0
        name, sign = dial.setting.name, 1.0 if way.exit.rises else -1.0

        def gap(value: float) -> float | None:
            moves = others if value == dial.recorded else tuple(sorted((*others, (name, value))))
            now = level(way.exit.level, self.outlook.facts(moves))
            return None if now is None else sign * (edge - now) + slack

        found = reach(gap, dial.recorded, dial.step, dial.scale, dial.room, dial.plausible, start)
        if found is None:
            return None
        if found.place is None:
            if others == self._beside(name, ()) and found.stopped is not None:
                self.stopped[name] = found.stopped
            return None
        value = dial.scale.value(found.place)
        back = value - (0.5 if found.upwards else -0.5) * dial.step
        far_in = dial.back_in(value) and (left := gap(back)) is not None and left <= 0.0
        if way.free or far_in:
            return value
        # Half a usual step to spare, as far as there is room: a machine is not set to the hair.
        spared = dial.settle(value + (0.5 if found.upwards else -0.5) * dial.step, outward=True)
        left = None if spared is None else gap(spared)
        return spared if left is not None and left <= 0.0 else value

    def _choice(
        self, dial: Dial, after: float, why: str, source: str, aim: Move | Way | None = None,
        planned: PlannedMove | None = None,
    ) -> Choice:  # fmt: skip
        held = f", held by {planned.held_by}" if planned and planned.held_by else ""
        name = dial.setting.name
        named = name in self.outlook.unsafe or any(n.move.setting == name for n in self.named)
        size = abs(after - dial.recorded) / dial.step
        calculation = planned.calculation if planned else ""
        return Choice(name, dial.recorded, after, size, named, why + held, source, calculation, aim)


def joined(named: Iterable[Named], dials: Mapping[str, Dial], planner: Planner) -> tuple[frozenset[str], ...]:
    """Return, for each correction, the recorded settings that it moves here: they are moved as one change."""
    groups: dict[int, set[str]] = {}
    for move, correction in named:
        dial = dials.get(move.setting)
        planned = planner.move(move) if dial else None
        if dial and planned and dial.settle(planned.after, outward=True) is not None:
            groups.setdefault(id(correction), set()).add(move.setting)
    return tuple(frozenset(group) for group in groups.values())


def _once(choices: Iterable[Choice]) -> list[Choice]:
    found: dict[float, Choice] = {}
    for choice in choices:
        found.setdefault(choice.after, choice)
    return list(found.values())


def dial_for(setting: Setting, recorded: float, scale: Scale, room: Room, inside: Inside | None = None) -> Dial:
    """Return a setting as something that can be turned."""
    return Dial(setting, recorded, usual_step(setting, recorded), scale, room, inside)
