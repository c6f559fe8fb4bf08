"""A fresh library for a test, on SQLite and on PostgreSQL alike; a PostgreSQL server of our own, once for all tests."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from diagnose.library.store import Library
from tests.library.postgres import Server, running


@pytest.fixture(scope="session")
def server() -> Iterator[Server]:
    try:
        started = running()
        found = started.__enter__()
    except RuntimeError as error:
        pytest.skip(f"no PostgreSQL here: {error}")
    yield found
    started.__exit__(None, None, None)


@pytest.fixture(params=["sqlite", "postgresql"])
def named(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """Where a fresh library lies, as a person names it."""
    if request.param == "sqlite":
        return str(tmp_path / "shop" / "library.db")
    server: Server = request.getfixturevalue("server")
    return server.new_place()


@pytest.fixture
def library(named: str) -> Iterator[Library]:
    """A fresh library of the author MK."""
    opened = Library(named, author="MK")
    yield opened
    opened.close()
