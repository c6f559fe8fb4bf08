"""How the case library grows: import, similar cases, summary, learning, at a thousand to a million invented cases.

Run: python -m tests.bench.library_scale [--sizes 1000,10000,100000,1000000] [--postgresql] [--folder DIR]

A few hundred cases of the demo shop are copied over and over with other dates, parts and readings, and taken in from a
file as a person's would be. Similar cases are searched in a defect of the middle and in the most frequent one, beside a
brute force reference: what is found among the newest cases must be what scikit-learn's neighbours are by Gower's
distance written out anew; the package `gower` is timed only, as it cannot leave out what is not told. The import is
given by the clock and by the time that the writing process had a processor (others may want it too). A million cases
need about 4 GB.
"""

from __future__ import annotations

import argparse
import json
import os
import random
import shutil
import statistics
import tempfile
import time
import warnings
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import ExitStack, closing
from datetime import date, timedelta
from itertools import islice
from math import inf, nan
from pathlib import Path
from typing import Any

import gower
import numpy as np
from sklearn.neighbors import NearestNeighbors
from sqlalchemy import select

from diagnose.cli.setup import consultant
from diagnose.consult import Consultant
from diagnose.consult.hindsight import hindsight
from diagnose.library import learning, outcomes
from diagnose.library import tables as t
from diagnose.library.intake import Intake, Manner
from diagnose.library.kept import Kept
from diagnose.library.lines import lines_of
from diagnose.library.read import load
from diagnose.library.similar import similar
from diagnose.library.store import Library, known
from diagnose.library.summary import shop_picture
from diagnose.library.summary_slice import Asked
from diagnose.model.experience import Heard
from tests.demo_year import DemoShop
from tests.library.postgres import running

TARGETS = {"import": 5000.0, "similar": 100.0, "summary": 5.0, "learn": 10.0}
BATCH = 100_000
COMPARED = 2000
"""How many of the newest cases the reference looks at, one by one."""
MOST_FACTS = 14
NOT_TOLD = 1e300  # scikit-learn takes no NaN


