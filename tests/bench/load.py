"""How long the rules base takes to load and to check, cold and warm, beside plain YAML reading of the same files.

Run: python -m tests.bench.load

*Cold* reads every file; *warm* takes what an earlier run put by. Each takes turns with yaml.CSafeLoader on the same
text in one run, so that the ratio does not depend on the machine. Starting Python and importing are timed apart.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import yaml

from diagnose.cli.setup import on
from diagnose.derive.all import all_calculators
from diagnose.model.case import Case
from diagnose.rulebase.checks import check
from diagnose.rulebase.load import RuleBase, shipped_folder

TARGET_CASE_MS, TARGET_CHECK_MS = 150.0, 1000.0
ROUNDS = 7


def timed(work: Callable[[], object]) -> float:
    """Return how long something takes. [ms]"""
    start = time.perf_counter()
    work()
    return (time.perf_counter() - start) * 1e3


def for_a_case(cache: Path | None, defect: str) -> None:
    """Load what one case needs, up to where its inquiry stands."""
    of = on(RuleBase(cache=cache))
    of.stand(Case(defect=defect))


def for_a_check(cache: Path | None) -> None:
    """Load everything and check it, as `diagnose rules check` does."""
    check(RuleBase(cache=cache), all_calculators())


def everything(cache: Path | None) -> None:
    """Load every defect and all that they share."""
    RuleBase(cache=cache).issues_everywhere()


def plain() -> None:
    """Read every file as YAML and make nothing of it."""
    for path in shipped_folder().rglob("*.yaml"):
        yaml.load(path.read_text(), Loader=yaml.CSafeLoader)


def process(*arguments: str) -> float:
    """Return how long a whole run of the command takes, start and imports included. [ms]"""
    return timed(
        lambda: subprocess.run([sys.executable, "-m", "diagnose", *arguments], capture_output=True, check=False)
    )


def main() -> None:
    """Print medians in turns, their ratios to plain reading, and whole runs of the command."""
    base = RuleBase()
    by_size = sorted(base.all_defects(), key=lambda d: len(d.rules()))
    middle, largest = by_size[len(by_size) // 2], by_size[-1]
    print(f"{len(by_size)} defects, {sum(len(d.rules()) for d in by_size)} rules")
    print(", ".join(f"{w} case: {d.id} ({len(d.rules())})" for w, d in (("middle", middle), ("largest", largest))))
    with tempfile.TemporaryDirectory() as folder:
        cache = Path(folder)
        everything(cache)
        works: dict[str, Callable[[], object]] = {
            "plain YAML of all files": plain,
            "middle case, cold": lambda: for_a_case(None, middle.id),
            "middle case, warm": lambda: for_a_case(cache, middle.id),
            "largest case, cold": lambda: for_a_case(None, largest.id),
            "largest case, warm": lambda: for_a_case(cache, largest.id),
            "all defects, cold": lambda: everything(None),
            "all defects, warm": lambda: everything(cache),
            "check, cold": lambda: for_a_check(None),
            "check, warm": lambda: for_a_check(cache),
        }
        times: dict[str, list[float]] = {name: [] for name in works}
        for _ in range(ROUNDS):
            for name, work in works.items():
                times[name].append(timed(work))
        beside = statistics.median(times["plain YAML of all files"])
        print(f"{'':26}{'ms':>8}{'of plain':>10}")
        for name, found in times.items():
            print(f"{name:26}{statistics.median(found):8.0f}{statistics.median(found) / beside:10.2f}")
        os.environ["XDG_CACHE_HOME"] = folder
        process("rules", "check")
        whole = statistics.median(process("rules", "check") for _ in range(ROUNDS))
        start = statistics.median(process("--version") for _ in range(ROUNDS))
        print(f"a whole run of `rules check` {whole:.0f} ms, of `--version` {start:.0f} ms")
    print(f"targets: a case, cold, under {TARGET_CASE_MS:.0f} ms; check, cold, under {TARGET_CHECK_MS:.0f} ms")


if __name__ == "__main__":
    main()
