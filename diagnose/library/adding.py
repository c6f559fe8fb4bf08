"""Amounts added to count tables: one statement for all rows, which leaves none behind that counts nothing."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any

from sqlalchemy import Connection, Table

NEARLY_NOTHING = 1e-9
Amounts = Mapping[tuple[Any, ...], list[float]]
"""By the key of a row, what is added to each of its counts; the first one is how many cases it counts."""


def add(conn: Connection, table: Table, amounts: Amounts) -> None:
    """Add amounts, which may be negative, to a count table. Only inside a writing transaction."""
    mark = "%s" if conn.dialect.name == "postgresql" else "?"
    rows = [(*key, *amount) for key, amount in sorted(amounts.items()) if any(amount)]
    if rows:
        conn.exec_driver_sql(_adding(table, mark), rows)
    fewer = [key for key, amount in amounts.items() if amount[0] < 0]
    if fewer:
        conn.exec_driver_sql(_clearing(table, mark), fewer)


@cache
def _adding(table: Table, mark: str) -> str:
    """Return the statement that adds to a count table; both databases read it alike."""
    columns = ", ".join(f'"{c.name}"' for c in table.columns)
    marks = ", ".join([mark] * len(table.columns))
    keys = ", ".join(f'"{c.name}"' for c in table.primary_key)
    counts = [c.name for c in table.columns if not c.primary_key]
    more = ", ".join(f'"{count}" = {table.name}."{count}" + excluded."{count}"' for count in counts)
    return f"INSERT INTO {table.name} ({columns}) VALUES ({marks}) ON CONFLICT ({keys}) DO UPDATE SET {more}"


@cache
def _clearing(table: Table, mark: str) -> str:
    """Return the statement that removes a row when it counts nothing any more."""
    keys = " AND ".join(f'"{c.name}" = {mark}' for c in table.primary_key)
    first = next(c.name for c in table.columns if not c.primary_key)
    return f'DELETE FROM {table.name} WHERE {keys} AND "{first}" < {NEARLY_NOTHING}'
