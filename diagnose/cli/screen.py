"""Puts lines on standard output: styled on a terminal that wants it, plain anywhere else."""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Callable, Iterable

from diagnose.report.screen_lines import Line

STYLES = {"head": "bold", "strong": "bold", "faint": "dim", "plain": ""}


def width() -> int:
    """Return how wide the output may be."""
    return shutil.get_terminal_size((80, 24)).columns - 1 if sys.stdout.isatty() else 80


def put(make: Callable[[int], Iterable[Line]]) -> None:
    """Write lines made for the width at hand. Text is never read as markup."""
    lines = list(make(width()))
    if not sys.stdout.isatty() or os.environ.get("ACCESSIBLE"):
        sys.stdout.writelines(line.text + "\n" for line in lines)
        return
    from rich.console import Console
    from rich.text import Text

    console = Console(highlight=False, markup=False, emoji=False, soft_wrap=True)
    for line in lines:
        console.print(Text(line.text, style=STYLES[line.style]))
