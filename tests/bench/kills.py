"""Kill -9 at random moments during add, trial, confirm and import, on SQLite and on PostgreSQL.

Run: python -m tests.bench.kills [COUNT] [sqlite|postgresql]    (200 unless said, on both)
"""

from __future__ import annotations

import sys
import tempfile
from collections import Counter
from collections.abc import Callable
from pathlib import Path

from tests.library.killing import kills
from tests.library.postgres import running

ROUND = 20
"""After so many kills a fresh library: each check reads every case, and a few thousand show what there is to see."""


def report(what: str, fresh: Callable[[], str], count: int) -> None:
    print(f"{what}: {count} kills", flush=True)
    kinds: Counter[str] = Counter()
    changes = cases = largest = 0
    for first in range(0, count, ROUND):
        expected = kills(fresh(), min(ROUND, count - first), seed=2026 + first, most=0.6)
        kinds.update(expected.kinds)
        changes, cases = changes + expected.changes, cases + len(expected.cases)
        largest = max(largest, len(expected.cases))
        print(f"  {sum(kinds.values())} kills, {changes} changes", flush=True)
    where = ", ".join(f"{n} during {kind}" for kind, n in sorted(kinds.items()))
    print(f"  killed {where}")
    print(f"  {changes} acknowledged changes of {cases} cases (up to {largest} in one library): all there, no half one")


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    which = sys.argv[2] if len(sys.argv) > 2 else ""
    if which != "postgresql":
        with tempfile.TemporaryDirectory() as folder:
            numbers = iter(range(count))
            report("SQLite", lambda: str(Path(folder) / f"library-{next(numbers)}.db"), count)
    if which != "sqlite":
        with running() as server:
            report("PostgreSQL", server.new_place, count)


if __name__ == "__main__":
    main()
