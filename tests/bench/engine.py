"""How long one evaluation of all rules takes, side by side with the same rules in CLIPS; and whether memory grows.

Run from the project's folder:  python -m tests.bench.engine  [--rules 30 100 300] [--skip-memory]

Both engines get the same rules and the same known facts, take turns in one process, and must agree on every
case. Each case differs from the one before, and remembered answers are forgotten, so nothing is answered from memory.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from random import Random
from statistics import median

if __package__ in (None, ""):
    sys.path.insert(0, str(Path(__file__).parents[2]))

from diagnose.consult.standing import Desk
from diagnose.engine import Matcher
from diagnose.model.condition import Against, All, Any, Condition, Is, Nothing, Window, Within
from diagnose.rulebase.load import RuleBase
from tests.engine.in_clips import Clips, WideClips

Rules = Sequence[tuple[str, Condition]]
Case = tuple[dict[str, float | str], dict[str, str]]
LOOKS = {f"look {n}": tuple(f"answer {i}" for i in range(2 + n % 4)) for n in range(45)}
SETTINGS = tuple(f"setting {n}" for n in range(45))
KNOWN, SIDES = 60, ("below", "inside", "above")
_ROUNDS, _CASES = 9, 60


def rules_like_ours(rng: Random, count: int) -> Rules:
    """Return random rules in the shape of a defect's: one to three comparisons, some of them in a group."""
    return [(f"rule {n}", _rule(rng)) for n in range(count)]


def _rule(rng: Random) -> Condition:
    parts = [_leaf(rng) for _ in range(rng.choice((1, 1, 2, 2, 3)))]
    if len(parts) == 1:
        return parts[0]
    if rng.random() < 0.15:
        return Any(parts=tuple(parts))
    if rng.random() < 0.15:
        parts[-1] = Nothing(parts=(parts[-1],))
    return All(parts=tuple(parts))


def _leaf(rng: Random) -> Condition:
    kind = rng.choice(("is", "is", "is", "within", "window", "against"))
    if kind == "is":
        fact = rng.choice(tuple(LOOKS))
        return Is(fact=fact, answers=tuple(rng.sample(LOOKS[fact], rng.choice((1, 1, 1, 2)))))
    if kind == "within":
        end = rng.choice(("low", "high"))
        return Within(fact=rng.choice(SETTINGS), **{end: rng.randint(0, 40) / 8})
    if kind == "window":
        return Window(fact=rng.choice(SETTINGS), sides=(rng.choice(("below", "above")),))
    fact, other = rng.sample(SETTINGS, 2)
    return Against(fact=fact, other=other, side=rng.choice(("below", "above")), share=rng.choice((0.05, 0.1, 0.2)))


def cases_like_ours(rng: Random, count: int) -> list[Case]:
    """Return random cases with as many known facts as a long interview gives."""
    found: list[Case] = []
    for _ in range(count):
        names = rng.sample((*LOOKS, *SETTINGS), KNOWN)
        facts = {n: rng.choice(LOOKS[n]) if n in LOOKS else rng.randint(0, 40) / 8 for n in names}
        found.append((facts, {n: rng.choice(SIDES) for n in names if n in SETTINGS and rng.random() < 0.5}))
    return found


def side_by_side(rules: Rules, cases: Sequence[Case]) -> tuple[dict[str, list[float]], float]:
    """Return the times for a case [ms] by engine and round, and how many rules apply to a case."""
    matcher, clips, wide = Matcher(rules), Clips(rules), WideClips(rules)
    engines: dict[str, Callable[[dict[str, float | str], dict[str, str]], list[str]]] = {
        "ours": lambda facts, windows: [m.rule for m in matcher.evaluate(facts, windows)],
        "clips": clips.evaluate,
        "clips, one wide fact": wide.evaluate,
    }
    times: dict[str, list[float]] = {name: [] for name in engines}
    applied = 0
    for _ in range(_ROUNDS):
        answers = []
        for name, evaluate in engines.items():
            matcher.forget()
            start = time.perf_counter()
            answers.append([evaluate(*case) for case in cases])
            times[name].append((time.perf_counter() - start) * 1000 / len(cases))
        if any(answer != answers[0] for answer in answers):
            raise SystemExit("The engines disagree.")
        applied = sum(map(len, answers[0]))
    return times, applied / len(cases)


