"""A traceback goes to a file, never to a person."""

from __future__ import annotations

import tempfile
import traceback
from datetime import datetime
from pathlib import Path

from platformdirs import user_log_path


def keep_log(error: Exception) -> Path:
    """Write the details of an unforeseen error to a file and return its path."""
    text = "".join(traceback.format_exception(error))
    name = f"{datetime.now():%Y-%m-%dT%H%M%S}.txt"
    for folder in (user_log_path("second-pour", appauthor=False), Path(tempfile.gettempdir())):
        try:
            folder.mkdir(parents=True, exist_ok=True)
            (folder / name).write_text(text, encoding="utf-8")
            return folder / name
        except OSError:
            continue
    return Path(name)
