"""Copies of a library: taken whole while others go on working, put back only after today's state was set aside.

A copy is always a SQLite library, whatever it was taken from; so it can be looked at with `--library COPY`, and a
PostgreSQL library can be restored from it.
"""

from __future__ import annotations

import os
import sqlite3
import tempfile
from collections.abc import Callable
from contextlib import closing, suppress
from itertools import count
from pathlib import Path
from uuid import uuid4

from sqlalchemy import Connection, Engine, delete, insert, inspect, select, update
from sqlalchemy.exc import SQLAlchemyError

from diagnose.errors import StoreError
from diagnose.library import faults, schema
from diagnose.library import tables as t
from diagnose.library.connect import Database, readable
from diagnose.library.place import Place, place

AT_ONCE = 5000
BESIDE = ("-wal", "-shm", "-journal")
"""The endings of the files that SQLite keeps beside a library."""


def back_up(engine: Engine, source: Place, to: Path) -> Path:
    """Copy a library into a new file and return it; the copy is complete or not there."""
    if to.exists():
        raise there_already(to)
    partly = to.with_name(f".{to.name}.part-{os.getpid()}")
    try:
        to.parent.mkdir(parents=True, exist_ok=True)
        if source.file:
            copy_file(source.file, partly)
        else:
            with engine.connect().execution_options(isolation_level="REPEATABLE READ") as conn:
                _into_new_file(conn, partly)
        put_in_place(partly, to)
    except (SQLAlchemyError, sqlite3.Error, OSError) as error:
        raise faults.said_of_copying(error, source.shown, str(to)) from None
    finally:
        remove(partly)
    return to


def there_already(to: Path) -> StoreError:
    """Return the refusal to write over a file."""
    return StoreError("is there already.", where=str(to), next_step="Name a file that does not exist yet.")


def put_in_place(partly: Path, to: Path) -> None:
    """Give a file that is complete its name, unless another program has made a file of that name meanwhile."""
    with partly.open("rb+") as file:
        os.fsync(file.fileno())
    try:
        os.link(partly, to)
    except FileExistsError:
        raise there_already(to) from None
    except OSError:  # a disk on which a file has one name only
        if to.exists():
            raise there_already(to) from None
        os.replace(partly, to)


def remove(file: Path) -> None:
    """Remove a file of ours that was not finished, with what SQLite keeps beside it."""
    for ending in ("", *BESIDE):
        with suppress(OSError):
            Path(f"{file}{ending}").unlink(missing_ok=True)


def automatic_backup(engine: Engine, source: Place, why: str) -> Path:
    """Copy a library beside itself under a name that says why, and return the copy."""
    stem = source.file.stem if source.file else "library"
    while True:
        to = free(source.folder / f"{stem}-{why}.db")
        try:
            return back_up(engine, source, to)
        except StoreError:
            if not to.exists():
                raise
        # Another program took the name meanwhile.


def free(wanted: Path) -> Path:
    """Return a path that does not exist yet: the one wanted, or with a number."""
    if not wanted.exists():
        return wanted
    return next(path for n in count(2) if not (path := wanted.with_name(f"{wanted.stem}-{n}{wanted.suffix}")).exists())


def copy_file(source: Path, to: Path) -> None:
    """Copy a SQLite library page by page while others may be writing in it."""
    with closing(_to_read(source)) as old, closing(sqlite3.connect(to)) as new:
        old.backup(new, pages=-1)
        # One file alone, without a journal beside it: it can be carried away.
        new.execute("PRAGMA journal_mode = DELETE")


def _to_read(file: Path) -> sqlite3.Connection:
    conn = sqlite3.connect(f"{file.as_uri()}?mode=ro", uri=True, timeout=10)
    return conn if schema.writable(file) else readable(conn, file)


def copy_tables(source: Connection, to: Connection) -> None:
    """Copy every row of every table into a library that has been emptied.

    A column that the source, being of an older form, does not have yet is left empty; the copy is of that form too, and
    its upgrade fills it.
    """
    for table in t.metadata.sorted_tables:
        there = {column["name"] for column in inspect(source).get_columns(table.name)}
        empty = {c.name: b"" for c in table.columns if c.name not in there}
        query = select(*(c for c in table.columns if c.name in there))
        rows = source.execution_options(yield_per=AT_ONCE).execute(query).mappings()
        for part in rows.partitions():
            to.execute(insert(table), [{**row, **empty} for row in part])


