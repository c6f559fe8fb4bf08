"""Many rows into a table at the speed of the driver: SQLite's `executemany`, PostgreSQL's COPY."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from sqlalchemy import Connection, Table

COPY_FROM = 50
"""How many rows make COPY worth its beginning."""

Tuples = Sequence[tuple[Any, ...]]


def put(conn: Connection, table: Table, rows: Tuples) -> None:
    """Insert rows given as values in the order of the table's columns."""
    if not rows:
        return
    names = ", ".join(f'"{c.name}"' for c in table.columns)
    if conn.dialect.name == "postgresql" and len(rows) >= COPY_FROM:
        driver: Any = conn.connection.driver_connection
        with driver.cursor() as cursor, cursor.copy(f'COPY "{table.name}" ({names}) FROM STDIN') as copy:
            for row in rows:
                copy.write_row(row)
        return
    # Not through SQLAlchemy's own insert: its way of handling each value takes longer than the database.
    marks = ", ".join(["%s" if conn.dialect.name == "postgresql" else "?"] * len(table.columns))
    conn.exec_driver_sql(f'INSERT INTO "{table.name}" ({names}) VALUES ({marks})', list(rows))
