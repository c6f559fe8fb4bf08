"""The smallest set of moves that does what is wanted: singles, then pairs, then triples, by branch and bound.

It knows nothing of rules or settings: whether a set of moves will do is for the judge to say.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple, Protocol

MOST = 3
EVALUATIONS = 3000  # judged sets after which the search gives up and says so

Moves = tuple[tuple[str, float], ...]
"""Settings with their new values (SI), in alphabetical order."""


class Option(Protocol):
    """A value that a setting can be moved to."""

    @property
    def setting(self) -> str:
        """The setting's name."""

    @property
    def after(self) -> float:
        """The value then. [SI]"""

    @property
    def size(self) -> float:
        """The size of the move, in usual steps."""

    @property
    def named(self) -> bool:
        """Whether a correction names the setting."""


class Judgement(Protocol):
    """What a judge says of a set of moves."""

    @property
    def will_do(self) -> bool:
        """Whether the set does what is wanted and nothing else."""

    @property
    def enough(self) -> bool:
        """Whether the accused causes are well clear, and not by a hair."""


Judge = Callable[[Moves], Judgement]


class Cost(NamedTuple):
    """What makes one set of moves smaller than another of the same number, first things first."""

    unnamed: int
    scant: int
    size: float


@dataclass
class Found:
    """The smallest set, if there is one, and how much was looked at."""

    best: tuple[Option, ...] = ()
    cost: Cost | None = None
    complete: bool = True
    judged: dict[Moves, Judgement] = field(default_factory=dict)


def moves_of(options: Sequence[Option]) -> Moves:
    """Return options as moves."""
    return tuple(sorted((o.setting, o.after) for o in options))


def smallest(
    options: Mapping[str, Sequence[Option]],
    judge: Judge,
    must_touch: Sequence[frozenset[str]] = (),
    most: int = MOST,
) -> Found:
    """Return the smallest set of options that will do, at most one for each setting.

    Fewer settings come first; then settings that a correction names, causes well clear, and the smaller sum of sizes;
    then the order of names and values, so that the same case always has the same answer. `must_touch` are groups of
    settings of which a set must hold at least one each to have any effect.
    """
    found = Found()
    by_size = {
        name: sorted(options[name], key=lambda o: (o.size, o.after)) for name in sorted(options) if options[name]
    }
    for count in range(1, most + 1):
        names = [c for c in itertools.combinations(by_size, count) if all(group & set(c) for group in must_touch)]
        for chosen in sorted(names, key=lambda c: (_least(c, by_size), c)):
            _branch(chosen, by_size, judge, found, ())
        if found.best or not found.complete:
            return found
    return found


def _least(names: Sequence[str], options: Mapping[str, Sequence[Option]]) -> Cost:
    """Return what a set of these settings costs at least."""
    return Cost(sum(not options[n][0].named for n in names), 0, sum(options[n][0].size for n in names))


def _branch(
    left: tuple[str, ...],
    options: Mapping[str, Sequence[Option]],
    judge: Judge,
    found: Found,
    taken: tuple[Option, ...],
) -> None:
    so_far = Cost(sum(not o.named for o in taken), 0, sum(o.size for o in taken))
    ahead = _least(left, options)
    if found.cost is not None and _sum(so_far, ahead) >= found.cost:
        return
    if not left:
        _weigh(taken, so_far, judge, found)
        return
    for option in options[left[0]]:
        _branch(left[1:], options, judge, found, (*taken, option))
        if not found.complete:
            return


def _weigh(taken: tuple[Option, ...], cost: Cost, judge: Judge, found: Found) -> None:
    moves = moves_of(taken)
    if moves not in found.judged:
        if len(found.judged) >= EVALUATIONS:
            found.complete = False
            return
        found.judged[moves] = judge(moves)
    said = found.judged[moves]
    if not said.will_do:
        return
    full = Cost(cost.unnamed, 0 if said.enough else 1, cost.size)
    if found.cost is None or full < found.cost:
        found.best, found.cost = taken, full


def _sum(a: Cost, b: Cost) -> Cost:
    return Cost(a.unnamed + b.unnamed, a.scant + b.scant, a.size + b.size)