def templates(of: Consultant, count: int) -> list[Kept]:
    """Return cases of the demo shop, each with as many facts as a busy person records."""
    found = []
    for kept in DemoShop(of, seed=7).cases(count):
        dice = random.Random(kept.part + kept.date)
        settings = dict(dice.sample(sorted(kept.settings.items()), min(len(kept.settings), MOST_FACTS // 2)))
        room = MOST_FACTS - len(settings) - len(kept.materials)
        seen = dict(dice.sample(sorted(kept.observations.items()), min(len(kept.observations), max(room, 3))))
        said = kept.said.model_copy(update={"evidence": ()}) if kept.said else None
        found.append(kept.model_copy(update={"settings": settings, "observations": seen, "said": said}))
    return found


def lines(of_these: list[Kept], seed: int) -> Iterator[tuple[int, str]]:
    """Yield cases without end: the number of the template, and the case as a line of a file."""
    dice = random.Random(seed)
    whole = [json.loads(kept.to_json()) for kept in of_these]
    for number in range(10**9):
        which = dice.randrange(len(whole))
        case = {**whole[which], "part": f"part {number}", "uid": f"{number:032x}"}
        case["date"] = (date(2022, 1, 1) + timedelta(days=dice.randrange(1800))).isoformat()
        case["settings"] = {
            name: {**told, "value": told["value"] * (1.0 + 0.03 * dice.gauss(0.0, 1.0))}
            for name, told in case.get("settings", {}).items()
        }
        yield which, json.dumps(case)


class Growing:
    """A library that grows, with what is needed to learn from the copies without hearing the rules on each."""

    def __init__(self, of: Consultant, library: Library, count: int, folder: Path) -> None:
        self.of, self.library, self.file = of, library, folder / "more.jsonl"
        self.ends: dict[tuple[str, str], list[float]] = {}
        """The lowest and the highest value of each setting, by the stage of the defect."""
        self.templates = templates(of, count)
        self.heard = [list(self.hear(k, k.true_causes)) if k.true_causes else [] for k in self.templates]
        self.more = lines(self.templates, 1)
        self.which: list[int] = []

    def hear(self, kept: Kept, causes: tuple[str, ...]) -> Iterator[Heard]:
        return hindsight(self.of, known(kept.case(), self.of.base), causes)

    def grow(self, size: int) -> tuple[float, float]:
        """Take cases in until there are so many, let the library learn from them, and return cases per second.

        By the clock, and by the time that this process had a processor.
        """
        taken, spent, worked = 0, 0.0, 0.0
        while len(self.which) < size:
            first = len(self.which)
            self._write(min(BATCH, size - first))
            start, at = time.perf_counter(), time.process_time()
            report = Intake(self.library, Manner()).take(lines_of(self.file))
            spent += time.perf_counter() - start
            worked += time.process_time() - at
            taken += report.taken
            assert report.taken == len(self.which) - first, (report.same[:3], report.faults[:3])
            print(f"  {len(self.which):,} cases: {taken / spent:,.0f}/s, load {os.getloadavg()[0]:.1f}", flush=True)
            self._learn(first)
        return (taken / spent, taken / worked) if spent else (nan, nan)

    def _write(self, count: int) -> None:
        """Write so many cases into the file, and note which they are and how far their settings reach."""
        with self.file.open("w", encoding="utf-8") as file:
            for which, line in islice(self.more, count):
                file.write(line + "\n")
                self.which.append(which)
                case = json.loads(line)
                for name, told in case.get("settings", {}).items():
                    ends = self.ends.setdefault((case["defect"].split(".")[0], name), [inf, -inf])
                    ends[:] = min(ends[0], told["value"]), max(ends[1], told["value"])

    def _learn(self, first: int) -> None:
        """Put what the rules say of each template beside its copies; the numbers of cases follow each other."""
        heard = [(n + 1, self.heard[self.which[n]]) for n in range(first, len(self.which)) if self.heard[self.which[n]]]
        for i in range(0, len(heard), 2000):
            part = heard[i : i + 2000]
            self.library.database.write(lambda conn, change: outcomes.keep(conn, self.library.database.words, part))  # noqa: B023


TYPICAL: list[Callable[[list[float]], float]] = [statistics.median]
"""What is made of the times of some runs: their median, or on a busy machine the quickest."""


def timed(work: Callable[[], Any], runs: int = 5) -> float:
    """Return the time that some work takes. [s]"""
    spent = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        spent.append(time.perf_counter() - start)
    return TYPICAL[0](spent)


def search(growing: Growing, defect: str) -> tuple[int, float]:
    """Return how many cases of a defect there are, and how long a search among them takes. [s]"""
    asked = [k for k in growing.templates if k.defect == defect]
    stage = [d for d in growing.of.base.defect_files if d.split(".")[0] == defect.split(".")[0]]
    database = growing.library.database
    spent = [timed(lambda k=k: similar(database, k.case(), stage), 5) for k in asked[:7]]
    return similar(database, asked[0].case(), stage).looked_at, statistics.median(spent)


def same_as_brute_force(growing: Growing, defect: str) -> float:
    """Return by how much what is found differs from the reference, over some cases at hand; it must be next to nothing.

    The reference: scikit-learn's neighbours among the same cases, by Gower's distance written out over what both tell.
    """
    database, stage_name = growing.library.database, defect.split(".")[0]
    stage = [d for d in growing.of.base.defect_files if d.split(".")[0] == stage_name]
    with database.read() as conn:
        ids = list(conn.execute(
            select(t.cases.c.id).join(t.words, t.words.c.id == t.cases.c.defect_id).where(t.words.c.text == defect)
            .order_by(t.cases.c.id.desc()).limit(COMPARED)
        ).scalars())  # fmt: skip
        told = [row.kept.case().known() for row in load(conn, database.words, ids)]
    worst = 0.0
    for mine in [k.case().known() for k in growing.templates if k.defect == defect][:5]:
        names = [n for n, value in mine.items() if not isinstance(value, tuple)]
        spans, codes = [], {}
        for name in names:
            ends = (*growing.ends.get((stage_name, name), ()), mine[name])
            spans.append(max(ends) - min(ends) if isinstance(mine[name], float) else nan)

        def number(value: Any, codes: dict[str, int] = codes) -> float:
            if value is None or isinstance(value, tuple):
                return NOT_TOLD
            return value if isinstance(value, float) else float(codes.setdefault(value, len(codes)))

        table = np.array([[number(one.get(name)) for name in names] for one in told])
        asked = np.array([[number(mine[name]) for name in names]])
        is_answer = np.isnan(spans)

        def far(a: np.ndarray, b: np.ndarray, is_answer: Any = is_answer, spans: Any = np.array(spans)) -> float:  # noqa: B008
            both = (a != NOT_TOLD) & (b != NOT_TOLD)
            apart = np.where(is_answer, a != b, np.minimum(np.abs(a - b) / spans, 1.0))
            return float(apart[both].mean()) if both.any() else 1.0

        enough = max(min(max(3, -(-len(names) // 2)), len(names)), 1)
        shares = (table != NOT_TOLD).sum(axis=1) >= enough
        reference: Any = []
        if shares.any():
            near = NearestNeighbors(n_neighbors=min(25, int(shares.sum())), algorithm="brute", metric=far)
            reference = 1.0 - near.fit(table[shares]).kneighbors(asked)[0][0]
        case = next(k for k in growing.templates if k.case().known() == mine).case()
        found = similar(database, case, stage, least=0.0, most=25, newest=COMPARED).like
        assert len(found) == len(reference), (len(found), len(reference))
        worst = max(worst, 0.0, *(abs(a.similarity - b) for a, b in zip(found, reference, strict=True)))
    assert worst < 1e-9, worst
    return worst


def brute_force(growing: Growing, defect: str, most: int = 20_000) -> tuple[int, float, float]:
    """Return how long the package gower and scikit-learn take for one case among those of a defect. [s]"""
    copies = [growing.templates[w] for w in growing.which if growing.templates[w].defect == defect][:most]
    names = sorted({n for k in copies for n in (*k.settings, *k.observations)})
    is_answer = [not any(n in k.settings for k in copies) for n in names]
    codes: dict[str, int] = {}
    table = np.zeros((len(copies), len(names)))
    for row, kept in enumerate(copies):
        for column, name in enumerate(names):
            if name in kept.settings:
                table[row, column] = float(np.mean(kept.settings[name].value))
            else:
                table[row, column] = codes.setdefault(kept.observations.get(name, ""), len(codes))
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        package = timed(lambda: gower.gower_matrix(table[:1], table, cat_features=is_answer), 1)
    spans = np.where(is_answer, 1.0, np.maximum(np.ptp(table, axis=0), 1e-12))
    scaled = np.where(is_answer, table, table / spans)

    def far(a: np.ndarray, b: np.ndarray) -> float:
        return float(np.where(is_answer, a != b, np.abs(a - b)).mean())

    neighbours = NearestNeighbors(n_neighbors=min(25, len(copies)), algorithm="brute", metric=far).fit(scaled)
    return len(copies), package, timed(lambda: neighbours.kneighbors(scaled[:1]), 1)


def learn_one(growing: Growing, times: int = 15) -> tuple[float, float]:
    """Return how long it takes to confirm a case, and to learn from it, hearing the rules on it included. [s]"""
    library, spent, confirming = growing.library, [], []
    confirmed = islice((n + 1 for n, which in enumerate(growing.which) if growing.heard[which]), times)
    with library.database.read() as conn:
        rows = load(conn, library.database.words, list(confirmed))
    for row in rows:
        start = time.perf_counter()
        library.change(row.kept.name, "confirm", lambda k: k.model_copy(update={"confirmed": ("another",)}))
        confirming.append(time.perf_counter() - start)
        start = time.perf_counter()
        assert learning.learn(library.database, growing.hear) == 1
        spent.append(time.perf_counter() - start)
        library.undo()
        learning.learn(library.database, growing.hear)
    return TYPICAL[0](confirming), TYPICAL[0](spent)


def measure(growing: Growing, size: int, wide: bool) -> dict[str, float]:
    """Return the figures at one size."""
    rate, alone = growing.grow(size)
    database, slots = growing.library.database, list(growing.of.base.words.slots)
    counts = Counter(growing.templates[w].defect for w in growing.which).most_common()
    middle, most = counts[len(counts) // 4][0], counts[0][0]
    found: dict[str, float] = {"cases": size, "import": rate, "import alone": alone}
    found["in middle"], found["similar middle"] = search(growing, middle)
    found["in most"], found["similar most"] = search(growing, most)
    found["differs"] = max(same_as_brute_force(growing, middle), same_as_brute_force(growing, most))
    found["brute in"], found["gower"], found["sklearn"] = brute_force(growing, most)
    found["summary"] = timed(lambda: shop_picture(database, slots), 5)
    found["summary since"] = timed(lambda: shop_picture(database, slots, Asked(since="2026-06")), 1 if wide else 5)
    found["summary stage"] = timed(lambda: shop_picture(database, slots, Asked(stage="mold")), 1 if wide else 5)
    found["confirm"], found["learn"] = learn_one(growing)
    found["experience"] = timed(lambda: learning.experience(database, most))
    return found


ROWS = (
    ("cases", "cases", 1.0, "{:,.0f}"), ("import, cases/s", "import", 1.0, "{:,.0f}"),
    ("  cases/s of processor", "import alone", 1.0, "{:,.0f}"),
    ("defect of the middle: cases", "in middle", 1.0, "{:,.0f}"), ("  similar, ms", "similar middle", 1e3, "{:.1f}"),
    ("most frequent defect: cases", "in most", 1.0, "{:,.0f}"), ("  similar, ms", "similar most", 1e3, "{:.1f}"),
    ("differs from brute force by", "differs", 1.0, "{:.0e}"), ("confirm a case, ms", "confirm", 1e3, "{:.1f}"),
    ("brute force over: cases", "brute in", 1.0, "{:,.0f}"), ("  package gower, ms", "gower", 1e3, "{:.1f}"),
    ("  scikit-learn, ms", "sklearn", 1e3, "{:.1f}"), ("summary of all, s", "summary", 1.0, "{:.2f}"),
    ("summary of half a year, s", "summary since", 1.0, "{:.2f}"),
    ("summary of a stage, s", "summary stage", 1.0, "{:.2f}"), ("learn from one case, ms", "learn", 1e3, "{:.1f}"),
    ("what was learned, read, ms", "experience", 1e3, "{:.1f}"),
)  # fmt: skip


def main() -> None:
    """Grow a library and print a table."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0] if __doc__ else "")
    parser.add_argument("--sizes", default="1000,10000,100000,1000000")
    parser.add_argument("--templates", type=int, default=600)
    parser.add_argument("--folder", type=Path, help="where the library lies meanwhile; removed afterwards")
    parser.add_argument("--postgresql", action="store_true", help="on a server started for it, with its usual settings")
    parser.add_argument("--rules", help="another rules folder")
    parser.add_argument("--busy", action="store_true", help="others use this machine too: take the quickest of runs")
    given = parser.parse_args()
    if given.busy:
        TYPICAL[0] = min
    folder = Path(tempfile.mkdtemp(dir=given.folder, prefix="library-scale-"))
    found = []
    with ExitStack() as stack:
        stack.callback(shutil.rmtree, folder, ignore_errors=True)
        where = stack.enter_context(running(16)).url() if given.postgresql else folder / "library.db"
        library = stack.enter_context(closing(Library(where, author="bench")))
        growing = Growing(consultant(given.rules), library, given.templates, folder)
        for size in map(int, given.sizes.split(",")):
            found.append(measure(growing, size, size > 200_000))
            print({k: round(v, 4) for k, v in found[-1].items()}, flush=True)
    for title, key, factor, shape in ROWS:
        print(f"{title:32}" + "".join(f"{shape.format(one[key] * factor):>14}" for one in found))
    print(f"targets at a million: import {TARGETS['import']:,.0f}/s, similar {TARGETS['similar']:.0f} ms, "
          f"summary {TARGETS['summary']:.0f} s, learn {TARGETS['learn']:.0f} ms")  # fmt: skip


if __name__ == "__main__":
    main()
