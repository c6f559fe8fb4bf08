"""A process of its own for what may take its process down."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

Child = Callable[..., tuple[int, str]]


@pytest.fixture
def child() -> Child:
    """Return a function that runs Python code apart and gives the exit code (minus the signal) and the output."""

    def run(code: str, **environment: str) -> tuple[int, str]:
        done = subprocess.run(
            [sys.executable, "-c", code],
            capture_output=True,
            text=True,
            env={**os.environ, **environment},
            cwd=Path(__file__).parents[2],
            timeout=120,
            check=False,
        )
        return done.returncode, (done.stdout + done.stderr).strip()

    return run
