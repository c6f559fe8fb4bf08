"""A damaged library: what can be read comes over, nothing wrong comes over, the damaged file stays as it is."""

from __future__ import annotations

import random
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from diagnose.errors import StoreError
from diagnose.library import counts, learning, life
from diagnose.library.kept import Kept, Set
from diagnose.library.recover import LOST, recover
from diagnose.library.schema_pages import schema_pages
from diagnose.library.store import Library
from tests.library.invented import CAUSES, a_case

COUNT = 400
PAGE = 4096


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> tuple[bytes, dict[str, Kept]]:
    """A library's file, and its cases by name."""
    file = tmp_path_factory.mktemp("sound") / "library.db"
    library = Library(file, author="MK")
    library.add(
        [
            a_case(
                part=f"part {i}", settings={"cure time": Set(typed=f"{i} s", value=float(i))}, notes=f"note {i} " * 9
            )
            for i in range(1, COUNT + 1)
        ]
    )
    for i in range(1, COUNT, 5):
        library.change(str(i), "confirm", lambda k, n=i: life.confirmed(k, [CAUSES[n % 2]], ""))  # type: ignore[misc]
    cases = {k.name: k for k in library.everything()}
    library.close()
    with closing(sqlite3.connect(file)) as conn:
        conn.execute("PRAGMA journal_mode = DELETE")
    return file.read_bytes(), cases


def recovered(tmp_path: Path, content: bytes) -> Library:
    damaged = tmp_path / "damaged.db"
    damaged.write_bytes(content)
    recover(damaged, tmp_path / "new.db")
    assert damaged.read_bytes() == content
    assert sorted(p.name for p in tmp_path.iterdir() if "damaged" in p.name) == ["damaged.db"]
    return Library(tmp_path / "new.db", author="MK")


def test_a_sound_library_comes_over_whole(tmp_path: Path, sound: tuple[bytes, dict[str, Kept]]) -> None:
    content, cases = sound
    library = recovered(tmp_path, content)
    assert {k.name: k for k in library.everything()} == cases
    with library.database.read() as conn:
        found = counts.counted(conn)
    assert sum(row[-1] for row in found["cause_counts"]) == COUNT / 5
    assert learning.waiting(library.database) == COUNT / 5
    assert library.undo().what == "confirm"
    assert library.add([a_case()])[0].name.endswith(f"-{COUNT + 1}")


@pytest.mark.parametrize("seed", range(4))
def test_with_damaged_pages_nothing_wrong_comes_over(
    tmp_path: Path, sound: tuple[bytes, dict[str, Kept]], seed: int
) -> None:
    content, cases = sound
    chance = random.Random(seed)
    pages = len(content) // PAGE
    hit = chance.sample(range(1, pages), 3)
    damaged = bytearray(content)
    for page in hit:
        start = page * PAGE
        damaged[start : start + PAGE] = chance.choice((b"\0" * PAGE, b"\xff" * PAGE, chance.randbytes(PAGE)))
    try:
        library = recovered(tmp_path, bytes(damaged))
    except StoreError as error:
        pytest.fail(f"pages {hit} of {pages}: {error}")
    over = list(library.everything())
    for kept in over:
        if kept.notes == LOST:
            continue
        was = cases[kept.name]
        assert (kept.part, kept.notes, kept.uid) == (was.part, was.notes, was.uid)
        for part in ("settings", "materials", "observations"):
            found, before = getattr(kept, part), getattr(was, part)
            assert all(before.get(n, v) == v or n.startswith("(lost name") for n, v in found.items()), (hit, kept)
    # Three pages of more than a hundred hold far less than two fifths of the cases.
    assert len(over) > COUNT * 0.6


@pytest.mark.parametrize("rubbish", [b"\0", b"\xff"])
def test_a_library_that_no_longer_says_where_its_tables_lie_comes_over_whole(
    tmp_path: Path, sound: tuple[bytes, dict[str, Kept]], rubbish: bytes
) -> None:
    content, cases = sound
    damaged = bytearray(content)
    pages = schema_pages(content)
    assert len(pages) > 1
    for page in pages[1:]:
        damaged[(page - 1) * PAGE : page * PAGE] = rubbish * PAGE
    with closing(sqlite3.connect(":memory:")) as conn:
        conn.deserialize(bytes(damaged))
        with pytest.raises(sqlite3.DatabaseError):
            conn.execute("SELECT count(*) FROM sqlite_master").fetchone()
    assert {k.name: k for k in recovered(tmp_path, bytes(damaged)).everything()} == cases


def test_parts_of_a_case_without_its_head_are_kept_with_a_note(
    tmp_path: Path, sound: tuple[bytes, dict[str, Kept]]
) -> None:
    content, _ = sound
    file = tmp_path / "x.db"
    file.write_bytes(content)
    with closing(sqlite3.connect(file)) as conn:
        conn.execute("DELETE FROM cases WHERE id BETWEEN 11 AND 20")
        conn.commit()
    library = recovered(tmp_path, file.read_bytes())
    kept = library.kept("recovered-12")
    assert kept.notes == LOST
    assert kept.defect == "mold.visible-seam"
    assert kept.settings["cure time"].value == 12.0
    assert len(library.names()) == COUNT


def test_names_are_read_from_their_index_where_the_table_is_lost(
    tmp_path: Path, sound: tuple[bytes, dict[str, Kept]]
) -> None:
    content, cases = sound
    file = tmp_path / "x.db"
    file.write_bytes(content)
    with closing(sqlite3.connect(file)) as conn:
        (root,) = conn.execute("SELECT rootpage FROM sqlite_master WHERE name = 'words' AND type = 'table'").fetchone()
    start = (root - 1) * PAGE
    library = recovered(tmp_path, content[:start] + b"\0" * PAGE + content[start + PAGE :])
    assert {k.name: k for k in library.everything()} == cases


def test_what_cannot_be_read_at_all_says_so(tmp_path: Path) -> None:
    (tmp_path / "x.db").write_bytes(b"\xff" * 20_000)
    with pytest.raises(StoreError, match="nothing in it can be read") as caught:
        recover(tmp_path / "x.db", tmp_path / "new.db")
    assert "backup" in caught.value.next_step
    assert not (tmp_path / "new.db").exists()


def test_a_recovery_never_overwrites(tmp_path: Path, sound: tuple[bytes, dict[str, Kept]]) -> None:
    (tmp_path / "x.db").write_bytes(sound[0])
    with pytest.raises(StoreError, match="is there already"):
        recover(tmp_path / "x.db", tmp_path / "x.db")
    with pytest.raises(StoreError, match="no such file"):
        recover(tmp_path / "none.db", tmp_path / "new.db")
