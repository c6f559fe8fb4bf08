"""Taking many cases in: in parts of some thousands, each a whole transaction; the same case is not taken twice.

A case is the same when it carries the same `uid` (it was exported from here, or taken in before) or was told the very
same.
"""

from __future__ import annotations

import gc
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from sqlalchemy import Column, Connection, select

from diagnose.errors import BadInput
from diagnose.library import anonymise, history
from diagnose.library import tables as t
from diagnose.library.kept import Kept, from_json
from diagnose.library.leaf import Leaf
from diagnose.library.lines import Read, Ready, parts
from diagnose.library.read import load
from diagnose.library.sheaf import Row
from diagnose.library.store import Library
from diagnose.library.words import AT_ONCE

SHOWN = 20
OUTCOME = ("trials", "confirmed", "other_cause", "cost", "currency")
"""What came of a case; the rest of it is what was told."""
IN_THIS_FILE = 0
"""Stands for the number of a case that is only in the file yet."""

Good = list[tuple[str, Ready]]


@dataclass
class Report:
    """What was taken in and what was not."""

    taken: int = 0
    updated: int = 0
    same: list[tuple[str, str]] = field(default_factory=list)
    """Where it stands, and the name of the case it is the same as."""
    differing: list[tuple[str, str]] = field(default_factory=list)
    """The same case as here, or as earlier in the file, in another state, which is no earlier one; ours was kept."""
    faults: list[tuple[str, str]] = field(default_factory=list)
    names: list[str] = field(default_factory=list)
    """The first names taken."""
    stopped: bool = False
    """Whether a person stopped it before the end."""


@dataclass
class Sorted:
    """A part of an import, looked through: what is new, what is put over ours, and the marks of what is new."""

    report: Report = field(default_factory=Report)
    new: list[Leaf] = field(default_factory=list)
    updates: dict[int, tuple[Row, Kept]] = field(default_factory=dict)
    """By the number of the case: as it is here, and what comes in its place."""
    first: dict[str, Ready] = field(default_factory=dict)
    """The new ones by where they stand."""
    marks: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Manner:
    """How to take in: look only, take the same again, put the file's version over ours, mark as another shop's."""

    dry: bool = False
    again: bool = False
    update: bool = False
    shop: str = ""
    what: str = "import"


