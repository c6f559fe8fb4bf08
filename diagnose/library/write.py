"""Putting cases into the tables: many at once, one anew, one away. Only inside a writing transaction."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from uuid import uuid4

from sqlalchemy import Connection, Table, bindparam, delete, insert, select, update

from diagnose.library import tables as t
from diagnose.library.counts import Tally, true_causes
from diagnose.library.features import pack
from diagnose.library.kept import Kept
from diagnose.library.numbers import take
from diagnose.library.words import AT_ONCE, WordBook

CHILDREN = (t.facts, t.features, t.diagnoses, t.ranked, t.evidence, t.trials, t.moves, t.confirmed, t.photos)
# Made once: putting a statement together takes longer than running it.
_INSERT = {table: insert(table) for table in CHILDREN}
_DELETE = {table: delete(table).where(table.c.case_id == bindparam("case")) for table in CHILDREN}
_UPDATE = update(t.cases).where(t.cases.c.id == bindparam("case"))
_KINDS = {"material": t.MATERIAL, "setting": t.SETTING, "observation": t.OBSERVATION}


@dataclass(frozen=True)
class Row:
    """A case with its numbers in this library."""

    id: int
    shop: int
    revision: int
    kept: Kept


def _names(kept: Kept) -> Iterator[str]:
    yield kept.defect
    yield from true_causes(kept)
    for fact in kept.facts():
        yield fact.name
        yield fact.answer
    if kept.said:
        yield from (c.cause for c in kept.said.causes)
        for spoke in kept.said.evidence:
            yield spoke.rule
            yield spoke.cause
    for trial in kept.trials:
        yield trial.cause
        yield from (m.setting for m in trial.moves)


def _search(kept: Kept) -> str:
    trials = (x for tried in kept.trials for x in (tried.changed, tried.outcome))
    return "\n".join(p for p in (kept.part, kept.notes, kept.other_cause, *trials) if p).casefold()


class Writer:
    """Writes cases in one transaction and keeps the learning counts with them."""

    def __init__(self, conn: Connection, book: WordBook, now: str) -> None:
        self.conn, self.book, self.now = conn, book, now
        self.tally = Tally(book.number)
        self._shops: dict[str, int] = {}

    def add(self, kepts: Sequence[Kept]) -> list[Row]:
        """Put in new cases and return them as they are kept: named, numbered, dated."""
        if not kepts:
            return []
        self.book.learn(self.conn, (n for k in kepts for n in _names(k)))
        first = take(self.conn, "case", len(kepts))
        taken = self._taken_names(kepts)
        rows: list[Row] = []
        for i, kept in enumerate(kepts):
            name = kept.name
            if not name or name in taken:
                name = _name(kept, first + i)
            taken.add(name)
            named = kept.model_copy(
                update={"name": name, "uid": kept.uid or uuid4().hex, "opened_at": kept.opened_at or self.now}
            )
            rows.append(Row(first + i, self.shop(kept.shop), 1, named))
        self.insert(rows)
        return rows

    def insert(self, rows: Sequence[Row]) -> None:
        """Put in cases whose numbers are known."""
        self.book.learn(self.conn, (n for r in rows for n in _names(r.kept)))
        self.conn.execute(insert(t.cases), [self._case(r) for r in rows])
        for table, many in self._children(rows).items():
            if many:
                self.conn.execute(_INSERT[table], many)
        for row in rows:
            self.tally.add(row.kept, row.shop)

    def replace(self, before: Row, after: Kept) -> Row:
        """Put a case in the place of what it was before."""
        row = Row(before.id, before.shop, before.revision + 1, after)
        self.book.learn(self.conn, (*_names(before.kept), *_names(after)))
        self.conn.execute(_UPDATE, {"case": row.id, **self._case(row)})
        old, new = self._children([before]), self._children([row])
        for table in CHILDREN:
            if old[table] != new[table]:
                self.conn.execute(_DELETE[table], {"case": row.id})
                if new[table]:
                    self.conn.execute(_INSERT[table], new[table])
        self._count(before, -1)
        self.tally.add(after, row.shop)
        return row

    def remove(self, rows: Sequence[Row]) -> None:
        """Take cases out of every table but the history."""
        for i in range(0, len(rows), AT_ONCE):
            ids = [r.id for r in rows[i : i + AT_ONCE]]
            for table in CHILDREN:
                self.conn.execute(delete(table).where(table.c.case_id.in_(ids)))
            self.conn.execute(delete(t.cases).where(t.cases.c.id.in_(ids)))
        for row in rows:
            self._count(row, -1)

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

    def _count(self, row: Row, sign: int) -> None:
        self.book.learn(self.conn, (row.kept.defect, *true_causes(row.kept)))
        self.tally.add(row.kept, row.shop, sign)

    def _taken_names(self, kepts: Sequence[Kept]) -> set[str]:
        wanted = sorted({k.name for k in kepts if k.name})
        found: set[str] = set()
        for i in range(0, len(wanted), AT_ONCE):
            part = wanted[i : i + AT_ONCE]
            found |= set(self.conn.execute(select(t.cases.c.name).where(t.cases.c.name.in_(part))).scalars())
        return found

    def _case(self, row: Row) -> dict[str, Any]:
        k = row.kept
        return {
            "id": row.id, "uid": k.uid, "name": k.name, "shop_id": row.shop, "defect_id": self.book.number(k.defect),
            "stage": k.stage, "state": k.state, "date": k.date, "month": k.month, "opened_at": k.opened_at,
            "closed_at": k.closed_at, "author": k.author, "part": k.part, "notes": k.notes, "search": _search(k),
            "other_cause": k.other_cause, "causes": len(true_causes(k)), "cost": k.cost, "currency": k.currency,
            "revision": row.revision, "fingerprint": k.fingerprint(),
        }  # fmt: skip

    def _children(self, rows: Iterable[Row]) -> dict[Table, list[Mapping[str, Any]]]:
        found: dict[Table, list[Mapping[str, Any]]] = {table: [] for table in CHILDREN}
        for row in rows:
            for table, values in self._rows(row):
                found[table].append(values)
        return found

    def _rows(self, row: Row) -> Iterator[tuple[Table, Mapping[str, Any]]]:
        kept, case, number = row.kept, {"case_id": row.id}, self.book.number
        of = {**case, "defect_id": number(kept.defect)}
        for f in kept.facts():
            readings = json.dumps(f.readings) if f.readings is not None else None
            yield t.facts, {
                **of, "name_id": number(f.name), "kind": _KINDS[f.kind], "number": f.number, "readings": readings,
                "answer_id": number(f.answer), "typed": f.typed,
            }  # fmt: skip
        yield t.features, {**of, "packed": pack(kept, number)}
        yield from self._said(kept, case)
        for i, trial in enumerate(kept.trials, 1):
            yield t.trials, {
                **of, "number": i, "date": trial.date, "changed": trial.changed, "outcome": trial.outcome,
                "result": trial.result, "cause_id": number(trial.cause), "author": trial.author,
            }  # fmt: skip
            for m in trial.moves:
                yield t.moves, {
                    **case, "trial": i, "name_id": number(m.setting), "before": m.before, "before_number": m.before_si,
                    "after": m.after, "after_number": m.after_si,
                }  # fmt: skip
        for i, cause in enumerate(kept.confirmed, 1):
            yield t.confirmed, {**of, "place": i, "cause_id": number(cause)}
        for i, photo in enumerate(kept.photos, 1):
            yield t.photos, {**case, "place": i, "path": photo.path, "digest": photo.digest}

    def _said(self, kept: Kept, case: Mapping[str, int]) -> Iterator[tuple[Table, Mapping[str, Any]]]:
        said, number = kept.said, self.book.number
        if said is None:
            return
        first = said.causes[0] if said.causes else None
        yield t.diagnoses, {
            **case, "at": said.at, "verdict": said.verdict, "first_cause_id": number(first.cause if first else ""),
            "first_chance": first.chance if first else 0.0,
        }  # fmt: skip
        for i, c in enumerate(said.causes, 1):
            yield t.ranked, {**case, "place": i, "cause_id": number(c.cause), "chance": c.chance}
        for e in said.evidence:
            yield t.evidence, {
                **case, "rule_id": number(e.rule), "cause_id": number(e.cause),
                "speaks": 1 if e.speaks == "for" else -1, "counted": e.counted,
            }  # fmt: skip


def _name(kept: Kept, number: int) -> str:
    stem = "-".join(p for p in (kept.date[:10], kept.defect.replace(".", "-") or "case") if p)
    return f"{stem}-{number}"
