"""Counts of cases by shop, defect and month: kept up to date with each change, made anew from the cases when asked.

What counts is said in `tables.py`; what each rule said is counted by `learning.py`. A cause or a chance counts once the
case is confirmed, closed or not; a trial once its result is told.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from typing import Any

from sqlalchemy import Connection, delete, select

from diagnose.library import tables as t
from diagnose.library.adding import add
from diagnose.library.kept import Kept
from diagnose.library.leaf import Leaf, leaf_of
from diagnose.library.words import WordBook

TABLES = (t.case_counts, t.cause_counts, t.trial_counts, t.calibration)
Amounts = dict[tuple[Any, ...], list[float]]


class Tally:
    """Adds up what cases change in the counts, to write it in one go."""

    def __init__(self, numbers: Mapping[str, int]) -> None:
        self.numbers = numbers
        self.cases: Amounts = defaultdict(lambda: [0, 0, 0, 0])
        self.causes: Amounts = defaultdict(lambda: [0.0])
        self.trials: Amounts = defaultdict(lambda: [0])
        self.chances: Amounts = defaultdict(lambda: [0, 0, 0.0])

    def add(self, leaf: Leaf, shop: int, sign: int = 1) -> None:
        """Count a case, or with sign -1 take it out again."""
        number, true = self.numbers, leaf.true
        defect, month = number[leaf.defect], leaf.month
        amount = self.cases[shop, defect, month, leaf.currency]
        amount[0] += sign
        if leaf.cost is not None:
            amount[2] += sign
            amount[3] += sign * leaf.cost
        for cause, result, changed in leaf.tried:
            self.trials[shop, defect, month, number[cause], result, changed][0] += sign
        if not true:
            return
        amount[1] += sign
        for cause in true:
            self.causes[shop, defect, month, number[cause]][0] += sign / len(true)
        first = True
        for cause, chance in leaf.said[2] if leaf.said else ():
            said = self.chances[shop, defect, month, first, tenth(chance)]
            said[0] += sign
            said[1] += sign * (cause in true)
            said[2] += sign * chance
            first = False

    def write(self, conn: Connection) -> None:
        """Add the amounts to the count tables."""
        for table, amounts in zip(TABLES, (self.cases, self.causes, self.trials, self.chances), strict=True):
            add(conn, table, amounts)


def tenth(chance: float) -> int:
    """Return which tenth a chance falls in: 0 up to 9."""
    return min(int(chance * 10), 9)


def recount(conn: Connection, book: WordBook, kepts: Iterable[tuple[Kept, int]]) -> None:
    """Make the counts anew from all cases, given with their shops. Only inside a writing transaction."""
    for table in TABLES:
        conn.execute(delete(table))
    tally = Tally(book.ids)
    for kept, shop in kepts:
        leaf = leaf_of(kept)
        book.learn(conn, leaf.names)
        tally.add(leaf, shop)
    tally.write(conn)


def counted(conn: Connection) -> dict[str, list[tuple[Any, ...]]]:
    """Return all counts, in order, for comparing."""
    found = {}
    for table in TABLES:
        rows = conn.execute(select(table).order_by(*table.primary_key.columns))
        found[table.name] = [tuple(round(v, 6) if isinstance(v, float) else v for v in row) for row in rows]
    return found
