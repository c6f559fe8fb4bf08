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
    with pytest.raises(BadInput, match="there is no such picture"):
        add_photo(library, name, tmp_path / "none.png", copy=True)