def _into_new_file(conn: Connection, to: Path) -> None:
    new = Database(place(to))
    try:
        with new.engine().connect().execution_options(writing=True) as target:
            _empty(target)
            copy_tables(conn, target)
            target.commit()
    finally:
        new.close()
    with closing(sqlite3.connect(to)) as file:
        file.execute("PRAGMA journal_mode = DELETE")


def _empty(conn: Connection) -> None:
    for table in reversed(t.metadata.sorted_tables):
        conn.execute(delete(table))


def restore(database_engine: Callable[[], Engine], target: Place, copy: Path) -> Path | None:
    """Put a copy in the place of a library and return where the state until now was set aside, if there was one.

    The copy is looked through and brought to today's form first; the copy itself is not touched.
    """
    with tempfile.TemporaryDirectory() as folder:
        ready = _checked(copy, Path(folder) / "copy.db")
        try:
            if target.file and not (target.file.exists() and _is_sound(target.file)):
                return _in_place_of_damaged(ready, target.file)
            aside = automatic_backup(database_engine(), target, "before-restore")
            if target.file:
                _over_file(ready, target.file)
            else:
                _over_server(ready, database_engine())
        except (SQLAlchemyError, sqlite3.Error, OSError) as error:
            raise faults.said(error, target.shown) from None
    return aside


def _checked(copy: Path, to: Path) -> Path:
    """Return a sound copy in today's form; raise StoreError when the one named cannot be used."""
    if not copy.is_file():
        raise StoreError("there is no such file.", where=str(copy), next_step="Name a file made by a backup.")
    try:
        copy_file(copy.absolute(), to)
        with closing(sqlite3.connect(to)) as file:
            fault = file.execute("PRAGMA quick_check(1)").fetchone()[0]
            holds_cases = file.execute("SELECT 1 FROM sqlite_master WHERE name = 'cases'").fetchone()
    except sqlite3.Error as error:
        raise faults.said(error, str(copy)) from None
    if fault == "ok" and not holds_cases:
        raise StoreError("this is no case library.", where=str(copy), next_step="Name a file made by a backup.")
    if fault != "ok":
        raise StoreError(
            "the copy is damaged.", where=str(copy),
            next_step="`diagnose library recover` saves what can be read of a damaged library.",
        )  # fmt: skip
    made = Database(place(to))
    try:
        with made.engine().connect().execution_options(writing=True) as conn:
            # Everybody who has the library open learns by the new epoch that its numbers are others.
            conn.execute(update(t.meta).where(t.meta.c.name == "epoch").values(value=uuid4().hex))
            conn.commit()
    finally:
        made.close()
    return to


def _is_sound(file: Path) -> bool:
    """Say whether a file can be read; only what says that the file itself cannot be read is taken for damage."""
    try:
        with closing(_to_read(file)) as conn:
            return bool(conn.execute("PRAGMA quick_check(1)").fetchone()[0] == "ok")
    except sqlite3.DatabaseError as error:
        if not faults.is_damage(error):
            raise
        return False


def _in_place_of_damaged(ready: Path, file: Path) -> Path | None:
    """Put a copy where no library or a damaged one lies; that one is moved only once the copy lies beside it."""
    partly = file.with_name(f".{file.name}.part-{os.getpid()}")
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        copy_file(ready, partly)
        aside = set_damaged_aside(file) if file.exists() else None
        put_in_place(partly, file)
    finally:
        remove(partly)
    return aside


def set_damaged_aside(file: Path) -> Path:
    """Move a damaged library, with the files beside it, out of the way; nothing of it is changed or lost."""
    aside = free(file.with_name(f"{file.stem}-damaged.db"))
    for ending in (*BESIDE, ""):
        part = Path(f"{file}{ending}")
        if part.exists():
            os.replace(part, f"{aside}{ending}")
    return aside


def _over_file(ready: Path, file: Path) -> None:
    # Written through SQLite in one transaction: whoever reads meanwhile sees the old library or the new one.
    with closing(sqlite3.connect(ready)) as new, closing(sqlite3.connect(file, timeout=30)) as old:
        old.execute("PRAGMA journal_mode = WAL")
        old.execute("PRAGMA synchronous = FULL")
        new.backup(old, pages=-1)


def _over_server(ready: Path, engine: Engine) -> None:
    source = Database(place(ready))
    try:
        with source.read() as rows, engine.connect().execution_options(writing=True) as conn:
            schema.lock(conn)
            _empty(conn)
            copy_tables(rows, conn)
            conn.commit()
    finally:
        source.close()
