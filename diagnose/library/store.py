"""The case library as the rest of the program sees it."""

from __future__ import annotations

import importlib.metadata
from collections.abc import Callable, Iterable, Iterator
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from sqlalchemy import Connection, select

from diagnose.errors import BadInput
from diagnose.library import history
from diagnose.library import tables as t
from diagnose.library.connect import Database
from diagnose.library.find import Line, Wanted, find, how_many, numbers
from diagnose.library.history import Change
from diagnose.library.kept import Kept, Said, checked, from_json
from diagnose.library.leaf import Leaf, fingerprint, leaf_of
from diagnose.library.place import place
from diagnose.library.read import load, stream
from diagnose.library.sheaf import Entry, Row
from diagnose.library.write import Writer
from diagnose.model.case import Case
from diagnose.model.diagnosis import Diagnosis
from diagnose.rulebase.load import RuleBase

if TYPE_CHECKING:
    from diagnose.library.upgrade import Shown

T = TypeVar("T")


def clock() -> str:
    """Return the time now as it is kept: UTC, to the second."""
    return f"{datetime.now(UTC):%Y-%m-%dT%H:%M:%SZ}"


@cache
def program() -> str:
    """Return the version of this program."""
    try:
        return importlib.metadata.version("second-pour")[:20]
    except importlib.metadata.PackageNotFoundError:
        return ""


