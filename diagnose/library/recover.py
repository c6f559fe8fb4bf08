"""What can still be read of a damaged SQLite library, into a new one. The damaged file is only ever copied.

Rows are read in ranges of their keys; a range that cannot be read is halved until only the damaged rows are left out.
What follows from other rows (packed facts, counts) is made anew.
"""

from __future__ import annotations

import os
import shutil
import sqlite3
import tempfile
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Table, bindparam, delete, func, insert, select, update

from diagnose.errors import StoreError
from diagnose.library import bulk, counts, learning
from diagnose.library import tables as t
from diagnose.library.backup import BESIDE, put_in_place, remove, there_already
from diagnose.library.connect import Database
from diagnose.library.features import CHANCE_SIZE, SEEN_SIZE, SPOKE_SIZE, pack, unpack_observed
from diagnose.library.kept import Kept
from diagnose.library.leaf import leaf_of
from diagnose.library.lines import parts
from diagnose.library.numbers import STARTS
from diagnose.library.place import place
from diagnose.library.read import stream
from diagnose.library.schema_pages import mend_schema
from diagnose.library.sheaf import Row
from diagnose.library.upgrade import OBSERVATION, observed
from diagnose.library.words import WordBook

# In this order: what a row points to comes before it.
READ = (
    t.meta, t.words, t.shops, t.cases, t.facts, t.diagnoses, t.trials, t.moves, t.confirmed, t.photos, t.pictures,
    t.changes, t.revisions, t.mappings,
)  # fmt: skip
LARGEST_KEY = 2**24
"""Where no key can be read, this many are tried."""
PROBES = 64
"""Of a table of which none of so many ranges can be read, nothing can."""
LOST = "Recovered: part, date, notes and what was observed were lost."
_STATE, _OBSERVED = (list(t.cases.columns.keys()).index(name) for name in ("state", "observed"))


@dataclass
class Recovered:
    """What came over: rows by table, and what is missing as far as it can be told."""

    rows: dict[str, int] = field(default_factory=dict)
    unreadable: dict[str, int] = field(default_factory=dict)
    """How many places could not be read, by table; each may have held several rows."""
    heads: int = 0
    """Cases of which only parts were left; they are kept with a note that says so."""
    orphans: int = 0
    """Rows left out because they belong to nothing that could be read."""


def recover(damaged: Path, to: Path, more: Callable[[int], None] = lambda count: None) -> Recovered:
    """Read what can be read of a damaged library into a new file and return what that was; `more` counts cases."""
    if not damaged.is_file():
        raise StoreError("there is no such file.", where=str(damaged), next_step="Name the damaged library.")
    if to.exists():
        raise there_already(to)
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder) / "copy.db"
        for ending in ("", *BESIDE[:1], *BESIDE[2:]):
            if Path(f"{damaged}{ending}").exists():
                shutil.copyfile(f"{damaged}{ending}", f"{copy}{ending}")
        mend_schema(copy)
        found, report = _read(copy, damaged)
    partly = to.with_name(f".{to.name}.part-{os.getpid()}.db")
    new = Database(place(partly))
    try:
        new.write(lambda conn, change: _put(conn, found, report))
        new.write(lambda conn, change: _make_anew(conn, new, more))
        learning.again(new)
        new.close()
        put_in_place(partly, to)
    except (StoreError, OSError) as error:
        raise StoreError(
            error.what if isinstance(error, StoreError) else "cannot be written.", where=str(to),
            next_step="Free some space, or name a file in another folder with --to; the damaged one is as it was.",
        ) from None  # fmt: skip
    finally:
        new.close()
        remove(partly)
    return report


def _read(copy: Path, shown: Path) -> tuple[dict[Table, list[tuple[Any, ...]]], Recovered]:
    found: dict[Table, list[tuple[Any, ...]]] = {}
    report = Recovered()
    with closing(sqlite3.connect(copy)) as conn:
        conn.text_factory = lambda raw: raw.decode("utf-8", errors="replace")
        for table in READ:
            key = [i for i, c in enumerate(table.columns) if c.primary_key]
            sound = (row for row in _rows(conn, table, report) if _sound(table, row))
            found[table] = list({tuple(row[i] for i in key): row for row in sound}.values())
            report.rows[table.name] = len(found[table])
        found[t.words] = _words(conn, found[t.words])
    _observations_into_cases(found)
    if not found[t.cases] and not found[t.facts]:
        raise StoreError(
            "nothing in it can be read.",
            where=str(shown),
            next_step="Restore a backup: `diagnose library restore FILE`.",
        )
    return found, report


