"""How long the search for revised settings takes, against trying every set of the same values in the same run.

Times are of the processor, so that a busy machine tells the same; nothing is remembered from one to the other.

Run: python -m tests.bench.revise [CASE FILE...]
"""

from __future__ import annotations

import itertools
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from diagnose.cli.setup import consultant
from diagnose.consult import Consultant
from diagnose.consult.present import finding
from diagnose.consult.revise_bounds import Walk
from diagnose.consult.revise_choices import Choice
from diagnose.consult.revise_search import MOST, Cost, moves_of
from diagnose.consult.revision import Problem, Reviser
from diagnose.derive.all import all_calculators
from diagnose.derive.resolve import Resolver
from diagnose.model.case import Case
from diagnose.rulebase.cases import case_from_text, read_case

TARGET_MS = 150.0
HARD = {
    "thick block, too short": """
defect: mold.soft-core
materials: {rubber: natural rubber}
settings: {cure time: 40 min, platen temperature: 307 F, rubber thickness: 38 mm}
observations: {platen probe: all within 3 C}
""",
    "sticky skin, far too hot": """
defect: mold.tacky-skin
materials: {rubber: natural rubber}
settings: {cure time: 90 min, platen temperature: 175 C, rubber thickness: 25 mm}
""",
    "wax far too hot": "{defect: wax.sinks, settings: {wax temperature: 80 C, wax congealing point: 62 C}}",
    "clamp and pressure": """
defect: wax.flash
settings: {injection pressure: 20 psi, clamp force: 30 N, cavity area: 20 cm2}
""",
    "hot metal, hot flask": """
defect: casting.rough-surface
materials: {metal: sterling}
settings: {pour temperature: 1120 C, flask temperature: 690 C, heaviest section: 5 mm, thinnest section: 3 mm}
""",
    "shallow vacuum": """
defect: casting.beads
materials: {investment: gypsum investment}
settings: {investing vacuum: 80 kPa, slurry temperature: 21 C, barometer: 98 kPa, flask height: 100 mm,
  powder weight: 2 kg, water weight: 800 g}
""",
}


T = TypeVar("T")


def timed(what: Callable[[], T]) -> tuple[float, T]:
    """Return how much processor time a call takes, in milliseconds, and its result."""
    start = time.process_time()
    result = what()
    return (time.process_time() - start) * 1e3, result


def laid_out(of: Consultant, case: Case) -> tuple[float, Reviser, Problem | None]:
    """Return how long it takes to lay a case out with nothing remembered, and the case; rules are already compiled."""
    reviser = Reviser(of.base, Resolver(all_calculators(), of.base.words.settings, of.base.words.slots), of.show)
    standing, told = of.stand(case), case.known()
    leading = finding(of, standing, []).leading
    goals = [r for r in standing.applied if r.speaks == "for" and r.cause in leading]
    reviser.watch(standing)
    took, problem = timed(lambda: reviser.problem(standing, told, leading, goals))
    return took, reviser, problem


def every_set(problem: Problem) -> tuple[int, Cost | None]:
    """Return how many sets of up to three settings there are, and what the smallest that will do costs."""
    judged, best = 0, None
    for count in range(1, MOST + 1):
        for names in itertools.combinations(sorted(problem.choices), count):
            for taken in itertools.product(*(problem.choices[n] for n in names)):
                judged += 1
                said = problem.outlook.judge(moves_of(taken))
                if said.will_do:
                    unnamed, size = sum(not c.named for c in taken), sum(c.size for c in taken)
                    cost = (count, Cost(unnamed, 0 if said.enough else 1, size))
                    best = cost if best is None else min(best, cost)
    return judged, best[1] if best else None


def one(of: Consultant, name: str, case: Case) -> float:
    """Print one line for a case; return how long values and search took together."""
    values, reviser, problem = laid_out(of, case)
    if problem is None:
        print(f"{name:25} no accusation depends on a recorded setting")
        return values
    took, found = timed(lambda: reviser.search(problem))
    looks = problem.outlook.looks
    moves = tuple(c for c in found.best if isinstance(c, Choice))
    ranges = timed(lambda: Walk(problem.chooser, moves).bounds())[0] if moves else 0.0
    again = laid_out(of, case)[2]
    assert again is not None
    again.choices.update(problem.choices)
    every, (sets, cost) = timed(lambda: every_set(again))
    same = "the same" if cost == found.cost else f"DIFFERENT: {cost} against {found.cost}"
    judged = f"{len(found.judged)}/{sets}"
    numbers = f"{values:9.1f} {took:9.1f} {looks:6} {judged:>8} {every:9.1f} {every / took:6.1f} {ranges:9.1f}"
    print(f"{name:25} {numbers}  {same}")
    return values + took


def main(files: list[str]) -> None:
    """Time the recorded cases and some harder ones."""
    of = consultant(None, "metric")
    of.base.all_defects()
    cases = {Path(f).stem: read_case(Path(f), of.base) for f in files or sorted(map(str, Path("cases").glob("*.yaml")))}
    if not files:
        cases |= {n: case_from_text(t, n, of.base) for n, t in HARD.items()}
    heads = ("values ms", "search ms", " looks", "judged/all", "every ms", " ratio", "range ms")
    print(f"{'case':25} {' '.join(heads)}")
    worst = max(one(of, name, case) for name, case in cases.items())
    print(f"slowest, values and search together: {worst:.0f} ms (target: under {TARGET_MS:.0f} ms); ranges come on top")


if __name__ == "__main__":
    main(sys.argv[1:])
