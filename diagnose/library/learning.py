"""Learning from confirmed cases: what the rules say of each, added up, so that one more costs the same at any size.

A confirmed case of this shop waits in `to_learn`. What the rules of its defect say of it comes from the consultant; it
is kept and counted in `outcomes.py`, and subtracted again when the case is changed, taken back or forgotten. So the
counts are always those of the cases as they stand, and no case is counted twice.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable
from typing import Any

from sqlalchemy import Connection, and_, delete, func, insert, select

from diagnose.library import tables as t
from diagnose.library.adding import NEARLY_NOTHING
from diagnose.library.connect import Database
from diagnose.library.kept import Kept
from diagnose.library.outcomes import keep
from diagnose.library.read import load
from diagnose.library.sheaf import Row
from diagnose.library.words import AT_ONCE, WordBook
from diagnose.model.experience import Experience, Heard, RuleCount

Hear = Callable[[Kept, tuple[str, ...]], Iterable[Heard]]
"""Gives what the rules say of a case whose causes are known."""


def waiting(database: Database, defect: str = "") -> int:
    """Return how many confirmed cases, of one defect or of all, were not learned from yet."""
    with database.read() as conn:
        query = _of(conn, database.words, select(func.count()).select_from(t.to_learn), defect)
        return int(conn.execute(query).scalar_one())


def learn(
    database: Database, hear: Hear, defect: str = "", most: int | None = None,
    progress: Callable[[int], None] | None = None,
) -> int:  # fmt: skip
    """Learn from the cases that wait, a part at a time, and return from how many."""
    done = 0
    while most is None or done < most:
        at_once = AT_ONCE if most is None else min(AT_ONCE, most - done)
        with database.read() as conn:
            query = _of(conn, database.words, select(t.to_learn.c.case_id), defect).order_by(t.to_learn.c.case_id)
            rows = load(conn, database.words, list(conn.execute(query.limit(at_once)).scalars()))
        if not rows:
            break
        heard = [(row, list(hear(row.kept, row.kept.true_causes))) for row in rows]
        database.write(lambda conn, change: _keep(conn, database.words, heard))  # noqa: B023 - done at once
        done += len(rows)
        if progress:
            progress(len(rows))
    return done


def again(database: Database) -> int:
    """Forget all that was learned and let every confirmed case of this shop wait again; return how many do."""

    def work(conn: Connection, change: int) -> int:
        for table in (t.outcomes, t.shares, t.rule_counts, t.to_learn):
            conn.execute(delete(table))
        own = and_(t.cases.c.causes > 0, t.cases.c.shop_id == t.OWN_SHOP)
        query = select(t.cases.c.id, t.cases.c.defect_id).where(own)
        conn.execute(insert(t.to_learn).from_select(["case_id", "defect_id"], query))
        return int(conn.execute(select(func.count()).select_from(t.to_learn)).scalar_one())

    return database.write(work)


def experience(database: Database, defect: str) -> Experience:
    """Return what the cases learned from come to for a defect."""
    with database.read() as conn:
        known = database.words.known(conn, defect)
        if known is None:
            return Experience(defect=defect)
        shares = conn.execute(select(t.shares).where(t.shares.c.defect_id == known)).mappings().all()
        rules = conn.execute(select(t.rule_counts).where(t.rule_counts.c.defect_id == known)).mappings().all()
        causes = database.words.texts(conn, {r["cause_id"] for r in (*shares, *rules)})
        keys = database.words.texts(conn, {r["rule_id"] for r in rules})
    counts: dict[str, tuple[dict[str, int], dict[str, int]]] = defaultdict(lambda: ({}, {}))
    for row in rules:
        told, spoke = counts[keys[row["rule_id"]]]
        told[causes[row["cause_id"]]], spoke[causes[row["cause_id"]]] = row["told"], row["spoke"]
    return Experience(
        defect=defect, confirmed={causes[r["cause_id"]]: r["cases"] for r in shares if r["cases"] > NEARLY_NOTHING},
        rules={key: RuleCount(told=told, spoke=spoke) for key, (told, spoke) in counts.items()},
    )  # fmt: skip


def _of(conn: Connection, book: WordBook, query: Any, defect: str) -> Any:
    return query.where(t.to_learn.c.defect_id == (book.known(conn, defect) or t.NOTHING)) if defect else query


def _keep(conn: Connection, book: WordBook, heard: list[tuple[Row, list[Heard]]]) -> None:
    """Count what was heard of the cases that still wait and are still as they were read."""
    query = select(t.cases.c.id, t.cases.c.revision).join(t.to_learn, t.to_learn.c.case_id == t.cases.c.id)
    standing = dict(conn.execute(query.where(t.cases.c.id.in_([row.id for row, _ in heard]))).all())
    keep(conn, book, [(row.id, many) for row, many in heard if standing.get(row.id) == row.revision])
