"""Writing a file so that a power cut leaves the old one or the new one, never half of either."""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Iterable
from pathlib import Path

from diagnose.errors import StoreError


def write_whole(path: Path, text: str | bytes) -> None:
    """Write a file atomically and durably; raise StoreError with what to do when it cannot be written."""
    write_lines(path, (text,))


def write_lines(path: Path, lines: Iterable[str | bytes]) -> int:
    """Write a file piece by piece, atomically and durably, and return how many pieces; on an error nothing is there."""
    temporary, count = "", 0
    try:
        path = Path(os.path.realpath(path))  # what a link points to is written, the link stays
        if path.exists() and not path.is_file():
            raise OSError("it is no file")
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=".new-", suffix=path.suffix)
        with os.fdopen(handle, "wb") as file:
            for line in lines:
                file.write(line if isinstance(line, bytes) else line.encode())
                count += 1
            file.flush()
            os.fsync(file.fileno())
        os.replace(temporary, path)
        temporary = ""
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise StoreError(
            f"cannot be written ({reason}).", where=str(path),
            next_step="Check the name and the free space, or name another place.",
        ) from None  # fmt: skip
    finally:
        with contextlib.suppress(OSError):
            if temporary:
                os.unlink(temporary)
    return count
