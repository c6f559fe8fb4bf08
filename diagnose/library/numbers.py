"""The next free numbers of cases, changes and words. Taking a change number is the lock that all writers queue for."""

from __future__ import annotations

from sqlalchemy import Connection, update

from diagnose.library import tables as t

STARTS = {"case": 1, "change": 1, "word": 1, "shop": 2}


def take(conn: Connection, name: str, count: int = 1) -> int:
    """Return the first of so many numbers that nobody else has or will get."""
    after = conn.execute(
        update(t.counters)
        .where(t.counters.c.name == name)
        .values(next=t.counters.c.next + count)
        .returning(t.counters.c.next)
    ).scalar_one()
    return int(after) - count