def _observations_into_cases(found: dict[Table, list[tuple[Any, ...]]]) -> None:
    """Bring what was observed from where form 2 had it to where it is."""
    packed = dict(observed((row[0], row[1], row[6]) for row in found[t.facts] if row[3] == OBSERVATION))
    found[t.facts] = [row for row in found[t.facts] if row[3] != OBSERVATION]
    found[t.cases] = [
        (*row[:_OBSERVED], packed.get(row[0], row[_OBSERVED]), *row[_OBSERVED + 1 :]) for row in found[t.cases]
    ]


def _rows(conn: sqlite3.Connection, table: Table, report: Recovered) -> Iterator[tuple[Any, ...]]:
    """Yield the rows of a table that can be read, each once."""
    names = ", ".join(_observed(conn) if c is t.cases.c.observed else f'"{c.name}"' for c in table.columns)
    key = "case_id" if not _has_rowid(table) else "rowid"
    query = f'SELECT {names} FROM "{table.name}" NOT INDEXED WHERE {key} BETWEEN ? AND ?'
    last = _last(conn, table, key)
    ranges = [(0, last)]
    probed = False
    while ranges:
        low, high = ranges.pop()
        try:
            rows = conn.execute(query, (low, high)).fetchall()
        except sqlite3.DatabaseError as error:
            if any(sign in str(error) for sign in ("no such", "not a database", "malformed database schema")):
                return
            if not probed and all(_fails(conn, query, last * i // PROBES) for i in range(PROBES + 1)):
                report.unreadable[table.name] = 1
                return
            probed = True
            if low == high:
                report.unreadable[table.name] = report.unreadable.get(table.name, 0) + 1
                continue
            middle = (low + high) // 2
            ranges += [(middle + 1, high), (low, middle)]
            continue
        yield from rows


def _observed(conn: sqlite3.Connection) -> str:
    """Return where what was observed is read from; up to form 2 it was not in `cases` but among the facts."""
    try:
        conn.execute("SELECT observed FROM cases LIMIT 0")
    except sqlite3.DatabaseError as error:
        if "no such column" in str(error):
            return "x''"
    return "ifnull(observed, x'')"  # the pages of the schema may have been mended with those of today's form


def _fails(conn: sqlite3.Connection, query: str, key: int) -> bool:
    try:
        conn.execute(query, (key, key)).fetchall()
    except sqlite3.DatabaseError:
        return True
    return False


def _sound(table: Table, row: tuple[Any, ...]) -> bool:
    """Say whether the values of a row can be what they should; a damaged page can give anything."""
    for column, value in zip(table.columns, row, strict=True):
        kind = column.type.python_type
        if value is None:
            if not column.nullable:
                return False
        elif not isinstance(value, (int, float) if kind is float else int if kind is bool else kind):
            return False
    if table is t.cases:
        return row[_STATE] in t.STATES and len(row[_OBSERVED]) % SEEN_SIZE == 0
    if table is t.diagnoses:
        return len(row[-2]) % CHANCE_SIZE == 0 and len(row[-1]) % SPOKE_SIZE == 0
    return True


def _has_rowid(table: Table) -> bool:
    return bool(table.dialect_options["sqlite"]["with_rowid"])


def _last(conn: sqlite3.Connection, table: Table, key: str) -> int:
    """Return a number that no key is above."""
    for query in (f'SELECT max({key}) FROM "{table.name}"', "SELECT max(next) FROM counters"):
        try:
            last = conn.execute(query).fetchone()[0]
        except sqlite3.DatabaseError:
            continue
        if isinstance(last, int):
            return last
    return LARGEST_KEY


def _words(conn: sqlite3.Connection, rows: list[tuple[Any, ...]]) -> list[tuple[Any, ...]]:
    """Return the names from the table and from its index, which is a second copy of them."""
    found = dict(rows)
    texts = set(found.values())
    for order in ("ASC", "DESC"):
        try:
            query = f"SELECT id, text FROM words INDEXED BY sqlite_autoindex_words_1 ORDER BY text {order}"
            for number, text in conn.execute(query):
                if number not in found and text not in texts:
                    found[number] = text
                    texts.add(text)
        except sqlite3.DatabaseError:
            continue
    return sorted(found.items())


def _put(conn: Connection, found: dict[Table, list[tuple[Any, ...]]], report: Recovered) -> None:
    for table in (t.words, t.shops, t.mappings):
        conn.execute(delete(table))
    _complete(found, report)
    for table in READ:
        if table is not t.meta:
            bulk.put(conn, table, found[table])
    for name, value in found[t.meta]:
        if name not in ("schema", "epoch"):
            conn.execute(insert(t.meta).values(name=name, value=value))
    for name, column in (
        ("case", t.revisions.c.case_id), ("case", t.cases.c.id), ("change", t.changes.c.id), ("word", t.words.c.id),
        ("shop", t.shops.c.id),
    ):  # fmt: skip
        last = conn.execute(select(func.max(column))).scalar() or 0
        after = max(last + 1, STARTS[name])
        conn.execute(update(t.counters).where(t.counters.c.name == name, t.counters.c.next < after).values(next=after))


def _complete(found: dict[Table, list[tuple[Any, ...]]], report: Recovered) -> None:
    """Give parts without a head a head, and leave out what belongs to nothing."""
    heads = {row[0] for row in found[t.cases]}
    defects = {row[0]: row[2] for row in found[t.facts]}
    for case in sorted({row[0] for table in (t.facts, t.trials, t.confirmed) for row in found[table]} - heads):
        found[t.cases].append(_head(case, defects.get(case, t.NOTHING)))
        heads.add(case)
        report.heads += 1
    for table in (t.facts, t.diagnoses, t.trials, t.moves, t.confirmed, t.photos):
        report.orphans += sum(row[0] not in heads for row in found[table])
        found[table] = [row for row in found[table] if row[0] in heads]
    changes = {row[0] for row in found[t.changes]}
    found[t.revisions] = [row for row in found[t.revisions] if row[2] in changes]
    shops = {row[0] for row in found[t.shops]}
    found[t.shops] += [(n, f"{n:032x}", f"shop {n}") for n in {row[3] for row in found[t.cases]} - shops]
    known = {number for number, _ in found[t.words]}
    used = {row[i] for table, columns in _WORDS.items() for row in found[table] for i in columns}
    used.update(number for row in found[t.cases] for seen in unpack_observed(row[_OBSERVED]) for number in seen)
    found[t.words] += [(number, f"(lost name {number})") for number in sorted(used - known)]


_WORDS = {
    table: [i for i, c in enumerate(table.columns) if c.name in ("name_id", "answer_id", "cause_id", "defect_id")]
    for table in (t.cases, t.facts, t.trials, t.moves, t.confirmed)
}


def _head(case: int, defect: int) -> tuple[Any, ...]:
    given = {
        "id": case, "uid": f"{case:032x}", "name": f"recovered-{case}", "shop_id": t.OWN_SHOP, "defect_id": defect,
        "state": "opened", "notes": LOST, "search": LOST.casefold(), "month": 0, "causes": 0, "cost": None,
        "revision": 1, "fingerprint": f"{case:032x}", "observed": b"",
    }  # fmt: skip
    return tuple(given.get(c.name, "") for c in t.cases.columns)


_HEADS = (
    update(t.cases)
    .where(t.cases.c.id == bindparam("case"))
    .values(stage=bindparam("its_stage"), state=bindparam("its_state"), causes=bindparam("its_causes"))
)


def _make_anew(conn: Connection, database: Database, more: Callable[[int], None]) -> None:
    """Make anew what follows from other rows: the heads' columns, packed facts, and counts."""

    def rows() -> Iterator[tuple[Kept, int]]:
        for part in parts(stream(conn, database.words)):
            _make_features(conn, database.words, part)
            yield from ((row.kept, row.shop) for row in part)
            more(len(part))

    counts.recount(conn, database.words, rows())


def _make_features(conn: Connection, book: WordBook, rows: Sequence[Row]) -> None:
    leaves = [(row, leaf_of(row.kept)) for row in rows]
    book.learn(conn, {name for _, leaf in leaves for name in leaf.names})
    heads = [
        {"case": row.id, "its_stage": row.kept.stage, "its_state": row.kept.state, "its_causes": len(leaf.true)}
        for row, leaf in leaves
    ]
    conn.execute(_HEADS, heads)
    packed = [(book.ids[leaf.defect], row.id, pack(leaf.facts, leaf.observed, book.ids)) for row, leaf in leaves]
    bulk.put(conn, t.features, packed)
