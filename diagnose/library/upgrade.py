"""Older libraries made into today's form, in place, in one transaction, after an automatic backup."""

from __future__ import annotations

from collections.abc import Callable

from sqlalchemy import Connection, Engine, update
from sqlalchemy.schema import CreateIndex, DropIndex

from diagnose.library import schema
from diagnose.library import tables as t
from diagnose.library.place import Place


def _observations_out_of_the_index(conn: Connection) -> None:
    conn.execute(DropIndex(t.facts_by_defect))
    conn.execute(CreateIndex(t.facts_by_defect))


STEPS: dict[int, Callable[[Connection], None]] = {1: _observations_out_of_the_index}
"""From each earlier version to the next: STEPS[1] makes a library of form 1 into one of form 2."""


def upgrade(engine: Engine, place: Place, version: int) -> None:
    """Bring a library to today's form; the backup is taken first, and a step that fails leaves everything as it was."""
    from diagnose.library.backup import automatic_backup

    automatic_backup(engine, place, f"before-form-{t.SCHEMA_VERSION}")
    with engine.connect().execution_options(writing=True) as conn:
        schema.lock(conn)
        now = schema.version_of(conn, place.shown)
        for step in range(now, t.SCHEMA_VERSION):
            STEPS[step](conn)
        conn.execute(update(t.meta).where(t.meta.c.name == "schema").values(value=str(t.SCHEMA_VERSION)))
        conn.commit()
