"""Another form of the library: upgraded in place after a backup, refused when it is newer, left alone when it fails."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path

import pytest
from sqlalchemy import Connection, Engine, select, text

from diagnose.errors import StoreError
from diagnose.library import bulk, upgrade
from diagnose.library import tables as t
from diagnose.library.backup import automatic_backup, restore
from diagnose.library.features import unpack_observed
from diagnose.library.place import Place
from diagnose.library.recover import recover
from diagnose.library.similar import similar
from diagnose.library.store import Library
from tests.library.invented import a_case

NEXT = t.SCHEMA_VERSION + 1


def next_form(monkeypatch: pytest.MonkeyPatch, step: object) -> None:
    monkeypatch.setattr(t, "SCHEMA_VERSION", NEXT)
    monkeypatch.setitem(upgrade.STEPS, NEXT - 1, step)


def mark_newer(library: Library) -> None:
    mark = text(f"UPDATE meta SET value = '{NEXT}' WHERE name = 'schema'")
    library.database.write(lambda conn, change: conn.execute(mark))


def with_colour(conn: Connection, more: Callable[[int], None]) -> None:
    conn.execute(text("ALTER TABLE cases ADD COLUMN colour TEXT NOT NULL DEFAULT 'red'"))


def version(library: Library) -> str:
    with library.database.read() as conn:
        return str(conn.execute(text("SELECT value FROM meta WHERE name = 'schema'")).scalar())


def test_an_older_library_is_brought_to_todays_form_after_a_backup(
    library: Library, named: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    library.add([a_case()])
    library.close()
    next_form(monkeypatch, with_colour)
    upgraded = Library(named)
    assert [k.part for k in upgraded.everything()] == ["oak leaf"]
    assert version(upgraded) == str(NEXT)
    with upgraded.database.read() as conn:
        assert conn.execute(text("SELECT colour FROM cases")).scalar() == "red"
    (copy,) = list(upgraded.place.folder.glob(f"*before-form-{NEXT}.db"))
    monkeypatch.undo()
    assert [k.part for k in Library(copy).everything()] == ["oak leaf"]
    upgraded.close()


def test_an_upgrade_says_where_the_state_until_now_lies_and_counts_every_case(library: Library, named: str) -> None:
    library.add(a_case(part=f"part {i}") for i in range(7))
    as_form(library, 2)
    library.close()
    said: list[tuple[bool, int]] = []
    counted: list[int] = []

    @contextmanager
    def shown(copy: Path, cases: int) -> Iterator[Callable[[int], None]]:
        said.append((copy.exists(), cases))
        yield counted.append

    upgraded = Library(named, upgrading=shown)
    assert len(upgraded.names()) == 7
    assert said == [(True, 7)]
    assert sum(counted) == 7
    upgraded.close()


def test_a_program_that_comes_second_finds_the_upgrade_done(
    library: Library, named: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    cases = library.add(a_case(part=f"part {i}") for i in range(3))
    as_form(library, 2)
    library.close()
    others: list[Library] = []

    def first_another(engine: Engine, place: Place, why: str) -> Path:
        if not others:
            others.append(Library(named))
            assert len(others[0].names()) == 3
        return automatic_backup(engine, place, why)

    def shown(copy: Path, cases: int) -> AbstractContextManager[Callable[[int], None]]:
        raise AssertionError("nothing is left to upgrade")

    monkeypatch.setattr("diagnose.library.backup.automatic_backup", first_another)
    second = Library(named, upgrading=shown)
    assert list(second.everything()) == cases
    for opened in (second, *others):
        opened.close()


def test_a_step_that_fails_leaves_the_library_as_it_was(
    library: Library, named: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def half(conn: Connection, more: Callable[[int], None]) -> None:
        with_colour(conn, more)
        raise StoreError("the step failed.")

    library.add([a_case()])
    library.close()
    with monkeypatch.context() as patch:
        next_form(patch, half)
        with pytest.raises(StoreError, match="the step failed"):
            Library(named).names()
    again = Library(named)
    assert [k.part for k in again.everything()] == ["oak leaf"]
    assert version(again) == str(NEXT - 1)
    with again.database.read() as conn:
        assert "colour" not in conn.execute(text("SELECT * FROM cases")).mappings().one()
    again.close()


def test_a_newer_library_is_refused_and_not_touched(library: Library, named: str) -> None:
    library.add([a_case()])
    mark_newer(library)
    library.close()
    file = library.place.file
    before = file.read_bytes() if file else b""
    for attempt in (Library(named).names, lambda: Library(named).add([a_case()])):
        with pytest.raises(StoreError, match="written by a newer program") as caught:
            attempt()
        assert "Update this program" in caught.value.next_step
    assert (file.read_bytes() if file else b"") == before


def test_a_program_that_stays_open_notices_that_a_newer_one_was_here(library: Library, named: str) -> None:
    library.add([a_case()])
    newer = Library(named)
    mark_newer(newer)
    for attempt in (library.names, lambda: library.add([a_case()]), lambda: library.undo()):
        with pytest.raises(StoreError, match="newer program"):
            attempt()  # type: ignore[operator]
    newer.close()


def test_a_database_of_something_else_is_left_alone(tmp_path: Path) -> None:
    file = tmp_path / "music.db"
    with sqlite3.connect(file) as conn:
        conn.execute("CREATE TABLE songs (name TEXT)")
    conn.close()
    before = file.read_bytes()
    with pytest.raises(StoreError, match="no case library"):
        Library(file).add([a_case()])
    assert file.read_bytes() == before


@pytest.mark.parametrize("form", [1, 2])
def test_a_library_of_an_earlier_form_is_upgraded(library: Library, named: str, form: int) -> None:
    cases = library.add([a_case(), a_case(part="fern", observations={}), a_case(part="leaf")])
    cases[2] = library.change(cases[2].name, "tell", lambda k: k.model_copy(update={"part": "birch leaf"}))
    as_form(library, form)
    library.close()

    upgraded = Library(named)
    assert list(upgraded.everything()) == cases
    assert version(upgraded) == str(t.SCHEMA_VERSION)
    assert "kind" not in index_of_facts(upgraded)
    assert rows(upgraded, "SELECT count(*) FROM facts WHERE kind = 3") == [(0,)]
    found = similar(upgraded.database, a_case().case(), ["mold.visible-seam"]).like
    assert [like.part for like in found if like.similarity == 1.0][:1] == ["birch leaf"]

    (copy,) = list(upgraded.place.folder.glob(f"*before-form-{t.SCHEMA_VERSION}.db"))
    assert sqlite3.connect(copy).execute("SELECT value FROM meta WHERE name = 'schema'").fetchone() == (str(form),)
    before = Library(copy.with_name("restored.db"))
    restore(before.database.engine, before.place, copy)
    assert list(before.everything()) == cases
    before.close()
    upgraded.close()


@pytest.mark.parametrize("form", [1, 2])
def test_a_library_of_an_earlier_form_is_recovered_whole(tmp_path: Path, form: int) -> None:
    library = Library(tmp_path / "library.db")
    cases = library.add([a_case(), a_case(part="fern")])
    as_form(library, form)
    library.close()
    recover(tmp_path / "library.db", tmp_path / "new.db")
    new = Library(tmp_path / "new.db")
    assert list(new.everything()) == cases
    new.close()


def as_form(library: Library, form: int) -> None:
    """Make a library what an earlier program would have left: a row for each observation, its index without them."""
    where = {1: "", 2: " WHERE kind < 3"}[form]
    with library.database.engine().begin() as conn:
        for case, defect, packed in conn.execute(select(t.cases.c.id, t.cases.c.defect_id, t.cases.c.observed)).all():
            old = [(case, name, defect, 3, None, None, answer, "") for name, answer in unpack_observed(packed)]
            bulk.put(conn, t.facts, old)
        conn.execute(text("ALTER TABLE cases DROP COLUMN observed"))
        conn.execute(text("DROP INDEX facts_by_defect"))
        conn.execute(text(f"CREATE INDEX facts_by_defect ON facts (defect_id, name_id, answer_id, number){where}"))
        conn.execute(text(f"UPDATE meta SET value = '{form}' WHERE name = 'schema'"))


def rows(library: Library, query: str) -> list[tuple[object, ...]]:
    with library.database.read() as conn:
        return [tuple(row) for row in conn.execute(text(query))]


def index_of_facts(library: Library) -> str:
    """Return the statement that the database says the index was made by."""
    where = {
        "sqlite": "SELECT sql FROM sqlite_master WHERE name = 'facts_by_defect'",
        "postgresql": "SELECT indexdef FROM pg_indexes WHERE indexname = 'facts_by_defect' "
        "AND schemaname = current_schema()",
    }
    with library.database.read() as conn:
        return str(conn.execute(text(where[conn.dialect.name])).scalar())
