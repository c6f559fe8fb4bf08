"""Cases out of a file of JSON Lines; those of a large file are read and checked by a process of their own.

Reading and checking takes about as long as writing, so the two together take half the time. That process is only quick:
where it cannot be started, or comes to an end before the file does, the rest is read here.
"""

from __future__ import annotations

import os
import pickle
import subprocess
import sys
from collections.abc import Generator, Iterable, Iterator
from io import BufferedReader
from itertools import islice
from pathlib import Path
from typing import NamedTuple, TypeVar

import diagnose
from diagnose.errors import BadInput
from diagnose.library.kept import Kept, from_json
from diagnose.library.leaf import Leaf, leaf_of

T = TypeVar("T")
SUFFIXES = (".jsonl", ".ndjson", ".json")
"""Names of JSON Lines end so; where a name ends otherwise, the first line must look like one."""
LARGE = 4_000_000
"""From how many bytes on another process pays. [bytes]"""
FIRST_PART, PART = 500, 10_000
"""How many cases are read, and written in one transaction, at first and in the end.

The first ones are few, so that writing begins while the rest is read.
"""


class Ready(NamedTuple):
    """A case that is read and checked, and what it was read from."""

    leaf: Leaf
    source: Kept | bytes

    @property
    def kept(self) -> Kept:
        """Return the case."""
        return self.source if isinstance(self.source, Kept) else from_json(self.source)

    @classmethod
    def of(cls, kept: Kept) -> Ready:
        """Return a case that is at hand."""
        return cls(leaf_of(kept), kept)


Read = tuple[str, Kept | Ready | BadInput]
"""Where something stands (`line 7`) and the case that it holds, or why it holds none."""


def lines_of(path: Path) -> Iterator[Read]:
    """Yield the cases of a file of JSON Lines; raise BadInput when it cannot be opened."""
    try:
        with path.open("rb") as file:
            if path.suffix.lower() not in SUFFIXES:
                _refuse_another_kind(file, path)
            done = 0
            if os.fstat(file.fileno()).st_size >= LARGE and _processors() > 1:
                done, place = yield from _ahead(path)
                file.seek(place)
            yield from numbered(file, done)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise BadInput(f"cannot be read ({reason}).", where=str(path), next_step="Check the name.") from None


def _refuse_another_kind(file: BufferedReader, path: Path) -> None:
    """Raise BadInput when a file whose name tells nothing does not begin as JSON Lines do."""
    begin = plain(plain(file.peek()))
    if begin and not begin.startswith(b"{"):
        raise BadInput(
            "holds neither JSON Lines nor a sheet nor a case.", where=str(path),
            next_step="Save a sheet as .csv, a case as .yaml; JSON Lines begin with '{'.",
        )  # fmt: skip


def parts(items: Iterable[T]) -> Iterator[list[T]]:
    """Yield parts of what is read, each twice as long as the one before up to `PART`."""
    reading, size = iter(items), FIRST_PART
    while part := list(islice(reading, size)):
        yield part
        size = min(2 * size, PART)


def numbered(lines: Iterable[bytes], done: int = 0) -> Iterator[tuple[str, Kept | BadInput]]:
    """Yield the cases of JSON Lines, each with its line number; empty lines are passed over."""
    for number, line in enumerate(lines, done + 1):
        text = plain(line)
        if text:
            yield f"line {number}", _case(text)


def plain(line: bytes) -> bytes:
    """Return a line without what stands around its text."""
    return line.strip().removeprefix(b"\xef\xbb\xbf")


def _case(text: bytes) -> Kept | BadInput:
    try:
        return from_json(text)
    except BadInput as error:
        return error


def _ahead(path: Path) -> Generator[Read, None, tuple[int, int]]:
    """Yield what another process reads of a file; return how many lines that was, and where the next one begins."""
    done = place = 0
    try:
        reader = _started(path)
    except OSError:
        return done, place
    try:
        assert reader.stdout is not None
        while True:
            part, done, place = pickle.load(reader.stdout)
            for where, good, text in part:
                yield where, Ready(Leaf._make(good), text) if good else _case(text)
    except (EOFError, pickle.UnpicklingError):
        return done, place
    finally:
        reader.kill()
        reader.communicate()


def _started(path: Path) -> subprocess.Popen[bytes]:
    home = str(Path(diagnose.__file__).absolute().parents[1])
    search = os.pathsep.join((home, *filter(None, [os.environ.get("PYTHONPATH")])))
    return subprocess.Popen(
        [sys.executable, "-P", "-m", "diagnose.library.ahead", str(path.absolute())], stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, env={**os.environ, "PYTHONPATH": search},
    )  # fmt: skip


def _processors() -> int:
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
