"""Counts of cases by shop, defect and month: kept up to date with each change, made anew from the cases when asked.

What counts is said in `tables.py`; what each rule said is counted by `learning.py`. A cause or a chance counts once the
case is confirmed, closed or not; a trial once its result is told.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from sqlalchemy import Connection, delete, select

from diagnose.library import tables as t
from diagnose.library.adding import add
from diagnose.library.kept import Kept
from diagnose.library.words import WordBook

UNLISTED = "unlisted"
"""The cause that a diagnosis names when it is none of those that the rules base lists."""
TABLES = (t.case_counts, t.cause_counts, t.trial_counts, t.calibration)
LONGEST = 200
"""How much of what was changed in a trial tells it from another: an index has its limits."""

Amounts = dict[tuple[Any, ...], list[float]]


def true_causes(kept: Kept) -> tuple[str, ...]:
    """Return what a case turned out to be, `unlisted` for none of the listed causes; empty while not confirmed."""
    return (*kept.confirmed, UNLISTED) if kept.other_cause else kept.confirmed


def names_counted(kept: Kept) -> Iterator[str]:
    """Yield every name that counting a case needs a number for."""
    yield kept.defect
    yield from true_causes(kept)
    yield from (trial.cause for trial in kept.trials)


class Tally:
    """Adds up what cases change in the counts, to write it in one go."""

    def __init__(self, numbers: Mapping[str, int]) -> None:
        self.numbers = numbers
        self.cases: Amounts = defaultdict(lambda: [0, 0, 0, 0])
        self.causes: Amounts = defaultdict(lambda: [0.0])
        self.trials: Amounts = defaultdict(lambda: [0])
        self.chances: Amounts = defaultdict(lambda: [0, 0, 0.0])

    def add(self, kept: Kept, shop: int, sign: int = 1) -> None:
        """Count a case, or with sign -1 take it out again."""
        here = (shop, self.numbers[kept.defect], kept.month)
        true = true_causes(kept)
        amount = self.cases[(*here, kept.currency)]
        amount[0] += sign
        amount[1] += sign * bool(true)
        if kept.cost is not None:
            amount[2] += sign
            amount[3] += sign * kept.cost
        for trial in kept.trials:
            if trial.result and trial.changed:
                changed = " ".join(trial.changed.split())[:LONGEST]
                self.trials[(*here, self.numbers[trial.cause], trial.result, changed)][0] += sign
        for cause in true:
            self.causes[(*here, self.numbers[cause])][0] += sign / len(true)
        if true and kept.said:
            for place, chance in enumerate(kept.said.causes):
                said = self.chances[(*here, place == 0, tenth(chance.chance))]
                said[0] += sign
                said[1] += sign * (chance.cause in true)
                said[2] += sign * chance.chance

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
        book.learn(conn, names_counted(kept))
        tally.add(kept, shop)
    tally.write(conn)


def counted(conn: Connection) -> dict[str, list[tuple[Any, ...]]]:
    """Return all counts, in order, for comparing."""
    found = {}
    for table in TABLES:
        rows = conn.execute(select(table).order_by(*table.primary_key.columns))
        found[table.name] = [tuple(round(v, 6) if isinstance(v, float) else v for v in row) for row in rows]
    return found
