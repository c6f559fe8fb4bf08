"""Kill -9 at random moments during add, trial, confirm and import, on SQLite and on PostgreSQL.

Run: python -m tests.bench.kills [COUNT]    (200 unless said)
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

from tests.library.killing import kills
from tests.library.postgres import running


def report(what: str, named: str, count: int) -> None:
    print(f"{what}: {count} kills", flush=True)
    expected = kills(named, count, seed=2026, most=0.4, tell=lambda n: print(f"  {n}", end="\r", flush=True))
    where = ", ".join(f"{n} during {kind}" for kind, n in sorted(expected.kinds.items()))
    print(f"  killed {where}")
    print(f"  {expected.changes} acknowledged changes of {len(expected.cases)} cases: all there, no half one")


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    with tempfile.TemporaryDirectory() as folder:
        report("SQLite", str(Path(folder) / "library.db"), count)
    with running() as server:
        report("PostgreSQL", server.new_place(), count)


if __name__ == "__main__":
    main()
