"""Writing a file so that a power cut leaves the old one or the new one, never half of either."""

from __future__ import annotations

import contextlib
import os
import tempfile
from pathlib import Path

from diagnose.errors import StoreError


def write_whole(path: Path, text: str | bytes) -> None:
    """Write a file atomically and durably; raise StoreError with what to do when it cannot be written."""
    temporary = ""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=".new-", suffix=path.suffix)
        with os.fdopen(handle, "wb") as file:
            file.write(text if isinstance(text, bytes) else text.encode())
            file.flush()
            os.fsync(file.fileno())
        os.replace(temporary, path)
    except OSError as error:
        with contextlib.suppress(OSError):
            if temporary:
                os.unlink(temporary)
        reason = (error.strerror or str(error)).lower()
        raise StoreError(
            f"cannot be written ({reason}).", where=str(path),
            next_step="Free some space or name another folder with --library DIR.",
        ) from None  # fmt: skip
