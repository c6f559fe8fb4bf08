"""Counts of confirmed cases: kept up to date with each confirmation, and made anew from the cases when asked.

What counts is said in `tables.py`; what each rule said is counted by `learning.py`. A case counts once it is confirmed,
closed or not.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from typing import Any

from sqlalchemy import Connection, Table, delete, select
from sqlalchemy.dialects import postgresql, sqlite

from diagnose.library import tables as t
from diagnose.library.kept import Kept
from diagnose.library.words import WordBook

UNLISTED = "unlisted"
"""The cause that a diagnosis names when it is none of those that the rules base lists."""
NEARLY_NOTHING = 1e-9
TABLES = (t.cause_counts, t.calibration)

Amounts = dict[tuple[Any, ...], list[float]]


def true_causes(kept: Kept) -> tuple[str, ...]:
    """Return what a case turned out to be, `unlisted` for none of the listed causes; empty while not confirmed."""
    return (*kept.confirmed, UNLISTED) if kept.other_cause else kept.confirmed


class Tally:
    """Adds up what confirmed cases change in the counts, to write it in one go."""

    def __init__(self, numbers: Mapping[str, int]) -> None:
        self.numbers = numbers
        self.causes: Amounts = defaultdict(lambda: [0.0])
        self.chances: Amounts = defaultdict(lambda: [0, 0, 0.0])

    def add(self, kept: Kept, shop: int, sign: int = 1) -> None:
        """Count a case, or with sign -1 take it out again."""
        true = true_causes(kept)
        if not true:
            return
        defect = self.numbers[kept.defect]
        for cause in true:
            self.causes[shop, defect, self.numbers[cause]][0] += sign / len(true)
        if kept.said is None:
            return
        for place, chance in enumerate(kept.said.causes):
            amount = self.chances[shop, place == 0, tenth(chance.chance)]
            amount[0] += sign
            amount[1] += sign * (chance.cause in true)
            amount[2] += sign * chance.chance

    def write(self, conn: Connection) -> None:
        """Add the amounts to the count tables."""
        for table, amounts in ((t.cause_counts, self.causes), (t.calibration, self.chances)):
            _add(conn, table, amounts)


def tenth(chance: float) -> int:
    """Return which tenth a chance falls in: 0 up to 9."""
    return min(int(chance * 10), 9)


def _add(conn: Connection, table: Table, amounts: Mapping[tuple[Any, ...], list[float]]) -> None:
    keys = [c.name for c in table.primary_key]
    values = [c.name for c in table.columns if not c.primary_key]
    rows = [
        {**dict(zip(keys, key, strict=True)), **dict(zip(values, amount, strict=True))}
        for key, amount in sorted(amounts.items()) if any(amount)
    ]  # fmt: skip
    if not rows:
        return
    make = postgresql.insert if conn.dialect.name == "postgresql" else sqlite.insert
    statement = make(table)
    more = {v: table.c[v] + statement.excluded[v] for v in values}
    conn.execute(statement.on_conflict_do_update(index_elements=keys, set_=more), rows)
    # What was taken out again leaves no row behind: the first value of each table is its number of cases.
    conn.execute(delete(table).where(table.c[values[0]] < NEARLY_NOTHING))


def recount(conn: Connection, book: WordBook, kepts: Iterable[tuple[Kept, int]]) -> None:
    """Make the counts anew from all cases, given with their shops. Only inside a writing transaction."""
    for table in TABLES:
        conn.execute(delete(table))
    tally = Tally(book.ids)
    for kept, shop in kepts:
        book.learn(conn, (kept.defect, *true_causes(kept)))
        tally.add(kept, shop)
    tally.write(conn)


def counted(conn: Connection) -> dict[str, list[tuple[Any, ...]]]:
    """Return all counts, in order, for comparing."""
    found = {}
    for table in TABLES:
        rows = conn.execute(select(table).order_by(*table.primary_key.columns))
        found[table.name] = [tuple(round(v, 6) if isinstance(v, float) else v for v in row) for row in rows]
    return found
