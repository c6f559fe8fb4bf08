"""`diagnose rules simulate`: the plays shared out over the processor's cores, the same for the same seed."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import ProcessPoolExecutor
from random import Random
from typing import TYPE_CHECKING, Any, NamedTuple

from diagnose.errors import BadInput
from diagnose.rulebase.cursor import suggest

if TYPE_CHECKING:
    from diagnose.consult import Consultant
    from diagnose.model.simulation import Play
    from diagnose.rulebase.load import RuleBase


class Plan(NamedTuple):
    """What is to be played, and how."""

    rules: str | None
    units: str
    plays: int
    noise: float
    seed: int
    file_order: bool


def defects_meant(base: RuleBase, names: Sequence[str]) -> list[str]:
    """Return the ids of the defects that some ids and stages name, all when none is named."""
    found: dict[str, None] = {}
    for name in names:
        own = [d for d in base.defect_files if name in (d, d.split(".")[0])]
        if not own:
            hint = suggest(name, base.defect_files) or "`diagnose rules list` shows all."
            raise BadInput(f"there is no defect or stage '{name}'.", next_step=hint)
        found.update(dict.fromkeys(own))
    return list(found or base.defect_files)


def simulate(of: Consultant, plan: Plan, defects: Sequence[str]) -> list[Play]:
    """Return every play of some defects, in order; several defects are shared out over the cores."""
    cores = min(len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1, 8)
    if cores < 2 or len(defects) < 2:
        return [play for found in _watched((_play(of, plan, d) for d in defects), len(defects)) for play in found]
    with ProcessPoolExecutor(min(cores, len(defects)), initializer=_start, initargs=(plan,)) as pool:
        return [play for found in _watched(pool.map(_play_here, defects), len(defects)) for play in found]


_here: dict[str, Any] = {}


def _start(plan: Plan) -> None:
    from diagnose.cli.setup import consultant

    _here["of"], _here["plan"] = consultant(plan.rules, plan.units), plan


def _play_here(defect: str) -> list[Play]:
    return _play(_here["of"], _here["plan"], defect)


def _play(of: Consultant, plan: Plan, defect: str) -> list[Play]:
    from diagnose.consult.play import Player

    def dice(name: str) -> Callable[[], float]:
        # Seeded with the name, so that a play does not depend on which were played before it.
        return Random(f"{plan.seed}/{name}").random

    return list(Player(of, defect, dice).plays(plan.plays, plan.noise, plan.file_order))


def _watched(found: Iterable[list[Play]], total: int) -> Iterable[list[Play]]:
    """Return what is found, with a bar on a terminal while it is waited for."""
    if not sys.stderr.isatty() or os.environ.get("ACCESSIBLE"):
        return found
    from rich.console import Console
    from rich.progress import track

    return track(found, "Playing", total=total, console=Console(stderr=True), transient=True)
