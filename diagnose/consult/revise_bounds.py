"""How sure a recommended number is: the bounds of what had to be assumed, carried through to the moves themselves."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

from diagnose.consult.revise import Planner
from diagnose.consult.revise_choices import Choice, Chooser, Way, joined
from diagnose.consult.revise_outlook import Outlook
from diagnose.derive.resolve import CORNERS, Assumed
from diagnose.model.condition import facts_of

Then = Literal["no move needed", "not these moves"]


class Doubt(NamedTuple):
    """Something that had to be assumed, and by how many usual steps its bounds swing the recommended numbers."""

    name: str
    assumed: Assumed
    swing: float


class Turn(NamedTuple):
    """Where the recommendation becomes another one: what would have to be so, and what then."""

    facts: tuple[tuple[str, float], ...]
    then: Then


@dataclass(frozen=True)
class Bounds:
    """The range of every recommended number, what widens it (most first), and where the recommendation turns."""

    ranges: dict[str, tuple[float, float]] = field(default_factory=dict)
    doubts: tuple[Doubt, ...] = ()
    turns: tuple[Turn, ...] = ()


class Walk:
    """Tries the bounds of the assumed inputs on a set of moves, and keeps what comes of it."""

    def __init__(self, chooser: Chooser, moves: tuple[Choice, ...]) -> None:
        self.chooser, self.moves = chooser, moves
        self.loose = assumed_for(chooser, moves)
        self.values: dict[str, list[float]] = {c.setting: [c.after] for c in moves}
        self.turns: list[Turn] = []
        self.swings = dict.fromkeys(self.loose, 0.0)

    def bounds(self) -> Bounds:
        """Return what the bounds come to.

        Each bound is tried alone, the others at their usual value, as in the ranges of the derived numbers; up to five
        are also pushed together the way each pushes alone.
        """
        together: dict[bool, dict[str, float]] = {True: {}, False: {}}
        for name, assumed in self.loose.items():
            for end in (assumed.low, assumed.high):
                shift = self._try({name: end})
                self.swings[name] += abs(shift)
                if shift:
                    together[shift > 0.0][name] = end
        if len(self.loose) <= CORNERS:
            for facts in together.values():
                if len(facts) > 1:
                    self._try(facts)
        doubts = [Doubt(n, a, self.swings[n]) for n, a in self.loose.items() if self.swings[n] > 0.0]
        ranges = {name: (min(found), max(found)) for name, found in self.values.items()}
        return Bounds(ranges, tuple(sorted(doubts, key=lambda d: (-d.swing, d.name))), tuple(self.turns))

    def _try(self, facts: Mapping[str, float]) -> float:
        """Try some facts; return by how many usual steps they shift the moves, all added up."""
        then = self.again(facts)
        size = sum(c.size for c in self.moves)
        if isinstance(then, str):
            self.turns.append(Turn(tuple(facts.items()), then))
            return -size if then == "no move needed" else size
        shift = 0.0
        for c in self.moves:
            self.values[c.setting].append(then[c.setting])
            shift += abs(then[c.setting] - c.before) / self.chooser.dials[c.setting].step - c.size
        return shift

    def again(self, facts: Mapping[str, float]) -> dict[str, float] | Then:
        """Return the same moves worked out afresh for other facts, or what becomes of them."""
        outlook = self.chooser.outlook.with_facts(facts)
        if self.chooser.outlook.goals and not outlook.goals:
            return "no move needed"
        chooser = self._chooser(outlook)
        moved = {c.setting: c.after for c in self.moves}
        for choice in sorted(self.moves, key=lambda c: isinstance(c.aim, Way)):
            others = tuple(sorted((n, v) for n, v in moved.items() if n != choice.setting))
            value = chooser.again(choice, others)
            moved[choice.setting] = choice.before if value is None else value
        moves = tuple(sorted((c.setting, moved[c.setting]) for c in self.moves if moved[c.setting] != c.before))
        if not moves:
            return "not these moves" if outlook.goals else "no move needed"
        return moved if outlook.judge(moves).will_do else "not these moves"

    def _chooser(self, outlook: Outlook) -> Chooser:
        old = self.chooser
        planner = Planner(outlook.now, old.planner.resolver, outlook.told, old.planner.show)
        outlook.together = joined(old.named, old.dials, planner)
        return Chooser(outlook, planner, old.dials, old.named)


def assumed_for(chooser: Chooser, moves: Iterable[Choice]) -> dict[str, Assumed]:
    """Return what had to be assumed, with bounds, for the numbers behind the accusations and the targets."""
    facts = [f for goal in chooser.outlook.goals for f in facts_of(goal.when)]
    facts += [f for c in moves if (f := getattr(c.aim, "fact", None))]
    computed, found = chooser.outlook.now.resolved.computed, {}
    seen: set[str] = set()
    while facts:
        fact = facts.pop()
        if fact not in seen and fact in computed:
            done = computed[fact]
            facts += done.inputs
            found.update({n: a for n, a in done.assumed.items() if a.low < a.high})
        seen.add(fact)
    return dict(sorted(found.items()))
