"""A program that works on a library and is killed at any moment; and what must be true of the library after.

The worker says what it is about to do, does it, and says that it is done. Killed, it has at most one thing under way: that
must be there whole or not at all, and everything it said was done must be there.
"""

from __future__ import annotations

import json
import multiprocessing
import os
import random
import signal
import threading
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import text

from diagnose.library import counts, life, lines
from diagnose.library.intake import Intake, Manner
from diagnose.library.kept import Kept, from_json
from diagnose.library.lines import numbered
from diagnose.library.read import stream
from diagnose.library.store import Library
from tests.library.invented import CAUSES, a_case

PART = 25
"""How many cases an import writes at once here, so that kills fall between parts too."""
FROM_START = 0.2
"""Share of the workers that are killed while they open the library, or soon after."""
KINDS = ("add", "trial", "confirm", "import")


def case(chance: random.Random) -> Kept:
    return a_case(
        uid=f"{chance.getrandbits(128):032x}", part=f"part {chance.random()}", opened_at="2026-01-01T00:00:00Z"
    )


def work(named: str, seed: int, pipe: int) -> None:
    """Work until killed, saying each step before and after."""
    chance = random.Random(seed)
    library = Library(named, author="W")
    lines.FIRST_PART = lines.PART = PART

    def say(**what: object) -> None:
        os.write(pipe, (json.dumps(what) + "\n").encode())

    say(ready=True)
    mine: list[str] = []
    while True:
        kind = chance.choice(KINDS) if mine else "add"
        if kind == "add":
            kept = case(chance)
            say(about=kind, cases=[kept.to_json()])
            mine.append(library.add([kept])[0].name)
            say(done=True)
        elif kind == "import":
            read = numbered(feed([case(chance) for _ in range(PART * 3)], say))
            Intake(library, Manner(), lambda count: say(done=True)).take(read)
        else:
            name = chance.choice(mine)
            after = step(library.kept(name), kind, chance)
            say(about=kind, after=after.to_json())
            library.change(name, kind, lambda k, a=after: a)  # type: ignore[misc]
            say(done=True)


def feed(kepts: list[Kept], say: Callable[..., None]) -> Iterator[bytes]:
    """Yield the lines of an import, saying of each part that it is about to be written."""
    for i in range(0, len(kepts), PART):
        part = [k.to_json() for k in kepts[i : i + PART]]
        say(about="import", cases=part, changes=int(i == 0))  # all its parts are one change
        yield from (line.encode() for line in part)


def step(before: Kept, kind: str, chance: random.Random) -> Kept:
    """Return the case one step on; never as it was, or nobody could tell from it whether the step was done."""
    if kind == "trial":
        return life.with_trial(before, {"changed": f"try {chance.random()}", "result": "better"})
    after = before
    while after == before:
        after = life.confirmed(before, [chance.choice(CAUSES)], chance.choice(("", "a hose")))
    return after


@dataclass
class Expected:
    """What the library must hold: each case by its number, without its name; and how many changes were made."""

    cases: dict[str, Kept] = field(default_factory=dict)
    changes: int = 0
    kinds: dict[str, int] = field(default_factory=dict)
    """In the middle of what the worker was killed."""

    def take(self, said: dict[str, Any]) -> None:
        """Take in what a step does."""
        for line in said.get("cases") or [said["after"]]:
            kept = nameless(from_json(line))
            self.cases[kept.uid] = kept
        self.changes += said.get("changes", 1)


def nameless(kept: Kept) -> Kept:
    return kept.model_copy(update={"name": ""})


def kill_once(named: str, seed: int, expected: Expected, delay: float, from_start: bool) -> None:
    """Let a worker work, kill it after a while, and check the library against what it had said.

    The while begins when the worker starts, or with the first thing that it has done: on a busy machine it may take
    longer to open the library than it is left alive.
    """
    out, into = os.pipe()
    child = multiprocessing.get_context("fork").Process(target=work, args=(named, seed, into), daemon=True)
    child.start()
    os.close(into)
    timer: threading.Timer | None = None
    under_way: dict[str, Any] | None = None
    with os.fdopen(out, "rb") as pipe:
        for line in pipe:
            if not line.endswith(b"\n"):
                break  # killed while speaking
            said = json.loads(line)
            if "about" in said:
                under_way = said
            elif "done" in said:
                assert under_way is not None
                expected.take(under_way)
                under_way = None
            if timer is None and ("ready" if from_start else "done") in said:
                assert child.pid is not None
                timer = threading.Timer(delay, os.kill, (child.pid, signal.SIGKILL))
                timer.start()
    child.join()
    assert timer is not None, "the worker died by itself"
    timer.join()
    assert child.exitcode == -signal.SIGKILL, f"the worker ended by itself: {child.exitcode}"
    check(Library(named, author="W"), expected, under_way)


def check(library: Library, expected: Expected, under_way: dict[str, Any] | None) -> None:
    """Compare the library with what must be there; what was under way is there whole or not at all."""
    # Waits for a server that is still busy with what the dead worker had sent.
    library.database.write(lambda conn, change: None)
    found = {k.uid: nameless(k) for k in library.everything()}
    if under_way is None:
        expected.kinds["between"] = expected.kinds.get("between", 0) + 1
    else:
        expected.kinds[under_way["about"]] = expected.kinds.get(under_way["about"], 0) + 1
        if found != expected.cases:
            expected.take(under_way)
    missing = expected.cases.keys() - found.keys()
    assert found == expected.cases, f"{len(missing)} missing, {len(found.keys() - expected.cases.keys())} too many"
    with library.database.read() as conn:
        assert conn.execute(text("SELECT count(*) FROM changes")).scalar() == expected.changes
        orphans = conn.execute(text("SELECT count(*) FROM facts WHERE case_id NOT IN (SELECT id FROM cases)")).scalar()
        assert orphans == 0
        steady = counts.counted(conn)
        if conn.dialect.name == "sqlite":
            assert conn.execute(text("PRAGMA integrity_check")).scalar() == "ok"
    library.database.write(lambda conn, change: _recount(conn, library))
    with library.database.read() as conn:
        assert counts.counted(conn) == steady
    library.close()


def _recount(conn: Any, library: Library) -> None:
    rows = list(stream(conn, library.database.words))
    counts.recount(conn, library.database.words, ((r.kept, r.shop) for r in rows))


def kills(named: str, count: int, seed: int, most: float, tell: Callable[[int], None] = lambda n: None) -> Expected:
    """Kill so many workers, each after up to so many seconds; return what is there in the end."""
    chance = random.Random(seed)
    expected = Expected()
    for i in range(count):
        kill_once(named, chance.getrandbits(32), expected, chance.uniform(0.0, most), chance.random() < FROM_START)
        tell(i + 1)
    return expected
