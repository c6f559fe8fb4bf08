"""Making a library, knowing its version, and the check that every transaction begins with."""

from __future__ import annotations

import os
import sqlite3
from pathlib import Path
from typing import TYPE_CHECKING
from uuid import uuid4

from sqlalchemy import Connection, Engine, insert, inspect, select, text
from sqlalchemy.schema import CreateIndex, CreateTable

from diagnose.errors import StoreError
from diagnose.library import numbers
from diagnose.library import tables as t
from diagnose.library.place import Place

if TYPE_CHECKING:
    from diagnose.library.upgrade import Shown

ONE_AT_A_TIME = 71_420_513
"""Number of the lock that programs take while they make or upgrade a PostgreSQL library."""


_SIGNS = select(t.meta.c.name, t.meta.c.value).where(t.meta.c.name.in_(("schema", "epoch")))


def writable(path: Path) -> bool:
    """Say whether a file, or its folder while it is not there yet, can be written."""
    return os.access(path if path.exists() else path.parent, os.W_OK) and os.access(path.parent, os.W_OK)


def is_ours(conn: sqlite3.Connection) -> bool:
    """Say whether a SQLite file is empty or a library; a file of something else is not even set up for writing."""
    names = {row[0] for row in conn.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
    return not names or {"meta", "cases"} <= names


def check(conn: Connection, where: str) -> str:
    """Return a sign that changes when the library is made anew or restored; raise StoreError for another version."""
    found = {str(name): str(value) for name, value in conn.execute(_SIGNS)}
    version = int(found.get("schema", 0))
    if version > t.SCHEMA_VERSION:
        raise newer(version, where)
    if version < t.SCHEMA_VERSION:
        raise StoreError(
            f"the library has form {version}, and this program writes form {t.SCHEMA_VERSION}.", where=where,
            next_step="Start the program again; it upgrades the library after a backup.",
        )  # fmt: skip
    return found.get("epoch", "")


def newer(version: int, where: str) -> StoreError:
    """Return the refusal of a library that a newer program has written."""
    return StoreError(
        f"the library was written by a newer program (form {version}; this one knows {t.SCHEMA_VERSION}).", where=where,
        next_step="Update this program, or name another library with --library DIR. Nothing was changed.",
    )  # fmt: skip


def version_of(conn: Connection, where: str) -> int:
    """Return the version of a library, 0 for an empty database; raise StoreError when it holds something else."""
    names = set(inspect(conn).get_table_names())
    if "meta" not in names and ((conn.dialect.name == "sqlite" and names) or "cases" in names):
        raise StoreError(
            "this is a database, but no case library.", where=where, next_step="Name another file with --library."
        )
    if "meta" not in names:
        return 0
    found = conn.execute(select(t.meta.c.value).where(t.meta.c.name == "schema")).scalar()
    return int(found) if found and str(found).isdigit() else 0


def prepare(engine: Engine, place: Place, upgrading: Shown | None = None) -> None:
    """Make the tables where there are none, and upgrade older ones, which is shown, after a backup."""
    from diagnose.library.upgrade import unseen, upgrade

    with engine.connect() as conn:
        version = version_of(conn, place.shown)
    if version > t.SCHEMA_VERSION:
        raise newer(version, place.shown)
    if version == 0:
        create(engine, place.shown)
    elif version < t.SCHEMA_VERSION:
        upgrade(engine, place, version, upgrading or unseen)


def lock(conn: Connection) -> None:
    """Let other programs wait until this transaction, which makes or changes tables, is through."""
    if conn.dialect.name == "postgresql":
        conn.execute(text("SELECT pg_advisory_xact_lock(:n)"), {"n": ONE_AT_A_TIME})


def create(engine: Engine, where: str = "") -> None:
    """Make an empty library, unless somebody else has just done so."""
    with engine.connect().execution_options(writing=True) as conn:
        lock(conn)
        if version_of(conn, where) == 0:
            # In one order always: a damaged file can be mended by what every other one says (see `schema_pages.py`).
            for table in t.metadata.sorted_tables:
                conn.execute(CreateTable(table))
                for index in sorted(table.indexes, key=lambda i: str(i.name)):
                    conn.execute(CreateIndex(index))
            fill(conn)
        conn.commit()


def fill(conn: Connection) -> None:
    """Put in the rows that every library has from the start."""
    conn.execute(
        insert(t.meta), [{"name": "schema", "value": str(t.SCHEMA_VERSION)}, {"name": "epoch", "value": uuid4().hex}]
    )
    conn.execute(insert(t.counters), [{"name": n, "next": first} for n, first in numbers.STARTS.items()])
    conn.execute(insert(t.words).values(id=t.NOTHING, text=""))
    conn.execute(insert(t.shops).values(id=t.OWN_SHOP, uid=uuid4().hex, name=""))
