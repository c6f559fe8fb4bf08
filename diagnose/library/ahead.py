"""The process that reads and checks a large file ahead of the one that writes; started by `lines.py` alone."""

from __future__ import annotations

import gc
import pickle
import signal
import sys
from collections.abc import Iterable, Iterator
from typing import Any, BinaryIO

from diagnose.errors import BadInput
from diagnose.library.kept import from_json
from diagnose.library.leaf import leaf_of
from diagnose.library.lines import parts, plain

Item = tuple[str, tuple[Any, ...] | None, bytes]
"""Where a case stands, the case as plain values (none when it cannot be used), and its line."""


def main(path: str) -> None:
    """Write what the lines of a file hold to standard output, a part at a time."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the process that writes decides when to stop
    gc.disable()
    with open(path, "rb") as file:
        write_ahead(file, sys.stdout.buffer)


def write_ahead(lines: Iterable[bytes], out: BinaryIO) -> None:
    """Write parts of cases, each with the number of lines read so far and the place where the next one begins."""
    at = [0, 0]
    for part in parts(_items(lines, at)):
        out.write(pickle.dumps((part, *at), protocol=5))
        out.flush()


def _items(lines: Iterable[bytes], at: list[int]) -> Iterator[Item]:
    for line in lines:
        at[0] += 1
        at[1] += len(line)
        text = plain(line)
        if not text:
            continue
        try:
            yield f"line {at[0]}", tuple(leaf_of(from_json(text))), text
        except BadInput:
            yield f"line {at[0]}", None, text


if __name__ == "__main__":
    try:
        main(sys.argv[1])
    except BrokenPipeError:
        sys.stderr.close()
