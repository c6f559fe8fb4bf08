"""Many programs that write into one library at the same time, and what must be there after."""

from __future__ import annotations

import multiprocessing
import os
import time
from typing import NamedTuple

from sqlalchemy import text

from diagnose.errors import DiagnoseError
from diagnose.library import life
from diagnose.library.store import Library
from tests.library.invented import CAUSES, a_case


class Written(NamedTuple):
    """What many writers came to."""

    seconds: float
    slowest: float
    """The longest that one of them waited for one change. [s]"""
    told: int
    """How often somebody was told that the library is busy."""


def write(named: str, writer: int, count: int, pipe: int) -> None:
    """Keep cases one by one, confirm each second one, and say how it went."""
    told = 0

    def busy() -> None:
        nonlocal told
        told += 1

    library = Library(named, author=f"W{writer}", waiting=busy)
    slowest, message = 0.0, ""
    try:
        for i in range(count):
            start = time.perf_counter()
            name = library.add([a_case(part=f"{writer}/{i}", observations={f"seen by {writer}": str(i % 7)})])[0].name
            if i % 2:
                library.change(name, "confirm", lambda k, n=i: life.confirmed(k, [CAUSES[n % 3]], ""))  # type: ignore[misc]
            slowest = max(slowest, time.perf_counter() - start)
    except DiagnoseError as error:
        message = error.message()
    os.write(pipe, f"{slowest}\t{told}\t{message}\n".encode())
    library.close()


def write_together(named: str, writers: int, count: int) -> Written:
    """Let writers work at the same time, check that nothing was lost or doubled, and return how it went."""
    out, into = os.pipe()
    fork = multiprocessing.get_context("fork")
    start = time.perf_counter()
    children = [fork.Process(target=write, args=(named, w, count, into), daemon=True) for w in range(writers)]
    for child in children:
        child.start()
    os.close(into)
    with os.fdopen(out, encoding="utf-8") as lines:
        said = [line.rstrip("\n").split("\t") for line in lines]
    for child in children:
        child.join()
    seconds = time.perf_counter() - start
    assert [child.exitcode for child in children] == [0] * writers
    assert [message for _, _, message in said] == [""] * writers
    check(named, writers, count)
    return Written(seconds, max(float(s) for s, _, _ in said), sum(int(n) for _, n, _ in said))


def check(named: str, writers: int, count: int) -> None:
    """Compare what is there with what was written."""
    library = Library(named)
    kepts = list(library.everything())
    wanted = {f"{w}/{i}" for w in range(writers) for i in range(count)}
    assert len(kepts) == writers * count
    assert {k.part for k in kepts} == wanted
    assert len({k.name for k in kepts}) == len({k.uid for k in kepts}) == len(kepts)
    for kept in kepts:
        writer, i = kept.part.split("/")
        assert kept.author == ""
        assert kept.observations == {f"seen by {writer}": str(int(i) % 7)}
        assert kept.confirmed == ((CAUSES[int(i) % 3],) if int(i) % 2 else ())
    with library.database.read() as conn:
        counted = conn.execute(text("SELECT sum(confirmed) FROM cause_counts")).scalar()
        numbers = list(conn.execute(text("SELECT id FROM changes ORDER BY id")).scalars())
    assert counted == sum(1 for k in kepts if k.confirmed)
    assert numbers == sorted(set(numbers))
    assert len(numbers) == len(kepts) + sum(1 for k in kepts if k.confirmed)
    library.close()
