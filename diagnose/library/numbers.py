"""The next free numbers of cases, changes and words. Taking a change number is the lock that all writers queue for."""

from __future__ import annotations

from sqlalchemy import Connection, Integer, bindparam, update

from diagnose.library import tables as t

# Made once: putting a statement together takes longer than running it.
_TAKE = (
    update(t.counters)
    .where(t.counters.c.name == bindparam("of"))
    .values(next=t.counters.c.next + bindparam("count", type_=Integer))
    .returning(t.counters.c.next)
)
STARTS = {"case": 1, "change": 1, "word": 1, "shop": 2}


def take(conn: Connection, name: str, count: int = 1) -> int:
    """Return the first of so many numbers that nobody else has or will get."""
    return int(conn.execute(_TAKE, {"of": name, "count": count}).scalar_one()) - count
