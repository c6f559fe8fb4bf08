"""Asks pint what a unit is worth; the answers are written down in `factors.py`.

Loading pint takes longer than a person should wait for the first question, so the factors of the closed
lists are kept as a table that pint wrote. A test asks pint again for every unit. A unit that is not in the
table yet is asked here when it is first used. To write the table anew:

    python -m diagnose.units.authority > factors.py && mv factors.py diagnose/units/factors.py
"""

from __future__ import annotations

import sys
from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pint import UnitRegistry


@cache
def _registry() -> UnitRegistry[float]:
    from pint import UnitRegistry

    return UnitRegistry()


def ask_pint(unit: str, si: str) -> tuple[float, float]:
    """Return factor and offset: SI = number * factor + offset. Both names are ours, never typed text."""
    quantity = _registry().Quantity
    offset = float(quantity(0.0, unit).to(si).magnitude)
    if offset == 0.0:
        return float(quantity(1.0, unit).to(si).magnitude), 0.0
    # A long step keeps the digits that a step of one degree would lose beside the offset.
    return (float(quantity(1e6, unit).to(si).magnitude) - offset) / 1e6, offset


def table_text() -> str:
    """Return `factors.py` as pint writes it."""
    from diagnose.units.table import dimensions

    rows = {
        (unit.pint, kind.si): ask_pint(unit.pint, kind.si)
        for kind in dimensions().values()
        for unit in kind.units
        if unit.pint
    }
    lines = [
        f"    ({name!r}, {si!r}): ({factor!r}, {offset!r}),".replace("'", '"')
        for (name, si), (factor, offset) in rows.items()
    ]
    head = '"""What each unit is worth in SI: factor and offset, as pint said. Written by `authority.py`."""\n'
    return "\n".join((head, "FACTORS: dict[tuple[str, str], tuple[float, float]] = {", *lines, "}", ""))


if __name__ == "__main__":
    sys.stdout.write(table_text())
