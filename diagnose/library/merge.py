"""Two libraries into one: cases of the other are taken in, and the same case is told by its number drawn at random.

Of a case in both, the later state wins: the one that has the other among its earlier revisions. Where both were
changed, ours stays and the report names it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from sqlalchemy import insert, select

from diagnose.errors import BadInput
from diagnose.library import tables as t
from diagnose.library.intake import Intake, Manner, Report, alike
from diagnose.library.kept import Kept, from_json
from diagnose.library.lines import Read
from diagnose.library.store import Library


def merge(library: Library, other: Library, manner: Manner, progress: Callable[[int], None] | None = None) -> Report:
    """Take every case of another library in and return what came of it."""
    if library.place == other.place:
        raise BadInput("a library cannot be merged into itself.", where=library.shown, next_step="Name another one.")
    if not other.database.exists:
        raise BadInput("there is no library.", where=other.shown, next_step="Check the name.")
    if not manner.dry:
        _pictures(library, other)

    def later(ours: Kept, theirs: Kept) -> bool:
        return _was_once(other, theirs, ours)

    return Intake(library, replace(manner, what="merge"), progress, later).take(_cases(other))


def _cases(other: Library) -> Iterator[Read]:
    for kept in other.everything():
        yield kept.name, kept


def _was_once(other: Library, theirs: Kept, ours: Kept) -> bool:
    """Say whether ours is an earlier state of theirs."""
    before = (text for _, text in other.revisions(theirs.name) if text)
    return any(alike(from_json(text), ours) for text in before)


def _pictures(library: Library, other: Library) -> None:
    """Copy the pictures first: a picture that no case names does no harm, a case without its picture would."""
    with other.database.read() as theirs:
        for digest in theirs.execute(select(t.pictures.c.digest)).scalars().all():
            with library.database.read() as ours:
                if ours.execute(select(t.pictures.c.digest).where(t.pictures.c.digest == digest)).first():
                    continue
            row = dict(theirs.execute(select(t.pictures).where(t.pictures.c.digest == digest)).mappings().one())
            library.database.write(lambda conn, change: conn.execute(insert(t.pictures), [row]))  # noqa: B023
