"""Two libraries into one: nothing lost, nothing twice, the later state of a case in both."""

from __future__ import annotations

from pathlib import Path

import pytest

from diagnose.errors import BadInput
from diagnose.library import counts, life
from diagnose.library.intake import Manner
from diagnose.library.kept import Kept
from diagnose.library.merge import merge
from diagnose.library.photos import add_photo, photos_out
from diagnose.library.store import Library
from tests.library.invented import a_case

ONE, OTHER = "mold.pack-too-empty", "mold.dirty-layers"


@pytest.fixture
def second(tmp_path: Path) -> Library:
    return Library(tmp_path / "second.db", author="JT")


def confirm(library: Library, name: str, cause: str) -> Kept:
    return library.change(name, "confirm", lambda k: life.confirmed(k, [cause], ""))


def test_cases_of_both_are_there_and_common_ones_once(library: Library, second: Library) -> None:
    library.add([a_case(part="ours")])
    second.add([a_case(part="theirs"), a_case(part="ours")])
    report = merge(library, second, Manner())
    assert (report.taken, len(report.same)) == (1, 1)
    assert sorted(k.part for k in library.everything()) == ["ours", "theirs"]
    assert merge(library, second, Manner()).taken == 0


def test_the_later_state_of_a_case_wins_whichever_side_it_is_on(library: Library, second: Library) -> None:
    a, b = library.add([a_case(part="a"), a_case(part="b")])
    merge(second, library, Manner())
    confirm(second, a.name, ONE)
    confirm(library, b.name, OTHER)
    report = merge(library, second, Manner())
    assert (report.taken, report.updated, len(report.same)) == (0, 1, 1)
    assert library.kept(a.name).confirmed == (ONE,)
    assert library.kept(b.name).confirmed == (OTHER,)


def test_a_case_changed_on_both_sides_stays_ours_and_is_named(library: Library, second: Library) -> None:
    a = library.add([a_case(part="a")])[0]
    merge(second, library, Manner())
    confirm(second, a.name, ONE)
    confirm(library, a.name, OTHER)
    assert merge(library, second, Manner()).differing == [(a.name, a.name)]
    assert library.kept(a.name).confirmed == (OTHER,)
    assert merge(library, second, Manner(update=True)).updated == 1
    assert library.kept(a.name).confirmed == (ONE,)


def test_counts_after_a_merge_are_those_of_all_cases(library: Library, second: Library) -> None:
    for i, cause in enumerate((ONE, OTHER, ONE)):
        confirm(second, second.add([a_case(part=str(i))])[0].name, cause)
    confirm(library, library.add([a_case(part="mine")])[0].name, ONE)
    merge(library, second, Manner())
    with library.database.read() as conn:
        rows = counts.counted(conn)["cause_counts"]
    assert sum(row[-1] for row in rows) == 4.0


def test_pictures_come_along(library: Library, second: Library, tmp_path: Path) -> None:
    picture = tmp_path / "ring.png"
    picture.write_bytes(b"\x89PNG not really a picture")
    name = second.add([a_case()])[0].name
    add_photo(second, name, picture, copy=True)
    merge(library, second, Manner())
    (file,) = photos_out(library, library.names()[0], tmp_path / "out")
    assert file.read_bytes() == picture.read_bytes()


def test_a_dry_merge_changes_nothing(library: Library, second: Library) -> None:
    second.add([a_case()])
    assert merge(library, second, Manner(dry=True)).taken == 1
    assert library.names() == []


def test_a_merge_is_one_change_and_one_undo(library: Library, second: Library) -> None:
    second.add([a_case(part=str(i)) for i in range(4)])
    merge(library, second, Manner())
    assert library.undo().what == "merge"
    assert library.names() == []


def test_a_library_is_not_merged_into_itself_nor_with_nothing(library: Library, tmp_path: Path, named: str) -> None:
    library.add([a_case()])
    with pytest.raises(BadInput, match="into itself"):
        merge(library, Library(named), Manner())
    with pytest.raises(BadInput, match="there is no library"):
        merge(library, Library(tmp_path / "none.db"), Manner())
