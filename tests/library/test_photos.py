"""Pictures of a case, by path or copied."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest

from diagnose.errors import BadInput
from diagnose.library.photos import add_photo, photos_out
from diagnose.library.store import Library
from tests.library.invented import a_case


@pytest.fixture
def picture(tmp_path: Path) -> Path:
    path = tmp_path / "ring.JPG"
    path.write_bytes(bytes(range(256)) * 40)
    return path


def test_a_path_is_noted_and_nothing_copied(library: Library, picture: Path, tmp_path: Path) -> None:
    name = library.add([a_case()])[0].name
    kept = add_photo(library, name, picture, copy=False)
    assert [(p.path, p.digest) for p in kept.photos] == [(str(picture), "")]
    assert photos_out(library, name, tmp_path / "out") == []


def test_a_copy_is_named_by_its_content_and_outlives_the_file(library: Library, picture: Path, tmp_path: Path) -> None:
    one, two = library.add([a_case(), a_case()])
    content = picture.read_bytes()
    for name in (one.name, one.name, two.name):
        add_photo(library, name, picture, copy=True)
    picture.unlink()
    (file,) = photos_out(library, one.name, tmp_path / "out")
    assert file.name == f"{hashlib.sha256(content).hexdigest()}.jpg"
    assert file.read_bytes() == content
    with library.database.read() as conn:
        assert conn.exec_driver_sql("SELECT count(*) FROM pictures").scalar() == 1


def test_what_is_no_picture_is_refused(library: Library, tmp_path: Path) -> None:
    name = library.add([a_case()])[0].name
    (tmp_path / "virus.exe").write_bytes(b"MZ")
    with pytest.raises(BadInput, match="no kind of picture"):
        add_photo(library, name, tmp_path / "virus.exe", copy=True)
    with pytest.raises(BadInput, match="no kind of picture"):
        add_photo(library, name, tmp_path / "virus.exe", copy=False)
    with pytest.raises(BadInput, match="there is no such picture"):
        add_photo(library, name, tmp_path / "none.png", copy=True)


def test_a_picture_noted_first_and_copied_later_is_one(library: Library, picture: Path) -> None:
    name = library.add([a_case()])[0].name
    add_photo(library, name, picture, copy=False)
    (photo,) = add_photo(library, name, picture, copy=True).photos
    assert photo.digest == hashlib.sha256(picture.read_bytes()).hexdigest()


def test_a_case_forgotten_for_good_takes_its_pictures_along_unless_another_has_them(
    library: Library, tmp_path: Path
) -> None:
    one, two = library.add([a_case(), a_case(part="fern")])
    own, common = tmp_path / "own.png", tmp_path / "common.png"
    own.write_bytes(b"a picture of the first one alone")
    common.write_bytes(b"a picture of both")
    for name, path in ((one.name, own), (one.name, common), (two.name, common)):
        add_photo(library, name, path, copy=True)
    library.forget(one.name, for_good=True)
    with library.database.read() as conn:
        left = list(conn.exec_driver_sql("SELECT digest FROM pictures").scalars())
    assert left == [hashlib.sha256(common.read_bytes()).hexdigest()]
    library.forget(two.name)
    library.undo()
    assert len(photos_out(library, two.name, tmp_path / "out")) == 1
