"""What README and DEVELOPERS say is true: every command shown runs, every file named exists."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"```sh\n(.*?)```", README, re.DOTALL)
COMMANDS = [
    line.split("   #")[0].strip().replace("CASE", "cases/14-block-soft.yaml")
    for block in BLOCKS
    for line in block.splitlines()
    if ".venv/bin/diagnose " in line and "venv .venv" not in line
] + [line.strip() for block in BLOCKS for line in block.splitlines() if line.startswith("printf")]


@pytest.mark.parametrize("command", COMMANDS)
def test_a_command_shown_runs(command: str, tmp_path: Path) -> None:
    here = command.replace(".venv/bin/diagnose", f"{shlex.quote(sys.executable)} -m diagnose")
    env = {**os.environ, "XDG_DATA_HOME": str(tmp_path), "XDG_STATE_HOME": str(tmp_path)}
    done = subprocess.run(
        ["bash", "-c", here], cwd=ROOT, capture_output=True, text=True, env=env, timeout=120, check=False
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout


def test_the_two_commands_stand_where_they_are_looked_for() -> None:
    assert len(COMMANDS) >= 8
    for mark in ("<!-- start -->", "<!-- tests -->"):
        after = README.split(mark)[1]
        assert after.lstrip().startswith("```sh\npython3 -m venv .venv && CPPFLAGS=")


def test_the_job_comes_first() -> None:
    paragraph = README.split("\n\n")[1]
    for defect in ("visible seam", "flash", "voids", "sticking", "shrink porosity"):
        assert defect in paragraph.replace("\n", " ")


@pytest.mark.parametrize(
    "path", sorted(set(re.findall(r"`((?:diagnose|rules|tests|cases)/[\w./*-]+)`", README + DEVELOPERS)))
)
def test_a_file_or_folder_named_exists(path: str) -> None:
    assert list(ROOT.glob(path)) or (ROOT / path).exists()


def test_the_rooms_named_are_the_rooms_there_are() -> None:
    named = set(re.findall(r"^\| `(\w+)/?(?:\.py)?`", DEVELOPERS, re.MULTILINE))
    there = {p.stem for p in (ROOT / "diagnose").iterdir() if not p.name.startswith("_")}
    assert there <= named