class Intake:
    """One import, which is one change however many parts it is written in."""

    def __init__(
        self, library: Library, manner: Manner, progress: Callable[[int], None] | None = None,
        later: Callable[[Kept, Kept], bool] | None = None,
    ) -> None:  # fmt: skip
        self.library, self.manner, self.progress = library, manner, progress
        self.later = later
        """Says of ours and theirs, where they differ, whether theirs is the later state."""
        self.report = Report()
        self._change: int | None = None
        self._met: dict[str, str] = {}

    def take(self, read: Iterable[Read]) -> Report:
        """Take in all that can be; what cannot is in the report with where it stands.

        When a person stops it, the parts written until then stay.
        """
        collecting = gc.isenabled()
        gc.disable()  # nothing here holds itself; looking for such things takes a third of the time
        try:
            for part in parts(read):
                self._part(self._good(part))
                if self.progress:
                    self.progress(len(part))
        except KeyboardInterrupt:
            self.report.stopped = True
        finally:
            if collecting:
                gc.enable()
        return self.report

    def _good(self, part: list[Read]) -> Good:
        good: Good = []
        for where, found in part:
            if isinstance(found, BadInput):
                self.report.faults.append((where, found.message()))
                continue
            ready = found if isinstance(found, Ready) else Ready.of(found)
            if self.manner.shop and not ready.leaf.shop:
                ready = ready._replace(leaf=ready.leaf._replace(shop=self.manner.shop))
            good.append((where, ready))
        return good

    def _part(self, good: Good) -> None:
        if not good:
            return
        if self.manner.dry:
            with self.library.database.read() as conn:
                sorted_out = self._sort_out(conn, good)
        else:
            sorted_out, self._change = self.library.database.write(lambda conn, new: self._write(conn, new, good))
        self._met.update(sorted_out.marks)
        report, more = self.report, sorted_out.report
        report.taken += len(sorted_out.new)
        report.updated += len(sorted_out.updates)
        report.same += more.same
        report.differing += more.differing
        report.names += more.names[: max(SHOWN - len(report.names), 0)]

    def _write(self, conn: Connection, new: int, good: Good) -> tuple[Sorted, int]:
        found = self._sort_out(conn, good)
        change = self._change
        if change is None:
            self.library.note(conn, new, self.manner.what)
            change = new
        entries = self.library.put(conn, found.new)
        found.report.names += [e.name for e in entries[:SHOWN]]
        history.note_cases(conn, change, ((e.id, 1, None) for e in entries))
        if found.updates:
            writer = self.library.writer(conn)
            for before, after in found.updates.values():
                history.note_cases(conn, change, [(before.id, before.revision + 1, before.kept.to_json())])
                writer.replace(before, after)
            writer.finish()
        return found, change

    def _sort_out(self, conn: Connection, good: Good) -> Sorted:
        """Return what is new, and what is the same as here or as something earlier in the file."""
        found = Sorted()
        by_uid = _ours(conn, t.cases.c.uid, {ready.leaf.uid for _, ready in good if ready.leaf.uid})
        marks = set() if self.manner.again else {ready.leaf.fingerprint for _, ready in good}
        by_mark = _ours(conn, t.cases.c.fingerprint, marks)
        for where, ready in good:
            leaf = ready.leaf
            if leaf.uid and leaf.uid in by_uid:
                self._same_uid(conn, found, where, ready, by_uid[leaf.uid])
                continue
            if marks:
                mark = leaf.fingerprint
                if mark in by_mark:
                    self._same_told(conn, found, where, ready, by_mark[mark])
                    continue
                if mark in self._met:
                    found.report.same.append((where, self._met[mark]))
                    continue
                by_mark[mark] = (IN_THIS_FILE, where)
                found.marks[mark] = where
            if leaf.uid:
                by_uid[leaf.uid] = (IN_THIS_FILE, where)
            found.new.append(leaf)
            found.first[where] = ready
        return found

    def _before(self, conn: Connection, found: Sorted, ours: tuple[int, str]) -> Row:
        """Return a case as it is here, or as it stands earlier in the file."""
        number, name = ours
        if number == IN_THIS_FILE:
            first = found.first[name]
            return Row(number, t.OWN_SHOP, 0, first.kept.model_copy(update={"shop": first.leaf.shop}))
        return load(conn, self.library.database.words, [number])[0]

    def _untouched(self, conn: Connection, found: Sorted, number: int) -> bool:
        """Say whether this import has not brought or changed a case yet: undo takes back one step of each case."""
        if number == IN_THIS_FILE or number in found.updates:
            return False
        query = select(t.revisions.c.number).where(
            t.revisions.c.case_id == number, t.revisions.c.change_id == self._change
        )
        return conn.execute(query).first() is None

    def _same_told(self, conn: Connection, found: Sorted, where: str, ready: Ready, ours: tuple[int, str]) -> None:
        """Sort out a case that was told the very same before, without its number."""
        number, name = ours
        if not _came_of_it(ready.leaf):
            found.report.same.append((where, name))
            return
        row, theirs = self._before(conn, found, ours), ready.kept
        news = {
            f: getattr(theirs, f)
            for f in OUTCOME
            if getattr(theirs, f) not in (getattr(Kept(), f), getattr(row.kept, f))
        }
        if not news:
            found.report.same.append((where, name))
        elif self.manner.update and self._untouched(conn, found, number):
            found.updates[number] = (row, row.kept.model_copy(update=news))
        else:
            found.report.differing.append((where, name))

    def _same_uid(self, conn: Connection, found: Sorted, where: str, ready: Ready, ours: tuple[int, str]) -> None:
        number, name = ours
        theirs, row = ready.kept.model_copy(update={"shop": ready.leaf.shop}), self._before(conn, found, ours)
        # An anonymised case that comes back is ours, only with less in it.
        comes_back = theirs.shop == anonymise.SHOP != row.kept.shop
        if comes_back or alike(row.kept, theirs) or _was_once(conn, number, theirs):
            found.report.same.append((where, name))
        elif self._untouched(conn, found, number) and (
            self.manner.update or (self.later and self.later(row.kept, theirs))
        ):
            after = theirs.model_copy(update={"name": row.kept.name, "shop": row.kept.shop})
            found.updates[number] = (row, after)
        else:
            found.report.differing.append((where, name))


def _came_of_it(leaf: Leaf) -> bool:
    """Say whether something came of a case: trials, a cause, what it cost."""
    return bool(leaf.trials or leaf.true or leaf.cost is not None)


def _was_once(conn: Connection, number: int, theirs: Kept) -> bool:
    """Say whether theirs is an earlier state of ours."""
    query = select(t.revisions.c.before).where(t.revisions.c.case_id == number, t.revisions.c.before.is_not(None))
    return any(alike(from_json(before), theirs) for before in conn.execute(query).scalars() if before)


def alike(one: Kept, other: Kept) -> bool:
    """Say whether two states of a case are the same but for the name it has in each library and the shop's mark."""
    return one.model_copy(update={"name": other.name, "shop": other.shop}) == other


def _ours(conn: Connection, column: Column[str], values: set[str]) -> dict[str, tuple[int, str]]:
    found: dict[str, tuple[int, str]] = {}
    wanted = sorted(values)
    for i in range(0, len(wanted), AT_ONCE):
        query = select(column, t.cases.c.id, t.cases.c.name).where(column.in_(wanted[i : i + AT_ONCE]))
        found.update({value: (number, name) for value, number, name in conn.execute(query)})
    return found
