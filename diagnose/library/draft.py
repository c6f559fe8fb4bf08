"""The unfinished interview, on disk after every answer, so that a crash or a power cut loses nothing."""

from __future__ import annotations

import json
from pathlib import Path

from platformdirs import user_state_path

from diagnose.library.files import write_whole


class Draft:
    """The lines told so far in an interview that has not been finished."""

    def __init__(self, folder: Path | None = None) -> None:
        self.path = (folder or user_state_path("second-pour", appauthor=False)) / "unfinished.json"

    def keep(self, told: list[tuple[str, str]]) -> None:
        """Write the (name, answer) pairs told so far."""
        write_whole(self.path, json.dumps({"told": told}, ensure_ascii=False, indent=1))

    def found(self) -> list[tuple[str, str]]:
        """Return what an unfinished interview had been told; nothing when there is none or it cannot be read."""
        try:
            told = json.loads(self.path.read_text(encoding="utf-8"))["told"]
            return [(str(name), str(answer)) for name, answer in told]
        except (OSError, ValueError, KeyError, TypeError):
            return []

    def drop(self) -> None:
        """Remove it: the interview was finished or thrown away."""
        self.path.unlink(missing_ok=True)
