"""The pages of a SQLite library that say where its tables lie, put back where they are damaged.

Every library of one form is made by the same statements in the same order, so these pages say the same in all of them.
"""

from __future__ import annotations

import sqlite3
import tempfile
from contextlib import closing
from pathlib import Path

from diagnose.library.place import place

HEADER = 100  # bytes of the first page before its tree begins; they are the file's own
INTERIOR, LEAF = 5, 13


def mend_schema(copy: Path) -> None:
    """Put sound pages in place of damaged ones when a library no longer says where its tables lie."""
    with closing(sqlite3.connect(copy)) as conn:
        try:
            conn.execute("SELECT count(*) FROM sqlite_master").fetchone()
        except sqlite3.DatabaseError:
            pass
        else:
            return
    sound, content = _made_new(), bytearray(copy.read_bytes())
    size = _page_size(sound)
    if _page_size(content) != size:
        return
    for page in schema_pages(sound):
        begin = (page - 1) * size + (HEADER if page == 1 else 0)
        content[begin : page * size] = sound[begin : page * size]
    copy.write_bytes(content)


def schema_pages(content: bytes) -> list[int]:
    """Return the numbers of the pages that hold the tree of the schema, which is two levels deep at most."""
    tree = content[HEADER:]
    if tree[0] == LEAF:
        return [1]
    cells = int.from_bytes(tree[3:5], "big")
    places = [int.from_bytes(tree[12 + 2 * n : 14 + 2 * n], "big") for n in range(cells)]
    below = [int.from_bytes(content[at : at + 4], "big") for at in places]
    return [1, *below, int.from_bytes(tree[8:12], "big")]


def _page_size(content: bytes | bytearray) -> int:
    size = int.from_bytes(content[16:18], "big")
    return 65_536 if size == 1 else size


def _made_new() -> bytes:
    from diagnose.library.connect import Database

    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "new.db"
        database = Database(place(file))
        database.engine()
        database.close()
        return file.read_bytes()
