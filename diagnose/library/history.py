"""What was done, by whom, in which order; and taking the last of it back.

The order is that of the change numbers: a clock that is put back confuses nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from sqlalchemy import Connection, Integer, Select, and_, bindparam, false, func, insert, or_, select, update

from diagnose.errors import BadInput
from diagnose.library import bulk
from diagnose.library import tables as t
from diagnose.library.kept import from_json
from diagnose.library.read import load
from diagnose.library.sheaf import Entry, Row
from diagnose.library.words import AT_ONCE, WordBook
from diagnose.library.write import Writer

# Made once: putting a statement together takes longer than running it.
_NOTE = insert(t.changes)
_TOUCHED = (
    update(t.changes)
    .where(t.changes.c.id == bindparam("change"))
    .values(cases=t.changes.c.cases + bindparam("more", type_=Integer))
)
UNDO, REDO = "undo", "undo back"


@dataclass(frozen=True)
class Change:
    """One thing that was done: its number, what, by whom, when, to how many cases."""

    id: int
    what: str
    author: str
    at: str
    cases: int
    undone: bool = False
    names: tuple[str, ...] = ()


def note(
    conn: Connection, change: int, what: str, author: str, at: str, program: str, undoes: int | None = None
) -> None:
    """Write down that something is done under this change number."""
    noted = {"id": change, "what": what, "author": author, "at": at, "undoes": undoes, "program": program}
    conn.execute(_NOTE, {**noted, "undone": False, "cases": 0})


def note_cases(conn: Connection, change: int, cases: Iterable[tuple[int, int, str | None]]) -> None:
    """Write down which cases a change touched: number, revision, and the case before (none for a new one)."""
    rows = [(case, number, change, before) for case, number, before in cases]
    if rows:
        bulk.put(conn, t.revisions, rows)
        conn.execute(_TOUCHED, {"change": change, "more": len(rows)})


def of_case(conn: Connection, case: int) -> list[tuple[Change, str | None]]:
    """Return what was done to a case, first to last, each with the case as it was before."""
    query = (
        select(t.changes, t.revisions.c.before)
        .join(t.revisions, t.revisions.c.change_id == t.changes.c.id)
        .where(t.revisions.c.case_id == case)
        .order_by(t.revisions.c.number)
    )
    return [
        (Change(r["id"], r["what"], r["author"], r["at"], r["cases"], r["undone"]), r["before"])
        for r in conn.execute(query).mappings()
    ]


def last_change(conn: Connection, author: str, back: bool = False) -> Change:
    """Return the author's last change that still stands (or, going back, the last undo); raise BadInput for none."""
    alive = t.changes.c.undone == false()
    kind = t.changes.c.what == UNDO if back else t.changes.c.undoes.is_(None)
    query = select(t.changes).where(alive, kind, t.changes.c.cases > 0).order_by(t.changes.c.id.desc()).limit(1)
    found = conn.execute(query.where(t.changes.c.author == author)).mappings().first()
    if found is None:
        what = "undo to take back" if back else "change to undo"
        others = conn.execute(query).mappings().first()
        hint = f"The last one was '{others['what']}' by {others['author'] or 'nobody named'}: --by." if others else ""
        raise BadInput(f"there is no {what}{f' by {author}' if author else ''}.", next_step=hint)
    return Change(found["id"], found["what"], found["author"], found["at"], found["cases"])


