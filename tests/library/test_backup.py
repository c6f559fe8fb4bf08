"""Copies of a library and their way back, on both databases."""

from __future__ import annotations

from errno import ENOSPC
from pathlib import Path

import pytest

from diagnose.errors import StoreError
from diagnose.library import counts, life
from diagnose.library.backup import automatic_backup, back_up, copy_file, put_in_place, restore
from diagnose.library.store import Library
from tests.library.invented import a_case


def some(library: Library) -> None:
    first, *_ = library.add([a_case(), a_case(part="fern"), a_case(part="bell", shop="the guild")])
    library.change(first.name, "confirm", lambda k: life.confirmed(k, ["mold.dirty-layers"], ""))


def all_of(library: Library) -> object:
    with library.database.read() as conn:
        return list(library.everything()), counts.counted(conn)


def test_a_copy_is_a_library_of_its_own_with_everything_in_it(library: Library, tmp_path: Path) -> None:
    some(library)
    copy = Library(back_up(library.database.engine(), library.place, tmp_path / "copy.db"), author="MK")
    assert all_of(copy) == all_of(library)
    assert copy.undo().what == "confirm"
    assert library.kept("1").confirmed == ("mold.dirty-layers",)


def test_a_copy_is_one_file_that_can_be_carried_away(library: Library, tmp_path: Path) -> None:
    some(library)
    folder = tmp_path / "stick"
    copy = back_up(library.database.engine(), library.place, folder / "copy.db")
    assert [p.name for p in folder.iterdir()] == ["copy.db"]
    (tmp_path / "elsewhere").mkdir()
    moved = copy.rename(tmp_path / "elsewhere" / "x.db")
    assert len(Library(moved).names()) == 3


def test_a_copy_never_replaces_a_file(library: Library, tmp_path: Path) -> None:
    some(library)
    (tmp_path / "copy.db").write_text("mine")
    with pytest.raises(StoreError, match="is there already"):
        back_up(library.database.engine(), library.place, tmp_path / "copy.db")
    assert (tmp_path / "copy.db").read_text() == "mine"


def test_restoring_brings_the_copy_back_and_sets_today_aside(library: Library, tmp_path: Path) -> None:
    some(library)
    then = all_of(library)
    copy = back_up(library.database.engine(), library.place, tmp_path / "copy.db")
    library.add([a_case(part="later", observations={"a new word": "of today"})])
    now = all_of(library)

    aside = restore(library.database.engine, library.place, copy)

    assert all_of(library) == then
    assert aside is not None
    assert all_of(Library(aside)) == now


def test_a_program_that_has_the_library_open_sees_the_restored_one(
    library: Library, named: str, tmp_path: Path
) -> None:
    some(library)
    other = Library(named, author="JT")
    copy = back_up(library.database.engine(), library.place, tmp_path / "copy.db")
    other.add([a_case(part="later", observations={"a word": "of the other bench"})])
    restore(library.database.engine, library.place, copy)
    # The other program remembers numbers of names that are not there any more.
    kept = other.add([a_case(part="after", observations={"another word": "altogether"})])[0]
    assert library.kept(kept.name).observations == {"another word": "altogether"}
    assert len(other.names()) == 4
    other.close()


def test_a_copy_can_go_from_one_kind_of_database_into_the_other(library: Library, tmp_path: Path) -> None:
    some(library)
    copy = back_up(library.database.engine(), library.place, tmp_path / "copy.db")
    new = Library(tmp_path / "new.db")
    assert restore(new.database.engine, new.place, copy) is None
    assert all_of(new) == all_of(library)


def test_a_copy_makes_a_library_on_a_new_machine(library: Library, tmp_path: Path) -> None:
    some(library)
    copy = back_up(library.database.engine(), library.place, tmp_path / "copy.db")
    new = Library(tmp_path / "no" / "such" / "folder" / "new.db")
    assert restore(new.database.engine, new.place, copy) is None
    assert all_of(new) == all_of(library)
    new.close()
    assert [p.name for p in (tmp_path / "no" / "such" / "folder").iterdir()] == ["new.db"]


def test_a_damaged_library_stays_in_its_place_when_the_copy_cannot_be_put_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    library = Library(tmp_path / "shop" / "library.db")
    some(library)
    copy = back_up(library.database.engine(), library.place, tmp_path / "copy.db")
    library.close()
    file = tmp_path / "shop" / "library.db"
    damaged = b"\xff" * 4096 + file.read_bytes()[4096:]
    file.write_bytes(damaged)

    def full(source: Path, to: Path) -> None:
        if to.parent == file.parent:
            raise OSError(ENOSPC, "No space left on device")
        copy_file(source, to)

    monkeypatch.setattr("diagnose.library.backup.copy_file", full)
    with pytest.raises(StoreError, match="the disk is full"):
        restore(library.database.engine, library.place, copy)
    assert {p.name: p.read_bytes() for p in file.parent.iterdir()} == {"library.db": damaged}


def test_two_copies_that_want_the_same_name_are_both_kept(library: Library, monkeypatch: pytest.MonkeyPatch) -> None:
    some(library)
    taken = []

    def taken_meanwhile(partly: Path, to: Path) -> None:
        if not taken:
            taken.append(to)
            to.write_text("of another program")
        put_in_place(partly, to)

    monkeypatch.setattr("diagnose.library.backup.put_in_place", taken_meanwhile)
    copy = automatic_backup(library.database.engine(), library.place, "test")
    assert taken[0].read_text() == "of another program"
    assert copy != taken[0]
    assert all_of(Library(copy)) == all_of(library)
    for file in (copy, taken[0]):
        file.unlink()


@pytest.mark.parametrize("content", [b"", b"not a library at all, only text\n" * 200])
def test_what_is_no_library_is_not_restored(library: Library, tmp_path: Path, content: bytes) -> None:
    some(library)
    before = all_of(library)
    (tmp_path / "x.db").write_bytes(content)
    with pytest.raises(StoreError, match=r"x\.db"):
        restore(library.database.engine, library.place, tmp_path / "x.db")
    assert all_of(library) == before


def test_a_damaged_library_is_moved_aside_whole_before_a_copy_takes_its_place(tmp_path: Path) -> None:
    library = Library(tmp_path / "shop" / "library.db")
    some(library)
    copy = back_up(library.database.engine(), library.place, tmp_path / "copy.db")
    library.close()
    file = library.place.file
    assert file is not None
    damaged = b"\xff" * 4096 + file.read_bytes()[4096:]
    file.write_bytes(damaged)
    aside = restore(library.database.engine, library.place, copy)
    assert aside is not None
    assert aside.read_bytes() == damaged
    assert len(Library(file).names()) == 3
