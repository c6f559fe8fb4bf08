"""Cases and drafts on disk: what is kept comes back, whatever happens in between."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from diagnose.errors import BadInput, StoreError
from diagnose.library import Draft, Library
from diagnose.model.case import Case
from diagnose.rulebase.load import RuleBase


def test_a_case_comes_back_as_it_was_kept(tmp_path: Path, base: RuleBase) -> None:
    library = Library(tmp_path)
    case = Case(
        part="ring \x1b[31m: [x] # 3", defect="mold.visible-seam", observations={"squeeze-out": "none"}, notes="a: b\nc"
    )
    name = library.save(case)
    assert library.get(name, base).observations == case.observations
    assert library.names() == [name]


def test_two_cases_of_a_day_do_not_overwrite_each_other(tmp_path: Path) -> None:
    library = Library(tmp_path)
    case = Case(defect="mold.visible-seam", date="2026-01-02")
    assert library.save(case) != library.save(case)
    assert len(library.names()) == 2


def test_a_name_cannot_lead_out_of_the_library(tmp_path: Path, base: RuleBase) -> None:
    with pytest.raises(BadInput, match="there is no case"):
        Library(tmp_path).get("../../etc/passwd", base)


def test_a_broken_draft_never_stops_the_main_job(tmp_path: Path) -> None:
    draft = Draft(tmp_path)
    for content in ("", "{", "[]", '{"told": 3}', "\x00"):
        draft.path.write_text(content)
        assert draft.found() == []
    draft.keep([("defect", "mold.voids"), ("squeeze-out", "none")])
    assert draft.found() == [("defect", "mold.voids"), ("squeeze-out", "none")]
    draft.drop()
    assert draft.found() == []


def test_a_folder_that_cannot_be_written_is_named(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(StoreError, match="cannot be written") as caught:
        Library(tmp_path / "file" / "below").save(Case(defect="mold.voids"))
    assert "--library" in caught.value.next_step


def test_a_draft_killed_while_writing_is_the_old_or_the_new_one(tmp_path: Path) -> None:
    code = (
        "import sys; from pathlib import Path; from diagnose.library import Draft\n"
        "d = Draft(Path(sys.argv[1])); n = 0\n"
        "while True:\n    n += 1; d.keep([('defect', 'x'), ('count', str(n))] * 50); print(n, flush=True)"
    )
    for _ in range(5):
        with subprocess.Popen([sys.executable, "-c", code, str(tmp_path)], stdout=subprocess.PIPE, text=True) as child:
            assert child.stdout is not None
            kept = 0
            for line in child.stdout:
                kept = int(line)
                if kept >= 7:
                    break
            os.kill(child.pid, signal.SIGKILL)
        told = Draft(tmp_path).found()
        assert len(told) == 100
        assert int(told[1][1]) >= kept
