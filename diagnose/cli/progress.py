"""A bar for work that takes a while; on a terminal only, and gone when the work is done."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager


@contextmanager
def progress(title: str, total: int | None) -> Iterator[Callable[[int], None]]:
    """Give a function to call with how much more was done; where nobody knows of how much, it is counted up."""
    if not sys.stderr.isatty():
        yield lambda more: None
        return
    from rich.console import Console
    from rich.progress import Progress

    with Progress(console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task(title, total=total)

        def more(count: int) -> None:
            bar.advance(task, count)
            if total is None:
                bar.update(task, description=f"{title}: {bar.tasks[task].completed:.0f}")

        yield more
