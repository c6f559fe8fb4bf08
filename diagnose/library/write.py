"""Putting cases into the tables: many at once, one anew, one away. Only inside a writing transaction."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from uuid import uuid4

from sqlalchemy import Connection, bindparam, delete, insert, select, update

from diagnose.library import bulk, outcomes
from diagnose.library import tables as t
from diagnose.library.counts import Tally, names_counted, true_causes
from diagnose.library.kept import Kept
from diagnose.library.numbers import take
from diagnose.library.sheaf import CHILDREN, Row, Sheaf, names_in
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

    def add(self, kepts: Sequence[Kept]) -> list[Row]:
        """Put in new cases and return them as they are kept: named, numbered, dated."""
        if not kepts:
            return []
        first = take(self.conn, "case", len(kepts))
        taken = self._taken_names(kepts)
        uids = os.urandom(16 * len(kepts)).hex()
        rows: list[Row] = []
        for i, kept in enumerate(kepts):
            name = kept.name
            if not name or name in taken:
                name = _name(kept, first + i)
            taken.add(name)
            named = {
                "name": name,
                "uid": kept.uid or uids[32 * i : 32 * i + 32],
                "opened_at": kept.opened_at or self.now,
            }
            rows.append(Row(first + i, self.shop(kept.shop), 1, kept.model_copy(update=named)))
        self.insert(rows)
        return rows

    def insert(self, rows: Sequence[Row]) -> None:
        """Put in cases whose numbers are known."""
        self.book.learn(self.conn, names_in(r.kept for r in rows))
        sheaf = Sheaf(self.book.ids)
        for row in rows:
            sheaf.add(row)
            self.tally.add(row.kept, row.shop)
        for table, many in sheaf.rows.items():
            bulk.put(self.conn, table, many)
        self._to_learn(rows)

    def replace(self, before: Row, after: Kept) -> Row:
        """Put a case in the place of what it was before; only what differs is written."""
        row = Row(before.id, before.shop, before.revision + 1, after)
        self.book.learn(self.conn, names_in((before.kept, after)))
        old, new = Sheaf(self.book.ids), Sheaf(self.book.ids)
        old.add(before)
        new.add(row)
        columns = dict(zip((c.name for c in t.cases.columns), new.rows[t.cases][0], strict=True))
        self.conn.execute(_UPDATE, {"case": row.id, **columns})
        for table in CHILDREN:
            if old.rows[table] != new.rows[table]:
                self.conn.execute(_DELETE[table], {"case": row.id})
                bulk.put(self.conn, table, new.rows[table])
        if before.kept.told() != after.told():
            outcomes.take_back(self.conn, [row.id])
            self.conn.execute(_LEARNT, {"case": row.id})
            self._to_learn([row])
        self.tally.add(before.kept, before.shop, -1)
        self.tally.add(after, row.shop)
        return row

    def remove(self, rows: Sequence[Row]) -> None:
        """Take cases out of every table but the history."""
        for i in range(0, len(rows), AT_ONCE):
            ids = [r.id for r in rows[i : i + AT_ONCE]]
            outcomes.take_back(self.conn, ids)
            for table in CHILDREN:
                self.conn.execute(delete(table).where(table.c.case_id.in_(ids)))
            self.conn.execute(delete(t.cases).where(t.cases.c.id.in_(ids)))
        for row in rows:
            self.book.learn(self.conn, names_counted(row.kept))
            self.tally.add(row.kept, row.shop, -1)

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

    def _to_learn(self, rows: Iterable[Row]) -> None:
        """Let confirmed cases of this shop wait for what the rules say of them (see `learning.py`)."""
        bulk.put(
            self.conn, t.to_learn,
            [(r.id, self.book.ids[r.kept.defect]) for r in rows if r.shop == t.OWN_SHOP and true_causes(r.kept)],
        )  # fmt: skip

    def _taken_names(self, kepts: Sequence[Kept]) -> set[str]:
        wanted = sorted({k.name for k in kepts if k.name})
        found: set[str] = set()
        for i in range(0, len(wanted), AT_ONCE):
            part = wanted[i : i + AT_ONCE]
            found |= set(self.conn.execute(select(t.cases.c.name).where(t.cases.c.name.in_(part))).scalars())
        return found


def _name(kept: Kept, number: int) -> str:
    stem = "-".join(p for p in (kept.date[:10], kept.defect.replace(".", "-") or "case") if p)
    return f"{stem}-{number}"
