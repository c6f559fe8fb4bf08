"""Eight programs that each keep 500 cases in one library at the same time, on SQLite and on PostgreSQL.

Run: python -m tests.bench.writers [WRITERS COUNT]
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

from tests.library.postgres import running
from tests.library.writing import write_together


def report(what: str, named: str, writers: int, count: int) -> None:
    found = write_together(named, writers, count)
    changes = writers * (count + count // 2)
    print(
        f"{what}: {writers} writers x {count} cases, half of them confirmed: nothing lost, nothing twice; "
        f"{changes / found.seconds:.0f} changes/s, longest wait {found.slowest:.2f} s, "
        f"told to wait {found.told} times",
        flush=True,
    )


def main() -> None:
    writers, count = (int(a) for a in sys.argv[1:3]) if len(sys.argv) > 2 else (8, 500)
    with tempfile.TemporaryDirectory() as folder:
        report("SQLite", str(Path(folder) / "library.db"), writers, count)
    with running() as server:
        report("PostgreSQL", server.new_place(), writers, count)


if __name__ == "__main__":
    main()
