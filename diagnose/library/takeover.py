"""Cases that an earlier version kept as YAML files in a folder, taken into the library; the files stay there."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path

from sqlalchemy import Connection, delete, insert, select

from diagnose.errors import BadInput
from diagnose.library import history
from diagnose.library import tables as t
from diagnose.library.kept import Kept
from diagnose.library.leaf import leaf_of
from diagnose.library.store import Library
from diagnose.rulebase.cases import read_case
from diagnose.rulebase.load import RuleBase

NOTED = "taken from folder"


def waiting(library: Library) -> list[Path]:
    """Return the case files of an earlier version that have not been taken in yet."""
    folder = library.place.earlier
    files = sorted(folder.glob("*.yaml")) if folder and folder.is_dir() else []
    if not files:
        return []
    with library.database.read() as conn:
        taken = _taken(conn)
    return [f for f in files if f.name not in taken]


def take_over(library: Library, files: Sequence[Path], base: RuleBase) -> tuple[list[str], list[str]]:
    """Take case files in under their own names; return the names taken, and what was wrong with the others."""
    kepts: dict[str, Kept] = {}
    faults: list[str] = []
    for file in files:
        try:
            kept = Kept.of(read_case(file, base), author=library.author)
            kepts[file.name] = kept.model_copy(update={"name": file.stem[:300]})
        except BadInput as error:
            faults.append(error.message())
    if not kepts:
        return [], faults

    def work(conn: Connection, change: int) -> list[str]:
        taken = _taken(conn)
        new = {name: kept for name, kept in kepts.items() if name not in taken}
        entries = library.put(conn, [leaf_of(kept) for kept in new.values()])
        library.note(conn, change, "take over")
        history.note_cases(conn, change, ((e.id, 1, None) for e in entries))
        conn.execute(delete(t.meta).where(t.meta.c.name == NOTED))
        conn.execute(insert(t.meta).values(name=NOTED, value=json.dumps(sorted(taken | new.keys()))))
        return [e.name for e in entries]

    return library.database.write(work), faults


def _taken(conn: Connection) -> set[str]:
    noted = conn.execute(select(t.meta.c.value).where(t.meta.c.name == NOTED)).scalar()
    return set(json.loads(noted)) if noted else set()
