"""Older libraries made into today's form, in place, in one transaction, after an automatic backup."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from contextlib import AbstractContextManager, nullcontext
from itertools import groupby
from operator import itemgetter
from pathlib import Path

from sqlalchemy import Connection, Engine, bindparam, func, inspect, select, text, update
from sqlalchemy.schema import CreateIndex, DropIndex

from diagnose.errors import StoreError
from diagnose.library import schema
from diagnose.library import tables as t
from diagnose.library.features import pack_observed
from diagnose.library.place import Place

OBSERVATION = 3
"""The kind of fact that was a row for each observation up to form 2."""
AT_ONCE = 10_000
Progress = Callable[[int], None]
"""Is told how many more cases are done."""
Shown = Callable[[Path, int], AbstractContextManager[Progress]]
"""Is told of an upgrade, while it lasts: where the state until now lies, and how many cases there are."""
_EMPTY = {"sqlite": "BLOB NOT NULL DEFAULT x''", "postgresql": "BYTEA NOT NULL DEFAULT ''"}


def _observations_into_cases(conn: Connection, more: Progress) -> None:
    if "observed" not in {column["name"] for column in inspect(conn).get_columns("cases")}:
        conn.execute(text(f"ALTER TABLE cases ADD COLUMN observed {_EMPTY[conn.dialect.name]}"))
    facts, last = t.facts.c, -1
    pack = update(t.cases).where(t.cases.c.id == bindparam("case")).values(observed=bindparam("packed"))
    while ids := _next(conn, last):
        first, last = ids[0], ids[-1]
        seen = select(facts.case_id, facts.name_id, facts.answer_id).where(
            facts.kind == OBSERVATION, facts.case_id.between(first, last)
        )
        packed = [{"case": c, "packed": p} for c, p in observed((row[0], row[1], row[2]) for row in conn.execute(seen))]
        if packed:
            conn.execute(pack, packed)
        more(len(ids))
    conn.execute(t.facts.delete().where(facts.kind == OBSERVATION))
    # Form 2 left the observations out of it.
    (index,) = t.facts.indexes
    conn.execute(DropIndex(index))
    conn.execute(CreateIndex(index))


def _next(conn: Connection, last: int) -> list[int]:
    query = select(t.cases.c.id).where(t.cases.c.id > last).order_by(t.cases.c.id).limit(AT_ONCE)
    return list(conn.execute(query).scalars())


def observed(rows: Iterable[tuple[int, int, int]]) -> Iterator[tuple[int, bytes]]:
    """Yield each case with its observations packed, from rows of case, name and answer."""
    for case, seen in groupby(sorted(rows), itemgetter(0)):
        yield case, pack_observed((name, answer) for _, name, answer in seen)


def _nothing(conn: Connection, more: Progress) -> None:
    """Form 2 only took facts out of an index that form 3 makes anew."""


STEPS: dict[int, Callable[[Connection, Progress], None]] = {1: _nothing, 2: _observations_into_cases}
"""From each earlier version to the next: STEPS[2] makes a library of form 2 into one of form 3."""


def unseen(copy: Path, cases: int) -> AbstractContextManager[Progress]:
    """Show nothing of an upgrade."""
    return nullcontext(lambda more: None)


def upgrade(engine: Engine, place: Place, version: int, shown: Shown = unseen) -> None:
    """Bring a library to today's form; the backup is taken first, and a step that fails leaves everything as it was."""
    from diagnose.library.backup import automatic_backup

    if place.file and not schema.writable(place.file):
        raise StoreError(
            f"the library has form {version}; it must be brought to form {t.SCHEMA_VERSION} before it can be read, and "
            "nothing can be written there.",
            where=place.shown, next_step=f"Copy it: `diagnose --library NEWFILE library restore {place.shown}`.",
        )  # fmt: skip
    copy = automatic_backup(engine, place, f"before-form-{t.SCHEMA_VERSION}")
    with engine.connect().execution_options(writing=True) as conn:
        schema.lock(conn)
        now = schema.version_of(conn, place.shown)
        if now == t.SCHEMA_VERSION:
            return  # another program has done it meanwhile
        with shown(copy, conn.execute(select(func.count()).select_from(t.cases)).scalar_one()) as more:
            for step in range(now, t.SCHEMA_VERSION):
                STEPS[step](conn, more)
        conn.execute(update(t.meta).where(t.meta.c.name == "schema").values(value=str(t.SCHEMA_VERSION)))
        conn.commit()
