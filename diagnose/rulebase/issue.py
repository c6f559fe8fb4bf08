"""What the checker finds: a value, not a print."""

from __future__ import annotations

from typing import NamedTuple


class Issue(NamedTuple):
    """One thing wrong in a file: where, what, and what to do."""

    file: str
    line: int
    id: str
    what: str
    remedy: str = ""

    def text(self) -> str:
        """Return the issue as one line."""
        name = f" {self.id}:" if self.id else ""
        return f"{self.file}:{self.line}:{name} {self.what} {self.remedy}".rstrip()
