"""Cases out of the tables: many at once, each whole, all of one moment."""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Iterator, Sequence
from typing import Any

from sqlalchemy import BindParameter, Connection, RowMapping, Select, Table, bindparam, select

from diagnose.library import tables as t
from diagnose.library.features import unpack_chances, unpack_evidence, unpack_observed
from diagnose.library.kept import Chance, Kept, Moved, Photo, Said, Set, Spoke, Tried
from diagnose.library.leaf import MATERIAL, SETTING
from diagnose.library.sheaf import CHILDREN, Row
from diagnose.library.words import AT_ONCE, WordBook

_WORDS = ("name_id", "answer_id", "cause_id")
_READ = tuple(table for table in CHILDREN if table is not t.features)
_THESE: BindParameter[list[int]] = bindparam("these", expanding=True)
# Made once: putting a statement together takes longer than running it.
_HEADS = select(t.cases).where(t.cases.c.id.in_(_THESE))
_CHILDREN = {
    table: select(table).where(table.c.case_id.in_(_THESE)).order_by(*table.primary_key.columns) for table in _READ
}
_SHOPS = select(t.shops.c.id, t.shops.c.name)
Rows = dict[Table, dict[int, list[dict[str, Any]]]]


def load(conn: Connection, book: WordBook, ids: Sequence[int]) -> list[Row]:
    """Return the cases with these numbers, in the order given; a number that no case has is left out."""
    found: dict[int, Row] = {}
    for i in range(0, len(ids), AT_ONCE):
        these = {"these": list(ids[i : i + AT_ONCE])}
        heads = conn.execute(_HEADS, these).mappings().all()
        children: Rows = {}
        for table, query in _CHILDREN.items():
            children[table] = _by_case(conn, book, conn.execute(query, these).mappings().all())
        shops = {row.id: row.name for row in conn.execute(_SHOPS)}
        texts = _packed_names(conn, book, heads, children[t.diagnoses])
        defects = book.texts(conn, {h["defect_id"] for h in heads})
        for head in heads:
            rows = {table: many.get(head["id"], []) for table, many in children.items()}
            kept = _kept(head, rows, texts, defects[head["defect_id"]], shops.get(head["shop_id"], ""))
            found[head["id"]] = Row(head["id"], head["shop_id"], head["revision"], kept)
    return [found[n] for n in ids if n in found]


def stream(conn: Connection, book: WordBook, wanted: Select[int] | None = None) -> Iterator[Row]:
    """Yield the cases whose numbers a query gives, or all in order, a part at a time."""
    if wanted is not None:
        ids = list(conn.execute(wanted).scalars())
        for i in range(0, len(ids), AT_ONCE):
            yield from load(conn, book, ids[i : i + AT_ONCE])
        return
    last = 0
    while True:
        query = select(t.cases.c.id).where(t.cases.c.id > last).order_by(t.cases.c.id).limit(AT_ONCE)
        ids = list(conn.execute(query).scalars())
        if not ids:
            return
        yield from load(conn, book, ids)
        last = ids[-1]


def _by_case(conn: Connection, book: WordBook, rows: Sequence[RowMapping]) -> dict[int, list[dict[str, Any]]]:
    """Return rows by case, with names in place of their numbers."""
    columns = [w for w in _WORDS if rows and w in rows[0]]
    texts = book.texts(conn, {r[w] for r in rows for w in columns})
    found: dict[int, list[dict[str, Any]]] = defaultdict(list)
    for row in rows:
        found[row["case_id"]].append({**row, **{w: texts[row[w]] for w in columns}})
    return found


def _packed_names(
    conn: Connection, book: WordBook, heads: Sequence[RowMapping], diagnoses: dict[int, list[dict[str, Any]]]
) -> dict[int, str]:
    """Return the names that packed observations, causes and rules need."""
    numbers = {number for head in heads for seen in unpack_observed(head["observed"]) for number in seen}
    for (row,) in diagnoses.values():
        numbers.update(cause for cause, _ in unpack_chances(row["ranked"]))
        for rule, cause, _, _ in unpack_evidence(row["evidence"]):
            numbers.update((rule, cause))
    return book.texts(conn, numbers)


def _kept(
    head: RowMapping, rows: dict[Table, list[dict[str, Any]]], texts: dict[int, str], defect: str, shop: str
) -> Kept:
    seen = sorted((texts[name], texts[answer]) for name, answer in unpack_observed(head["observed"]))
    facts = sorted(rows[t.facts], key=lambda f: str(f["name_id"]))
    return Kept(
        name=head["name"], uid=head["uid"], shop=shop, author=head["author"], opened_at=head["opened_at"],
        closed_at=head["closed_at"], part=head["part"], defect=defect, date=head["date"], notes=head["notes"],
        materials={f["name_id"]: f["answer_id"] for f in facts if f["kind"] == MATERIAL},
        settings={f["name_id"]: Set(typed=f["typed"], value=_value(f)) for f in facts if f["kind"] == SETTING},
        observations=dict(seen), said=_said(rows, texts), trials=_trials(rows),
        confirmed=tuple(c["cause_id"] for c in rows[t.confirmed]),
        other_cause=head["other_cause"], cost=head["cost"], currency=head["currency"],
        photos=tuple(Photo(path=p["path"], digest=p["digest"]) for p in rows[t.photos]),
    )  # fmt: skip


def _value(fact: dict[str, Any]) -> float | tuple[float, ...]:
    return tuple(json.loads(fact["readings"])) if fact["readings"] is not None else float(fact["number"])


def _said(rows: dict[Table, list[dict[str, Any]]], texts: dict[int, str]) -> Said | None:
    if not rows[t.diagnoses]:
        return None
    head = rows[t.diagnoses][0]
    return Said(
        at=head["at"],
        verdict=head["verdict"],
        causes=tuple(Chance(cause=texts[cause], chance=chance) for cause, chance in unpack_chances(head["ranked"])),
        evidence=tuple(
            Spoke(rule=texts[rule], cause=texts[cause], speaks="for" if speaks_for else "against", counted=counted)
            for rule, cause, speaks_for, counted in unpack_evidence(head["evidence"])
        ),
    )


def _trials(rows: dict[Table, list[dict[str, Any]]]) -> tuple[Tried, ...]:
    moves: dict[int, list[Moved]] = defaultdict(list)
    for m in rows[t.moves]:
        moves[m["trial"]].append(
            Moved(
                setting=m["name_id"],
                before=m["before"],
                after=m["after"],
                before_si=m["before_number"],
                after_si=m["after_number"],
            )
        )
    return tuple(
        Tried(
            changed=r["changed"], outcome=r["outcome"], date=r["date"], result=r["result"], cause=r["cause_id"],
            author=r["author"], moves=tuple(moves[r["number"]]),
        )
        for r in rows[t.trials]
    )  # fmt: skip
