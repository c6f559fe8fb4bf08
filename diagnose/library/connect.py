"""The connection to the library: how transactions begin, wait for each other, and end.

Every writing transaction first takes a change number, which is the one lock of all writers on both databases; so
writers come one after another, none sees half a change, and no two deadlock. A transaction is acknowledged when it is
on the disk.
"""

from __future__ import annotations

import random
import sqlite3
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from sqlalchemy import Connection, Engine, QueuePool, StaticPool, create_engine, event
from sqlalchemy.exc import SQLAlchemyError

from diagnose.errors import StoreError
from diagnose.library import faults, schema
from diagnose.library.numbers import take
from diagnose.library.place import Place, on_network_drive
from diagnose.library.words import WordBook

if TYPE_CHECKING:
    from diagnose.library.upgrade import Shown

T = TypeVar("T")
WAIT = 2.0
"""How long the driver itself waits for a lock before it asks us. [s]"""
PATIENCE = 60.0
"""How long we go on trying before a person hears that the library is busy. [s]"""
NAP = (0.002, 0.05)
CACHE = 262_144
"""How much of the file SQLite may hold in memory; a small library takes what it needs. [KiB]"""
JOURNAL = 65_536
"""How long the journal grows before it goes into the file: in a large import a page is often written anew. [pages]"""
Problems = (SQLAlchemyError, sqlite3.Error, OSError)


class Database:
    """A library's tables, for reading and writing in whole transactions."""

    def __init__(self, place: Place, waiting: Callable[[], None] | None = None, upgrading: Shown | None = None) -> None:
        self.place, self.waiting, self.upgrading = place, waiting, upgrading
        self.words = WordBook()
        self._engine: Engine | None = None
        self._seen = ""

    @property
    def exists(self) -> bool:
        """Say whether something has been kept here; a PostgreSQL library always exists."""
        return self.place.file is None or self.place.file.exists()

    @contextmanager
    def read(self) -> Iterator[Connection]:
        """Open a reading transaction: everything read in it is of one moment."""
        engine = self._ready() if self.exists else _nothing()
        conn = self._patiently(lambda: self._begun(engine))
        try:
            yield conn
        except Problems as error:
            raise faults.said(error, self.place.shown) from None
        finally:
            _close(conn)

    def write(self, work: Callable[[Connection, int], T]) -> T:
        """Do the work in one transaction under a new change number and return what it returns, once it is on the disk.

        When somebody else writes, this waits and does the work again from the start, so the work must only write here.
        """
        engine = self._ready()

        def attempt() -> T:
            with engine.connect().execution_options(writing=True) as conn:
                change = take(conn, "change")
                self._check(conn)
                done = work(conn, change)
                conn.commit()
                return done

        return self._patiently(attempt)

    def close(self) -> None:
        """Let go of the file or the server."""
        if self._engine is not None:
            self._engine.dispose()
        self._engine = None
        self.words.forget()

    def engine(self) -> Engine:
        """Return the engine with the schema in place, for what is not a transaction: backups and upgrades."""
        return self._ready()

    def _begun(self, engine: Engine) -> Connection:
        conn = engine.connect()
        try:
            if engine.dialect.name == "postgresql":
                conn = conn.execution_options(isolation_level="REPEATABLE READ", postgresql_readonly=True)
            self._check(conn)
        except BaseException:
            conn.close()
            raise
        return conn

    def _check(self, conn: Connection) -> None:
        """Look at the schema anew in every transaction: another version of the program may have been here."""
        seen = schema.check(conn, self.place.shown)
        if seen != self._seen:
            # Restored or made anew since: the numbers of the names may be others.
            self.words.forget()
            self._seen = seen

    def _ready(self) -> Engine:
        if self._engine is None:
            try:
                engine = _to_file(self.place) if self.place.file else _to_server(self.place)
            except OSError as error:
                raise faults.said(error, self.place.shown) from None
            self._patiently(lambda: schema.prepare(engine, self.place, self.upgrading))
            self._engine = engine
        return self._engine

    def _patiently(self, attempt: Callable[[], T]) -> T:
        give_up = time.monotonic() + PATIENCE
        told = time.monotonic() + WAIT
        while True:
            try:
                return attempt()
            except Problems as error:
                self.words.forget()
                if not faults.is_busy(error) or time.monotonic() > give_up:
                    raise faults.said(error, self.place.shown) from None
            except BaseException:
                self.words.forget()
                raise
            if self.waiting and time.monotonic() > told:
                self.waiting()
                told = give_up
            time.sleep(random.uniform(*NAP))


def _close(conn: Connection) -> None:
    try:
        conn.close()
    except Problems:
        conn.invalidate()


def _nothing() -> Engine:
    """Return an empty library in memory: looking at one that is not there leaves no file behind."""
    engine = create_engine("sqlite://", poolclass=StaticPool)
    schema.create(engine)
    return engine


def _to_file(place: Place) -> Engine:
    assert place.file is not None
    path = place.file
    if not path.exists():
        path.parent.mkdir(parents=True, exist_ok=True)
    # With changes in a journal beside the file, many may read while one writes. A network drive cannot do that.
    journal = "DELETE" if on_network_drive(path) else "WAL"

    def connect() -> sqlite3.Connection:
        writable = schema.writable(path)
        conn = _opened(path, "mode=rwc" if writable else "mode=ro")
        try:
            if not writable:
                conn = readable(conn, path)
            conn.execute("PRAGMA foreign_keys = ON")
            conn.execute(f"PRAGMA cache_size = -{CACHE}")
            if writable and schema.is_ours(conn):
                conn.execute(f"PRAGMA journal_mode = {journal}")
                conn.execute("PRAGMA synchronous = FULL")
                conn.execute(f"PRAGMA wal_autocheckpoint = {JOURNAL}")
        except BaseException:
            conn.close()
            raise
        return conn

    engine = create_engine("sqlite://", creator=connect, poolclass=QueuePool)

    @event.listens_for(engine, "begin")
    def begin(conn: Connection) -> None:
        conn.exec_driver_sql("BEGIN IMMEDIATE" if conn.get_execution_options().get("writing") else "BEGIN")

    return engine


def _opened(path: Path, how: str) -> sqlite3.Connection:
    return sqlite3.connect(
        f"{path.as_uri()}?{how}", uri=True, timeout=WAIT, isolation_level=None, check_same_thread=False
    )


def readable(conn: sqlite3.Connection, path: Path) -> sqlite3.Connection:
    """Return a connection that can read a file on a disk where SQLite cannot put its journal beside it."""
    try:
        conn.execute("SELECT count(*) FROM sqlite_master")
    except sqlite3.OperationalError:
        journal = Path(f"{path}-wal")
        if journal.exists() and journal.stat().st_size:
            raise  # changes wait in the journal; without them the file alone would tell the past
        conn.close()
        conn = _opened(path, "mode=ro&immutable=1")
    return conn


def _to_server(place: Place) -> Engine:
    try:
        engine = create_engine(place.url, pool_pre_ping=True, connect_args={"connect_timeout": 10})
    except ModuleNotFoundError:
        raise StoreError(
            "PostgreSQL needs one more package.", where=place.shown,
            next_step="Install it: pip install 'second-pour[postgresql]'.",
        ) from None  # fmt: skip

    @event.listens_for(engine, "connect")
    def settle(driver: Any, record: object) -> None:
        with driver.cursor() as cursor:
            cursor.execute("SET synchronous_commit = on")
            cursor.execute(f"SET lock_timeout = {int(WAIT * 1000)}")
            cursor.execute("SET client_encoding = 'UTF8'")
        driver.commit()

    return engine
