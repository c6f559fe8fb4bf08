"""Putting cases into the tables: many at once, one anew, one away. Only inside a writing transaction."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from uuid import uuid4

from sqlalchemy import Connection, bindparam, delete, insert, select, update

from diagnose.library import bulk, outcomes
from diagnose.library import tables as t
from diagnose.library.counts import Tally
from diagnose.library.kept import Kept
from diagnose.library.leaf import Leaf, leaf_of
from diagnose.library.numbers import take
from diagnose.library.sheaf import CHILDREN, Entry, Row, Sheaf, names_in
from diagnose.library.words import AT_ONCE, WordBook

# Made once: putting a statement together takes longer than running it.
_DELETE = {table: delete(table).where(table.c.case_id == bindparam("case")) for table in CHILDREN}
_LEARNT = delete(t.to_learn).where(t.to_learn.c.case_id == bindparam("case"))
_UPDATE = update(t.cases).where(t.cases.c.id == bindparam("case"))


class Writer:
    """Writes cases in one transaction and keeps the learning counts with them."""

    def __init__(self, conn: Connection, book: WordBook, now: str) -> None:
        self.conn, self.book, self.now = conn, book, now
        self.tally = Tally(book.ids)
        self._shops: dict[str, int] = {}

    def add(self, leaves: Sequence[Leaf]) -> list[Entry]:
        """Put in new cases and return them as they are kept: named, numbered, dated."""
        if not leaves:
            return []
        first = take(self.conn, "case", len(leaves))
        taken = self._taken_names(leaves)
        uids = os.urandom(16 * len(leaves)).hex()
        entries: list[Entry] = []
        for i, leaf in enumerate(leaves):
            name = leaf.name
            if not name or name in taken:
                name = _name(leaf, first + i)
            taken.add(name)
            uid = leaf.uid or uids[32 * i : 32 * i + 32]
            entries.append(Entry(first + i, self.shop(leaf.shop), 1, uid, name, leaf.opened_at or self.now, leaf))
        self.insert(entries)
        return entries

    def insert(self, entries: Sequence[Entry]) -> None:
        """Put in cases whose numbers are known."""
        self.book.learn(self.conn, names_in(e.leaf for e in entries))
        sheaf = Sheaf(self.book.ids)
        for entry in entries:
            sheaf.add(entry)
            self.tally.add(entry.leaf, entry.shop)
        for table, many in sheaf.rows.items():
            bulk.put(self.conn, table, many)
        self._to_learn(entries)

    def replace(self, before: Row, after: Kept) -> None:
        """Put a case in the place of what it was before; only what differs is written."""
        was, now = Entry.of(before), Entry.of(Row(before.id, before.shop, before.revision + 1, after))
        self.book.learn(self.conn, names_in((was.leaf, now.leaf)))
        old, new = Sheaf(self.book.ids), Sheaf(self.book.ids)
        old.add(was)
        new.add(now)
        columns = dict(zip((c.name for c in t.cases.columns), new.rows[t.cases][0], strict=True))
        self.conn.execute(_UPDATE, {"case": now.id, **columns})
        for table in CHILDREN:
            if old.rows[table] != new.rows[table]:
                self.conn.execute(_DELETE[table], {"case": now.id})
                bulk.put(self.conn, table, new.rows[table])
        if before.kept.told() != after.told():
            outcomes.take_back(self.conn, [now.id])
            self.conn.execute(_LEARNT, {"case": now.id})
            self._to_learn([now])
        self.tally.add(was.leaf, was.shop, -1)
        self.tally.add(now.leaf, now.shop)

    def remove(self, rows: Sequence[Row]) -> None:
        """Take cases out of every table but the history."""
        for i in range(0, len(rows), AT_ONCE):
            ids = [r.id for r in rows[i : i + AT_ONCE]]
            outcomes.take_back(self.conn, ids)
            for table in CHILDREN:
                self.conn.execute(delete(table).where(table.c.case_id.in_(ids)))
            self.conn.execute(delete(t.cases).where(t.cases.c.id.in_(ids)))
        for row in rows:
            leaf = leaf_of(row.kept)
            self.book.learn(self.conn, leaf.names)
            self.tally.add(leaf, row.shop, -1)

    def finish(self) -> None:
        """Write what the cases changed in the counts."""
        self.tally.write(self.conn)

    def shop(self, name: str) -> int:
        """Return the number of a shop by name; no name is this shop."""
        if not name:
            return t.OWN_SHOP
        if name not in self._shops:
            found = self.conn.execute(select(t.shops.c.id).where(t.shops.c.name == name)).scalar()
            if found is None:
                found = take(self.conn, "shop")
                self.conn.execute(insert(t.shops).values(id=found, uid=uuid4().hex, name=name))
            self._shops[name] = int(found)
        return self._shops[name]

    def _to_learn(self, entries: Iterable[Entry]) -> None:
        """Let confirmed cases of this shop wait for what the rules say of them (see `learning.py`)."""
        waiting = [(e.id, self.book.ids[e.leaf.defect]) for e in entries if e.shop == t.OWN_SHOP and e.leaf.true]
        bulk.put(self.conn, t.to_learn, waiting)

    def _taken_names(self, leaves: Sequence[Leaf]) -> set[str]:
        wanted = sorted({leaf.name for leaf in leaves if leaf.name})
        found: set[str] = set()
        for i in range(0, len(wanted), AT_ONCE):
            part = wanted[i : i + AT_ONCE]
            found |= set(self.conn.execute(select(t.cases.c.name).where(t.cases.c.name.in_(part))).scalars())
        return found


def _name(leaf: Leaf, number: int) -> str:
    stem = "-".join(p for p in (leaf.date[:10], leaf.defect.replace(".", "-") or "case") if p)
    return f"{stem}-{number}"