class Library:
    """Cases in a SQLite file or a PostgreSQL database. Every method is one whole transaction or none."""

    def __init__(
        self, named: str | Path | None = None, *, author: str = "", now: Callable[[], str] = clock,
        waiting: Callable[[], None] | None = None, upgrading: Shown | None = None,
    ) -> None:  # fmt: skip
        self.place = place(named)
        self.database = Database(self.place, waiting, upgrading)
        self.author, self.now = author, now

    @property
    def shown(self) -> str:
        """Return where the library lies, without a password."""
        return self.place.shown

    def save(self, case: Case, name: str = "", diagnosis: Diagnosis | None = None) -> str:
        """Keep a case, with what was said of it, and return its name; the case of that name is told anew."""
        kept = Kept.of(case, Said.of(diagnosis, self.now()) if diagnosis else None, self.author)
        if name and self.has(name):
            return self.change(name, "tell", lambda before: before.told_anew(kept)).name
        return self.add([kept.model_copy(update={"name": name})])[0].name

    def has(self, name: str) -> bool:
        """Say whether there is a case of this name."""
        with self.database.read() as conn:
            return conn.execute(select(t.cases.c.id).where(t.cases.c.name == name)).first() is not None

    def add(self, kepts: Iterable[Kept], what: str = "add") -> list[Kept]:
        """Keep new cases and return them as they are kept."""
        many = list(kepts)

        def work(conn: Connection, change: int) -> list[Kept]:
            entries = self.put(conn, [leaf_of(kept) for kept in many])
            self.note(conn, change, what)
            history.note_cases(conn, change, ((e.id, 1, None) for e in entries))
            as_kept = ({"name": e.name, "uid": e.uid, "opened_at": e.opened_at} for e in entries)
            return [kept.model_copy(update=named) for kept, named in zip(many, as_kept, strict=True)]

        return self.database.write(work) if many else []

    def change(
        self, name: str, what: str, how: Callable[[Kept], Kept], also: Callable[[Connection], None] | None = None
    ) -> Kept:
        """Change one case by a function of what it is, and return what it became; `also` goes with it or not at all."""

        def work(conn: Connection, change: int) -> Kept:
            before = self.row(conn, name)
            after = checked(dict(how(before.kept)))
            self.note(conn, change, what)
            history.note_cases(conn, change, [(before.id, before.revision + 1, before.kept.to_json())])
            if also:
                also(conn)
            writer = self.writer(conn)
            writer.replace(before, after)
            writer.finish()
            return after

        return self.database.write(work)

    def forget(self, name: str, for_good: bool = False) -> Kept:
        """Take a case out; it can be brought back by undo unless it is forgotten for good, history and all."""

        def work(conn: Connection, change: int) -> Kept:
            if for_good and conn.dialect.name == "sqlite":
                conn.exec_driver_sql("PRAGMA secure_delete = ON")
            before = self.row(conn, name)
            writer = self.writer(conn)
            writer.remove([before])
            writer.finish()
            self.note(conn, change, "erase" if for_good else "forget")
            if for_good:
                seen = [before.kept, *(from_json(text) for _, text in history.of_case(conn, before.id) if text)]
                history.erase(conn, before.id)
                history.erase_pictures(conn, {photo.digest for kept in seen for photo in kept.photos if photo.digest})
            else:
                history.note_cases(conn, change, [(before.id, before.revision + 1, before.kept.to_json())])
            return before.kept

        return self.database.write(work)

    def undo(self, back: bool = False) -> Change:
        """Take back the author's last change and return it; going back, bring again what their last undo took back."""

        def work(conn: Connection, change: int) -> Change:
            last = history.last_change(conn, self.author, back)
            self.note(conn, change, history.REDO if back else history.UNDO, last.id)
            writer = self.writer(conn)
            done = history.undo(conn, self.database.words, writer, change, last, back)
            writer.finish()
            return done

        return self.database.write(work)

    def names(self) -> list[str]:
        """Return the names of all cases, in the order they were kept."""
        with self.database.read() as conn:
            return list(conn.execute(select(t.cases.c.name).order_by(t.cases.c.id)).scalars())

    def kept(self, name: str) -> Kept:
        """Return a case by name or number, with everything the library holds of it."""
        with self.database.read() as conn:
            return self.row(conn, name).kept

    def same_as(self, case: Case) -> str | None:
        """Return the name of a case that was told the very same, if there is one."""
        mark = fingerprint(Kept.of(case))
        with self.database.read() as conn:
            query = select(t.cases.c.name).where(t.cases.c.fingerprint == mark).order_by(t.cases.c.id)
            return conn.execute(query.limit(1)).scalar()

    def find(self, wanted: Wanted, limit: int | None = None) -> tuple[list[Line], int]:
        """Return the cases that match, the last one kept first, and how many match in all."""
        with self.database.read() as conn:
            lines = find(conn, self.database.words, wanted, limit)
            many = how_many(conn, self.database.words, wanted) if limit and len(lines) == limit else len(lines)
        return lines, many

    def count(self, wanted: Wanted) -> int:
        """Return how many cases match."""
        with self.database.read() as conn:
            return how_many(conn, self.database.words, wanted)

    def chosen(self, wanted: Wanted) -> Iterator[Kept]:
        """Yield all that is kept of the cases that match, as they are at this moment."""
        with self.database.read() as conn:
            every = None if wanted == Wanted() else numbers(conn, self.database.words, wanted)
            for row in stream(conn, self.database.words, every):
                yield row.kept

    def revisions(self, name: str) -> list[tuple[Change, str | None]]:
        """Return what was done to a case, first to last, each with the case (JSON) as it was before."""
        with self.database.read() as conn:
            return history.of_case(conn, self.row(conn, name).id)

    def get(self, name: str, base: RuleBase) -> Case:
        """Return a case by name or number, without facts that the rules base no longer knows."""
        return known(self.kept(name).case(), base)

    def all(self, base: RuleBase) -> Iterator[tuple[str, Case]]:
        """Yield every case by name, in the order they were kept."""
        for kept in self.everything():
            yield kept.name, known(kept.case(), base)

    def everything(self) -> Iterator[Kept]:
        """Yield all that is kept, case by case, as it is at this moment."""
        return self.chosen(Wanted())

    def row(self, conn: Connection, name: str) -> Row:
        """Return a case with its numbers; raise BadInput for a name or number that no case has."""
        number = conn.execute(select(t.cases.c.id).where(t.cases.c.name == name)).scalar()
        if number is None and name.isascii() and name.isdigit() and len(name) < 18:
            number = int(name)
        found = load(conn, self.database.words, [number]) if number is not None else []
        if not found:
            raise BadInput(
                f"there is no case '{name}'.", where=self.shown, next_step="`diagnose library list` shows them."
            )
        return found[0]

    def writer(self, conn: Connection) -> Writer:
        """Return what puts cases into the tables in this transaction."""
        return Writer(conn, self.database.words, self.now())

    def put(self, conn: Connection, leaves: list[Leaf]) -> list[Entry]:
        """Put new cases in; the caller notes the change."""
        writer = self.writer(conn)
        entries = writer.add(leaves)
        writer.finish()
        return entries

    def note(self, conn: Connection, change: int, what: str, undoes: int | None = None) -> None:
        """Write down what is done in this transaction."""
        history.note(conn, change, what, self.author, self.now(), program(), undoes)

    def close(self) -> None:
        """Let go of the file or the server."""
        self.database.close()


def known(case: Case, base: RuleBase) -> Case:
    """Return a case without the facts, defect and causes that a rules base does not know."""
    words = base.words
    told = {**words.settings, **words.observations, **words.slots}
    return case.model_copy(
        update={
            "defect": case.defect if case.defect in base.defect_files else "",
            "materials": {n: a for n, a in case.materials.items() if n in words.slots},
            "settings": {n: s for n, s in case.settings.items() if n in words.settings},
            "observations": {n: a for n, a in case.observations.items() if n in told},
            "confirmed": tuple(c for c in case.confirmed if base.is_cause(c)),
        }
    )
