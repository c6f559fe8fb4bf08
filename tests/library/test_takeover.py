"""Cases that an earlier version kept in a folder are taken into the library once; the folder stays as it is."""

from __future__ import annotations

import shutil
from pathlib import Path

from diagnose.library.store import Library
from diagnose.library.takeover import take_over, waiting
from diagnose.rulebase.cases import read_case
from diagnose.rulebase.load import RuleBase

CASES = Path(__file__).resolve().parent.parent.parent / "cases"


def earlier(folder: Path, count: int = 3) -> list[Path]:
    folder.mkdir(parents=True)
    return [Path(shutil.copy(p, folder / p.name)) for p in sorted(CASES.glob("*.yaml"))[:count]]


def test_every_case_comes_in_under_its_name_and_the_files_stay(tmp_path: Path, base: RuleBase) -> None:
    files = earlier(tmp_path / "shop")
    before = {f: f.read_bytes() for f in files}
    library = Library(tmp_path / "shop", author="MK")
    assert waiting(library) == files
    taken, faults = take_over(library, waiting(library), base)
    assert (taken, faults) == ([f.stem for f in files], [])
    assert [library.get(f.stem, base) for f in files] == [read_case(f, base) for f in files]
    assert {f: f.read_bytes() for f in files} == before
    assert waiting(library) == []
    assert waiting(Library(tmp_path / "shop")) == []


def test_one_that_cannot_be_read_is_named_and_waits(tmp_path: Path, base: RuleBase) -> None:
    earlier(tmp_path / "shop", 1)
    bad = tmp_path / "shop" / "bad.yaml"
    bad.write_text("defect: mold.voids\ncolour: red\n")
    library = Library(tmp_path / "shop")
    taken, faults = take_over(library, waiting(library), base)
    assert len(taken) == 1
    assert "bad.yaml:2" in faults[0]
    assert waiting(library) == [bad]
    bad.write_text("defect: mold.voids\n")
    assert take_over(library, waiting(library), base)[0] == ["bad"]


def test_two_programs_that_start_together_take_each_file_once(tmp_path: Path, base: RuleBase) -> None:
    earlier(tmp_path / "shop")
    one, other = Library(tmp_path / "shop"), Library(tmp_path / "shop")
    files = waiting(one)
    assert waiting(other) == files
    assert len(take_over(one, files, base)[0]) == 3
    assert take_over(other, files, base)[0] == []
    assert len(one.names()) == 3


def test_a_library_named_as_a_file_has_no_earlier_folder(tmp_path: Path) -> None:
    earlier(tmp_path / "shop")
    assert waiting(Library(tmp_path / "shop" / "other.db")) == []
