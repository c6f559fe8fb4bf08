"""The installed command on a real (pseudo) terminal: answering, leaving, coming back, narrow and plain screens."""

from __future__ import annotations

import os
import re
import sys
from pathlib import Path

import pexpect
import pytest

ROOT = Path(__file__).resolve().parent.parent.parent
PROMPT = r">(?:\x1b\[0m)? ?"


def start(home: Path, columns: int = 80, **env: str) -> pexpect.spawn:
    where = {f"XDG_{n}_HOME": str(home / n) for n in ("DATA", "STATE", "CACHE", "CONFIG")}
    settings = {**os.environ, "TERM": "xterm", "PROMPT_TOOLKIT_NO_CPR": "1", **where, **env}
    for name in ("COLUMNS", "LINES"):
        settings.pop(name, None)
    return pexpect.spawn(
        sys.executable,
        ["-m", "diagnose"],
        cwd=str(ROOT),
        env=settings,
        dimensions=(30, columns),
        encoding="utf-8",
        timeout=60,
    )


def begin(home: Path, columns: int = 80, **env: str) -> pexpect.spawn:
    child = start(home, columns, **env)
    child.expect("What is wrong")
    child.expect(PROMPT)
    child.send("defect = mold.visible-seam\r")
    child.expect("  1  ")
    return child


def test_a_person_answers_and_gets_a_diagnosis_that_is_kept(tmp_path: Path) -> None:
    child = begin(tmp_path)
    child.send("squeeze-out = none\r")
    child.expect("squeeze-out: none")
    child.send("done\r")
    child.expect("LIKELY CAUSES")
    child.expect("Kept as")
    child.expect(pexpect.EOF)
    child.close()
    assert child.exitstatus == 0
    assert list((tmp_path / "DATA").rglob("*.db"))
    assert not list((tmp_path / "STATE").rglob("unfinished.json"))


@pytest.mark.parametrize("ending", ["ctrl-c", "kill"])
def test_an_interview_cut_short_is_offered_again_with_its_answers(ending: str, tmp_path: Path) -> None:
    child = begin(tmp_path)
    child.send("squeeze-out = none\r")
    child.expect("squeeze-out: none")
    child.expect(PROMPT)
    if ending == "ctrl-c":
        child.send("\x03")
        child.expect("are kept")
        child.expect(pexpect.EOF)
        child.close()
        assert child.exitstatus == 130
    else:
        child.kill(9)
        child.close(force=True)
    again = start(tmp_path)
    again.expect("unfinished case")
    again.expect(PROMPT)
    again.send("yes\r")
    again.expect(PROMPT)
    again.send("show\r")
    again.expect("squeeze-out: none")
    again.close(force=True)


def test_at_forty_columns_no_line_is_longer(tmp_path: Path) -> None:
    child = begin(tmp_path, columns=40, NO_COLOR="1")
    child.send("done\r")
    child.expect(pexpect.EOF)
    text = re.sub(r"\x1b\[[0-9;?]*[a-zA-Z]", "", child.before)
    assert "LIKELY CAUSES" in text
    result = text[text.index("WHAT THE EVIDENCE") : text.index("Kept as")]
    assert max(len(line) for line in result.splitlines()) <= 40


def test_without_colour_no_colour_is_sent(tmp_path: Path) -> None:
    child = begin(tmp_path, NO_COLOR="1")
    child.send("done\r")
    child.expect(pexpect.EOF)
    assert not re.search(r"\x1b\[(3|4|9|10)[0-9]m", child.before[child.before.index("WHAT THE EVIDENCE") :])


@pytest.mark.parametrize("env", [{"TERM": "dumb"}, {"ACCESSIBLE": "1"}])
def test_a_simple_terminal_gets_numbered_questions_and_no_redraw(env: dict[str, str], tmp_path: Path) -> None:
    child = start(tmp_path, **env)
    child.expect(PROMPT)
    child.sendline("defect = mold.visible-seam")
    child.expect("  1  ")
    child.expect(PROMPT)
    child.sendline("done")
    child.expect("LIKELY CAUSES")
    child.expect(pexpect.EOF)
    assert "\x1b" not in child.before
