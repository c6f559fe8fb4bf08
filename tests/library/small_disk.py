"""A small disk of our own, to be filled or made read-only; only where the system lets us mount one."""

from __future__ import annotations

import contextlib
import os
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest


@contextlib.contextmanager
def small_disk(folder: Path, kilobytes: int) -> Iterator[Path]:
    """Mount a memory disk of this size on a folder, and take it away after."""
    if os.geteuid() != 0 or not shutil.which("mount"):
        pytest.skip("only root can mount a small disk")
    folder.mkdir()
    done = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", f"size={kilobytes}k", "tmpfs", str(folder)], capture_output=True, check=False
    )
    if done.returncode:
        pytest.skip(f"no small disk can be mounted here: {done.stderr.decode().strip()}")
    try:
        yield folder
    finally:
        subprocess.run(["umount", "-l", str(folder)], check=False, capture_output=True)


def make_read_only(folder: Path) -> None:
    subprocess.run(["mount", "-o", "remount,ro", str(folder)], check=True, capture_output=True)
