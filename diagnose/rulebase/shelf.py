"""What was read from the rules folder, put by in the user's cache as JSON of the same records.

An entry holds good for the very bytes of the files that it was read from and for the program that read them. Anything
else about it - an older key, a changed or cut file, a folder that cannot be written - means that the rules are read
again, and nothing else. Nothing but plain data is stored, and pydantic checks all of it on the way in.
"""

from __future__ import annotations

import hashlib
import os
import platform
import tempfile
from collections.abc import Iterable
from functools import cache
from pathlib import Path
from typing import TypeVar

import pydantic

import diagnose
from diagnose.model.record import Record

ROOMS = ("rulebase", "model", "units")
"""What an entry depends on beside the rules: the rooms whose code made it."""
R = TypeVar("R", bound=Record)


class Shelf:
    """A folder of entries, each under a name; none without a folder."""

    def __init__(self, folder: Path | None) -> None:
        self.folder = folder

    def take(self, name: str, key: str, kind: type[R]) -> R | None:
        """Return what was put by under a name, if it has this key and is whole."""
        if self.folder is None:
            return None
        try:
            head, _, body = (self.folder / f"{name}.json").read_bytes().partition(b"\n")
            if head.decode() != f"{key} {digest([body])}":
                return None
            return kind.model_validate_json(body)
        except (OSError, ValueError):
            return None

    def put(self, name: str, key: str, record: Record) -> None:
        """Put a record by under a name, whole or not at all; a folder that cannot be written is left alone."""
        if self.folder is None:
            return
        body = record.model_dump_json().encode()
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            handle, temporary = tempfile.mkstemp(dir=self.folder)
            try:
                with os.fdopen(handle, "wb") as file:
                    file.write(f"{key} {digest([body])}\n".encode() + body)
                os.replace(temporary, self.folder / f"{name}.json")
            except BaseException:
                Path(temporary).unlink(missing_ok=True)
                raise
        except OSError:
            return


def digest(parts: Iterable[bytes]) -> str:
    """Return the hash of some byte strings, in order and each with its length."""
    found = hashlib.blake2b(digest_size=20)
    for part in parts:
        found.update(len(part).to_bytes(8, "little"))
        found.update(part)
    return found.hexdigest()


@cache
def program() -> bytes:
    """Return what tells this program from another version of it: size and time of the files that do the reading."""
    here = Path(diagnose.__file__).parent
    found = (entry for room in ROOMS for entry in os.scandir(here / room) if entry.name.endswith(".py"))
    marks = sorted(f"{e.path} {e.stat().st_size} {e.stat().st_mtime_ns}" for e in found)
    return "\n".join((platform.python_version(), pydantic.VERSION, *marks)).encode()


def shelf_for(cache_folder: Path, rules: Path) -> Shelf:
    """Return the shelf of a rules folder below the user's cache."""
    return Shelf(cache_folder / "rules" / digest([str(rules.resolve()).encode()])[:16])
