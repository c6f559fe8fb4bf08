"""Every calculator against something outside the project: which reference, how many numbers, worst relative error.

The table is worked out afresh on every run. Errors of temperatures are relative to their rise above 20 degrees C.

Run: python -m tests.bench.references
"""

from __future__ import annotations

import sys

from diagnose.cli.setup import consultant
from tests.bench import rows_casting, rows_flask, rows_mold, rows_wax
from tests.bench.row import Row, measure

MODULES = (rows_mold, rows_wax, rows_flask, rows_casting)
ROWS: tuple[Row, ...] = tuple(row for module in MODULES for row in module.ROWS)
WITHOUT: dict[str, str] = {name: why for module in MODULES for name, why in module.WITHOUT.items()}


def main() -> int:
    """Print the table; return 1 when an error is over its bound or a calculator is missing from it."""
    of = consultant()
    failed = False
    print(f"{'calculator':38} {'numbers':>7} {'worst':>8} {'bound':>8}  reference")
    for row in ROWS:
        found = measure(of, row)
        over = found.worst > row.bound
        failed |= over
        print(
            f"{row.calculator:38} {found.numbers:7} {found.worst:8.1e} {row.bound:8.0e}  {row.reference}"
            f"{'   OVER, at ' + found.where if over else ''}"
        )
    print("\nWithout a reference outside:")
    for name, why in WITHOUT.items():
        print(f"{name:38} {why}")
    missing = {c.name for c in of.resolver.calculators} - {row.calculator for row in ROWS} - set(WITHOUT)
    if missing:
        print("\nIn neither list: " + ", ".join(sorted(missing)))
    return int(failed or bool(missing))


if __name__ == "__main__":
    sys.exit(main())
