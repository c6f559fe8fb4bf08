"""How long a person waits: re-ranking after an answer plus the next question, and the first prompt.

Run: python -m tests.bench.answer
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time

import pexpect

from diagnose.cli.setup import consultant
from diagnose.model.case import Case
from diagnose.rulebase.cases import told

TARGET_MS, TARGET_RATIO = 30.0, 0.6
PROMPT = r">(?:\x1b\[0m)? ?"
HEAVY = "import pydantic, pint, prompt_toolkit, durable_rules_engine; pint.UnitRegistry()"


def answers() -> None:
    """Walk through every defect answering its own questions, timing each step."""
    of = consultant()
    print(f"{'defect':34} {'rules':>6} {'median ms':>10} {'worst ms':>9}")
    for defect in of.base.all_defects():
        case, times = Case(defect=defect.id), []
        for _ in range(12):
            start = time.perf_counter()
            standing = of.stand(case)
            questions = of.questions(standing, case)
            times.append((time.perf_counter() - start) * 1e3)
            seen = [q for q in questions if q.name in of.base.words.observations]
            if not seen:
                break
            observation = of.base.words.observations[seen[0].name]
            case = told(case, observation.name, next(iter(observation.answers)), of.base)
        print(f"{defect.id:34} {len(defect.rules()):6} {statistics.median(times):10.1f} {max(times):9.1f}")
    print(f"target: under {TARGET_MS:.0f} ms")


def first_prompt(runs: int = 7) -> None:
    """Time from the shell to the first prompt against importing the heavy packages, alternating in one run."""
    shown, heavy = [], []
    env = {**os.environ, "TERM": "xterm", "PROMPT_TOOLKIT_NO_CPR": "1", "XDG_STATE_HOME": "/tmp/bench-none"}
    for _ in range(runs):
        start = time.perf_counter()
        child = pexpect.spawn(sys.executable, ["-m", "diagnose"], env=env, dimensions=(24, 80), encoding="utf-8")
        child.expect(PROMPT)
        shown.append(time.perf_counter() - start)
        child.close(force=True)
        start = time.perf_counter()
        subprocess.run([sys.executable, "-c", HEAVY], check=True)
        heavy.append(time.perf_counter() - start)
    a, b = statistics.median(shown), statistics.median(heavy)
    print(f"first prompt {a * 1e3:.0f} ms; imports alone {b * 1e3:.0f} ms; ratio {a / b:.2f} (target {TARGET_RATIO})")


if __name__ == "__main__":
    answers()
    first_prompt()
