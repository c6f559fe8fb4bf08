"""Which cases match: by defect, cause, stage, material, state, date, author, and words in part, notes and trials."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from sqlalchemy import ColumnElement, Connection, Select, and_, exists, false, func, or_, select

from diagnose.errors import BadInput
from diagnose.library import tables as t
from diagnose.library.leaf import MATERIAL
from diagnose.library.words import WordBook


@dataclass(frozen=True)
class Wanted:
    """What is looked for; what is left empty does not matter. Every word must be there, in any order."""

    words: tuple[str, ...] = ()
    defect: str = ""
    cause: str = ""
    said: str = ""
    stage: str = ""
    material: str = ""
    state: str = ""
    author: str = ""
    shop: str = ""
    since: str = ""
    until: str = ""


@dataclass(frozen=True)
class Line:
    """A case in a list."""

    id: int
    name: str
    date: str
    defect: str
    part: str
    state: str
    author: str
    causes: tuple[str, ...]
    other_cause: str


def find(
    conn: Connection, book: WordBook, wanted: Wanted, limit: int | None = None, first_first: bool = False
) -> list[Line]:
    """Return the cases that match, the last one kept first."""
    order = t.cases.c.id.asc() if first_first else t.cases.c.id.desc()
    query = select(t.cases).where(*conditions(conn, book, wanted)).order_by(order)
    rows = conn.execute(query.limit(limit) if limit else query).mappings().all()
    causes = _causes(conn, book, [r["id"] for r in rows])
    defects = book.texts(conn, {r["defect_id"] for r in rows})
    return [
        Line(
            r["id"], r["name"], r["date"], defects[r["defect_id"]], r["part"], r["state"], r["author"],
            tuple(causes.get(r["id"], ())), r["other_cause"],
        )
        for r in rows
    ]  # fmt: skip


def how_many(conn: Connection, book: WordBook, wanted: Wanted) -> int:
    """Return how many cases match."""
    query = select(func.count()).select_from(t.cases).where(*conditions(conn, book, wanted))
    return int(conn.execute(query).scalar_one())


def numbers(conn: Connection, book: WordBook, wanted: Wanted) -> Select[int]:
    """Return the query for the numbers of the cases that match, the first one kept first."""
    return select(t.cases.c.id).where(*conditions(conn, book, wanted)).order_by(t.cases.c.id)


def conditions(conn: Connection, book: WordBook, wanted: Wanted) -> list[ColumnElement[bool]]:
    """Return the conditions on `cases`; a name that no case has gives one that nothing meets."""
    c, found = t.cases.c, []
    for text, column in ((wanted.stage, c.stage), (wanted.state, c.state), (wanted.author, c.author)):
        if text:
            found.append(column == text)
    found += [c.search.contains(word.casefold(), autoescape=True) for word in wanted.words]
    if wanted.shop:
        found.append(c.shop_id.in_(select(t.shops.c.id).where(t.shops.c.name == wanted.shop)))
    if wanted.defect:
        found.append(_is(c.defect_id, book.known(conn, wanted.defect)))
    if wanted.cause:
        found.append(_of_case(t.confirmed, _is(t.confirmed.c.cause_id, book.known(conn, wanted.cause))))
    if wanted.said:
        found.append(_of_case(t.diagnoses, _is(t.diagnoses.c.first_cause_id, book.known(conn, wanted.said))))
    if wanted.material:
        same = _is(t.facts.c.answer_id, book.known(conn, wanted.material))
        found.append(_of_case(t.facts, and_(t.facts.c.kind == MATERIAL, same)))
    return found + _dates(wanted)


def _is(column: ColumnElement[int], number: int | None) -> ColumnElement[bool]:
    return column == number if number is not None else false()


def _of_case(table: object, condition: ColumnElement[bool]) -> ColumnElement[bool]:
    return exists().where(table.c.case_id == t.cases.c.id, condition)  # type: ignore[attr-defined]


def _dates(wanted: Wanted) -> list[ColumnElement[bool]]:
    """Return conditions on the date; a case dated to a month only counts when the month reaches into the range."""
    c, found = t.cases.c, []
    if wanted.since or wanted.until:
        found.append(c.month != 0)
    if wanted.since:
        day = a_day(wanted.since, first=True)
        found.append(or_(c.date >= day, and_(func.length(c.date) == 7, c.date == day[:7])))
    if wanted.until:
        # A month alone sorts before each of its days.
        found.append(c.date <= a_day(wanted.until, first=False))
    return found


def a_day(text: str, first: bool) -> str:
    """Return a day as 2026-11-25 from a day, a month or a year; raise BadInput for anything else."""
    parts = text.split("-")
    try:
        year, month, day = (int(p) for p in (*parts, *(("1", "1") if first else ("12", "31"))[len(parts) - 1 :]))
        if len(parts) == 2 and not first:
            return f"{date(year, month, 1):%Y-%m}-31"
        return f"{date(year, month, day):%Y-%m-%d}"
    except ValueError:
        raise BadInput(f"'{text}' is no date.", next_step="Write 2026-11-25, 2026-11 or 2026.") from None


def _causes(conn: Connection, book: WordBook, ids: Sequence[int]) -> dict[int, list[str]]:
    found: dict[int, list[str]] = {}
    for i in range(0, len(ids), 500):
        query = (
            select(t.confirmed.c.case_id, t.confirmed.c.cause_id)
            .where(t.confirmed.c.case_id.in_(ids[i : i + 500]))
            .order_by(t.confirmed.c.case_id, t.confirmed.c.place)
        )
        rows = conn.execute(query).all()
        texts = book.texts(conn, {cause for _, cause in rows})
        for case, cause in rows:
            found.setdefault(case, []).append(texts[cause])
    return found