def undo(conn: Connection, book: WordBook, writer: Writer, change: int, last: Change, back: bool) -> Change:
    """Bring the cases of a change to what they were before it, and return what was taken back, or brought again.

    The undo is itself a change with earlier revisions.
    """
    _refuse_if_changed_since(conn, last, back)
    touched = select(t.revisions.c.case_id, t.revisions.c.before).where(t.revisions.c.change_id == last.id)
    before = dict(conn.execute(touched).all())
    now = {row.id: row for row in load(conn, book, sorted(before))}
    numbers = _last_numbers(conn, sorted(before))
    # Words are kept, numbers of cases are never used twice: a case that comes back is the same one.
    note_cases(conn, change, ((c, numbers[c] + 1, now[c].kept.to_json() if c in now else None) for c in sorted(before)))
    gone = [now[c] for c, text in before.items() if text is None and c in now]
    writer.remove(gone)
    returning = [c for c, text in before.items() if text is not None and c not in now]
    kepts = {c: from_json(before[c] or "") for c in returning}
    if kepts:
        writer.insert([Entry.of(Row(c, writer.shop(k.shop), numbers[c] + 1, k)) for c, k in kepts.items()])
    for c, text in before.items():
        if text is not None and c in now:
            writer.replace(Row(c, now[c].shop, numbers[c], now[c].kept), from_json(text))
    names = [r.kept.name for r in now.values()] or [k.name for k in kepts.values()]
    _mark(conn, last, back)
    what = _undone_by(conn, last) if back else last
    return replace(what, cases=len(before), undone=not back, names=tuple(sorted(names)))


def _undone_by(conn: Connection, undo: Change) -> Change:
    """Return the change that an undo took back."""
    undone = select(t.changes.c.undoes).where(t.changes.c.id == undo.id).scalar_subquery()
    row = conn.execute(select(t.changes).where(t.changes.c.id == undone)).mappings().one()
    return Change(row["id"], row["what"], row["author"], row["at"], row["cases"])


def _mark(conn: Connection, last: Change, back: bool) -> None:
    conn.execute(update(t.changes).where(t.changes.c.id == last.id).values(undone=True))
    if back:
        undone = select(t.changes.c.undoes).where(t.changes.c.id == last.id).scalar_subquery()
        conn.execute(update(t.changes).where(t.changes.c.id == undone).values(undone=False))


def _refuse_if_changed_since(conn: Connection, last: Change, back: bool) -> None:
    """Raise BadInput when a case of the change was changed again after it, by a change that still stands."""
    later, theirs = t.changes.alias("later"), t.revisions.alias("theirs")
    ours = t.revisions
    # What was undone and brought back again is as it was; an undo of somebody else that stands bars the way back.
    real = later.c.undoes.is_(None)
    stands = and_(later.c.undone == false(), or_(real, later.c.what == UNDO) if back else real)
    query: Select[int, str, str] = (
        select(ours.c.case_id, later.c.what, later.c.author)
        .join(theirs, and_(theirs.c.case_id == ours.c.case_id, theirs.c.number > ours.c.number))
        .join(later, later.c.id == theirs.c.change_id)
        .where(ours.c.change_id == last.id, stands)
        .limit(1)
    )
    found = conn.execute(query).first()
    if found is not None:
        case, what, author = found
        raise BadInput(
            f"case {case} was changed again since ('{what}' by {author or 'nobody named'}).",
            next_step="Undo that first; nothing was changed now.",
        )


def _last_numbers(conn: Connection, ids: Sequence[int]) -> dict[int, int]:
    found: dict[int, int] = {}
    for i in range(0, len(ids), AT_ONCE):
        query = (
            select(t.revisions.c.case_id, func.max(t.revisions.c.number))
            .where(t.revisions.c.case_id.in_(ids[i : i + AT_ONCE]))
            .group_by(t.revisions.c.case_id)
        )
        found.update(dict(conn.execute(query).all()))
    return found


def erase(conn: Connection, case: int) -> None:
    """Remove the history of a case for good: nothing of it can be read or undone afterwards."""
    touched = select(t.revisions.c.change_id).where(t.revisions.c.case_id == case)
    conn.execute(update(t.changes).where(t.changes.c.id.in_(touched)).values(cases=t.changes.c.cases - 1))
    conn.execute(t.revisions.delete().where(t.revisions.c.case_id == case))


def erase_pictures(conn: Connection, digests: Iterable[str]) -> None:
    """Remove the copies of pictures that no case names, nor any earlier revision of one."""
    for digest in digests:
        named = select(t.photos.c.case_id).where(t.photos.c.digest == digest).limit(1)
        was_named = select(t.revisions.c.case_id).where(t.revisions.c.before.contains(digest)).limit(1)
        if not conn.execute(named).first() and not conn.execute(was_named).first():
            conn.execute(t.pictures.delete().where(t.pictures.c.digest == digest))