def print_times(sizes: Sequence[int], rules: Callable[[int], Rules]) -> None:
    """Print one line for each number of rules."""
    print(f"{'rules':>6} {'apply':>6} {'ours ms':>9} {'CLIPS ms':>9} {'ratio':>6} {'wide CLIPS ms':>14} {'ratio':>6}")
    for size in sizes:
        times, applied = side_by_side(rules(size), cases_like_ours(Random(size), _CASES))
        ours, clips, wide = times.values()
        ratios = [median(a / b for a, b in zip(ours, other, strict=True)) for other in (clips, wide)]
        print(
            f"{size:6d} {applied:6.1f} {median(ours):9.3f} {median(clips):9.3f} {ratios[0]:6.2f} "
            f"{median(wide):14.3f} {ratios[1]:6.2f}"
        )


def real_cases(base: RuleBase, desk: Desk, rng: Random, count: int) -> list[Case]:
    """Return random answers to what a defect's rules look at, filled up to 60 known facts with others."""
    words = base.words
    own = [f for f in desk.rule_facts if words.dimension(f) == "answer" or f in desk.thresholds or f in words.settings]
    others = [n for n in words.observations if n not in own]
    found: list[Case] = []
    for _ in range(count):
        names = [*own, *rng.sample(others, max(KNOWN - len(own), 0))][:KNOWN]
        facts: dict[str, float | str] = {}
        for name in names:
            if words.dimension(name) == "answer":
                facts[name] = rng.choice(words.answers(name))
            else:
                ends = desk.thresholds.get(name) or (1.0,)
                facts[name] = rng.choice(ends) * rng.uniform(0.5, 1.5)
        found.append(
            (facts, {n: rng.choice(SIDES) for n in facts if n in words.settings and words.settings[n].windows})
        )
    return found


def print_real_times(most: int = 6) -> None:
    """Print one line for each of the shipped defects with the most rules."""
    base = RuleBase()
    largest = sorted(base.all_defects(), key=lambda d: -len(d.rules()))[:most]
    print(
        f"{'defect':32} {'rules':>6} {'apply':>6} {'ours ms':>9} {'CLIPS ms':>9} {'ratio':>6} "
        f"{'wide CLIPS ms':>14} {'ratio':>6}"
    )
    for defect in largest:
        desk = Desk(base, defect)
        rules = [(r.id, r.when) for r in defect.rules()]
        times, applied = side_by_side(rules, real_cases(base, desk, Random(1), _CASES))
        ours, clips, wide = times.values()
        ratios = [median(a / b for a, b in zip(ours, other, strict=True)) for other in (clips, wide)]
        print(
            f"{defect.id:32} {len(rules):6d} {applied:6.1f} {median(ours):9.3f} {median(clips):9.3f} {ratios[0]:6.2f} "
            f"{median(wide):14.3f} {ratios[1]:6.2f}"
        )


def print_memory(evaluations: int = 20_000) -> None:
    """Print how much memory the process holds early and late in a long run."""
    import psutil

    matcher = Matcher(rules_like_ours(Random(1), 100))
    cases = cases_like_ours(Random(2), 500)
    process = psutil.Process()
    print(f"{'evaluations':>12} {'resident MB':>12}")
    for done in range(evaluations + 1):
        if done in (500, evaluations // 2, evaluations):
            print(f"{done:12d} {process.memory_info().rss / 1e6:12.2f}")
        matcher.evaluate(*cases[done % len(cases)])


def main() -> None:
    """Print both tables."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rules", type=int, nargs="+", default=[30, 100, 300])
    parser.add_argument("--skip-memory", action="store_true")
    options = parser.parse_args()
    print_times(options.rules, lambda size: rules_like_ours(Random(size), size))
    print_real_times()
    if not options.skip_memory:
        print_memory()


if __name__ == "__main__":
    main()
