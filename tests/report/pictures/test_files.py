"""A picture as a file: the kind its name asks for, all of it or nothing."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from diagnose.errors import BadInput
from diagnose.report.pictures.files import as_page, write_picture
from diagnose.report.pictures.panels import Curve, Curves
from diagnose.report.pictures.picture import Picture

LINE = Curve('a <b> & "c"', (0.0, 1.0), (0.0, 1.0))
PICTURE = Picture(
    "line", "A <line> & more", 'It rises from 0 to 1; "so".', ("x", "y"), (("0", "0"), ("1", "<1>")),
    (Curves("x", "y", (LINE,)),),
)  # fmt: skip


@pytest.mark.parametrize(
    ("name", "begins"), [("a.svg", b"<svg"), ("a.png", b"\x89PNG"), ("A.HTML", b"<!doctype html>")]
)
def test_the_ending_says_what_is_written(name: str, begins: bytes, tmp_path: Path) -> None:
    write_picture(PICTURE, tmp_path / name)

    assert (tmp_path / name).read_bytes().startswith(begins)
    assert os.listdir(tmp_path) == [name]


@pytest.mark.parametrize(
    ("name", "message"),
    [
        ("a.pdf", "the ending '.pdf' is not known.*End the name in .svg, .png or .html"),
        ("a", "no ending"),
        ("nowhere/a.svg", "there is no folder.*Make it, or name another"),
        ("folder.svg", "this is a folder"),
    ],
)
def test_a_file_that_cannot_be_is_refused(name: str, message: str, tmp_path: Path) -> None:
    (tmp_path / "folder.svg").mkdir()

    with pytest.raises(BadInput, match=message):
        write_picture(PICTURE, tmp_path / name)
    assert os.listdir(tmp_path) == ["folder.svg"]


def test_an_old_file_stays_whole_when_the_new_one_cannot_be_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "a.svg"
    path.write_text("old")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(BadInput, match="no space left"):
        write_picture(PICTURE, path)
    assert path.read_text() == "old"
    assert os.listdir(tmp_path) == ["a.svg"]


def test_the_page_stands_alone_and_keeps_words_as_words() -> None:
    page = as_page(PICTURE)

    assert "default-src 'none'" in page
    assert "http-equiv" in page
    assert "<script" not in page
    assert "A &lt;line&gt; &amp; more" in page
    assert "<td>&lt;1&gt;</td>" in page
    assert page.count("<tr>") == 3
    assert "a &lt;b&gt; &amp; " in page  # the label in the drawing
