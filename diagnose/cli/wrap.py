"""Text for a person: broken between words on a terminal, as it is anywhere else."""

from __future__ import annotations

import shutil
import sys
import textwrap
from typing import TextIO

NARROWEST = 30


def wrapped(text: str, stream: TextIO, rest: str = "") -> str:
    """Return a text as it goes to a stream; on a terminal the further lines of each line begin with `rest`."""
    if not stream.isatty():
        return text
    width = max(shutil.get_terminal_size().columns - 1, NARROWEST)
    lines = []
    for line in text.split("\n"):
        start = line[: len(line) - len(line.lstrip(" "))]
        lines += textwrap.wrap(
            line.strip(" "), width, break_long_words=False, break_on_hyphens=False,
            initial_indent=start, subsequent_indent=start + rest,
        ) or [""]  # fmt: skip
    return "\n".join(lines)


def say(text: str) -> None:
    """Write one line to standard output; no control character of a case reaches the terminal."""
    from diagnose.model.clean import clean

    sys.stdout.write(wrapped(clean(text), sys.stdout, rest="  ") + "\n")


def tell(text: str) -> None:
    """Write to standard error, beside the output, in the same way; the text may have several lines."""
    from diagnose.model.clean import clean

    sys.stderr.write(wrapped(clean(text, keep_lines=True), sys.stderr) + "\n")
