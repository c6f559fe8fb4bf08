"""A large file is read by a process of its own: the very same cases, faults and line numbers, whatever becomes of it."""

from __future__ import annotations

import io
import pickle
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from diagnose.errors import BadInput
from diagnose.library import ahead, lines
from diagnose.library.intake import Intake, Manner, Report
from diagnose.library.kept import Kept
from diagnose.library.leaf import leaf_of
from diagnose.library.lines import Ready, lines_of
from diagnose.library.store import Library
from tests.library.invented import a_case, kepts

FAULTS = (b"\n", b"{\n", b'{"part": 3}\n', b"  \n", b'{"part": "\xff"}\n')


@pytest.fixture
def large(tmp_path: Path) -> Path:
    """A file of 240 lines: good cases, some of them twice, and lines that cannot be used."""
    file = tmp_path / "year.jsonl"
    good = [a_case(part=f"part {i % 170}", notes="\n\\u0000").to_json().encode() + b"\n" for i in range(200)]
    for i, fault in enumerate(FAULTS * 8):
        good.insert(i * 5, fault)
    file.write_bytes(b"\xef\xbb\xbf" + b"".join(good))
    return file


@pytest.fixture(autouse=True)
def small_is_large(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(lines, "LARGE", 1000)
    monkeypatch.setattr(lines, "_processors", lambda: 2)


def taken(file: Path, named: Path, **manner: object) -> tuple[Report, list[Kept]]:
    library = Library(named)
    report = Intake(library, Manner(**manner)).take(lines_of(file))  # type: ignore[arg-type]
    kept = [k.model_copy(update={"uid": "", "opened_at": ""}) for k in library.everything()]
    library.close()
    return report, kept


def read_here(file: Path, named: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[Report, list[Kept]]:
    with monkeypatch.context() as alone:
        alone.setattr(lines, "_processors", lambda: 1)
        return taken(file, named)


def test_another_process_reads_the_same_as_this_one(
    large: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert sum(isinstance(found, Ready) for _, found in lines_of(large)) == 200
    report, kept = taken(large, tmp_path / "a.db")
    assert (report, kept) == read_here(large, tmp_path / "b.db", monkeypatch)
    assert (report.taken, len(report.same), len(report.faults)) == (170, 30, 24)
    assert report.faults[0][0] == "line 6"


def test_a_case_that_comes_again_changed_is_seen_as_the_same(large: Path, tmp_path: Path) -> None:
    library = Library(tmp_path / "library.db")
    kept = library.add([a_case(part="mine")])[0]
    theirs = kept.model_copy(update={"other_cause": "the press leaked"})
    large.write_text(theirs.to_json() + "\n" + a_case(notes="n" * 1500).to_json() + "\n")
    report = Intake(library, Manner(update=True)).take(lines_of(large))
    assert (report.taken, report.updated) == (1, 1)
    assert library.kept(kept.name).other_cause == "the press leaked"
    library.close()


def test_a_reader_that_cannot_start_or_dies_loses_and_doubles_nothing(
    large: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(lines, "FIRST_PART", 1)
    monkeypatch.setattr(lines, "PART", 7)
    whole = read_here(large, tmp_path / "whole.db", monkeypatch)
    monkeypatch.setattr(sys, "executable", str(tmp_path / "no such program"))
    assert taken(large, tmp_path / "none.db") == whole

    out = io.BytesIO()
    with large.open("rb") as file:
        ahead.write_ahead(file, out)
    for cut in (0, 10, 3000, len(out.getvalue()) - 1):
        monkeypatch.setattr(lines, "_started", lambda path, cut=cut: Dying(out.getvalue()[:cut]))
        assert taken(large, tmp_path / f"{cut}.db") == whole


class Dying:
    """A process that has written so much when it ends."""

    def __init__(self, written: bytes) -> None:
        self.stdout = io.BytesIO(written)

    def kill(self) -> None:
        """It is dead already."""

    def communicate(self) -> None:
        """It has nothing more to say."""


def test_the_reader_ends_when_nobody_listens_any_more(large: Path) -> None:
    large.write_bytes(a_case(notes="n" * 5000).to_json().encode() + b"\n" + large.read_bytes() * 50)
    reader = lines._started(large)
    assert reader.stdout is not None
    reader.stdout.close()
    assert reader.wait(timeout=60) != -9


def test_a_file_that_is_left_half_read_leaves_no_process(large: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    started: list[subprocess.Popen[bytes]] = []
    start = lines._started
    monkeypatch.setattr(lines, "_started", lambda path: started.append(start(path)) or started[-1])
    reading: Iterator[object] = lines_of(large)
    next(reading)
    reading.close()  # type: ignore[attr-defined]
    assert [reader.returncode is not None for reader in started] == [True]


@settings(max_examples=20, suppress_health_check=list(HealthCheck))
@given(st.lists(kepts(), max_size=5))
def test_any_case_travels_as_plain_values(cases: list[Kept]) -> None:
    out = io.BytesIO()
    ahead.write_ahead([k.to_json().encode() + b"\n" for k in cases], out)
    out.seek(0)
    read = pickle.load(out)[0] if cases else []
    for kept, (_, good, text) in zip(cases, read, strict=True):
        ready = Ready(good and leaf_of(kept)._make(good), text)
        assert ready.leaf == leaf_of(kept)
        assert ready.kept == kept


def test_a_file_that_goes_away_is_named(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="cannot be read"):
        list(lines_of(tmp_path / "none.jsonl"))
