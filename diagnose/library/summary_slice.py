"""Which cases a summary is of: of which shop, of which defects, of which months."""

from __future__ import annotations

import re
from dataclasses import dataclass

from sqlalchemy import ColumnElement, Connection, Table, func, select

from diagnose.errors import BadInput
from diagnose.library import tables as t
from diagnose.library.words import WordBook

FIRST, LAST = 1, 12
ALWAYS = 999_912
_MONTH = re.compile(r"(\d{4})(?:-(\d{2}))?")


@dataclass(frozen=True)
class Asked:
    """What a summary is asked for; what is left empty does not matter."""

    since: str = ""
    until: str = ""
    stage: str = ""
    defect: str = ""
    shop: str = ""
    every_shop: bool = False


@dataclass(frozen=True)
class Slice:
    """The cases meant, by the numbers that the tables go by; None for all there are."""

    shop: int | None = None
    defects: tuple[int, ...] | None = None
    months: tuple[int, int] | None = None

    def of(self, counts: Table) -> list[ColumnElement[bool]]:
        """Return the conditions on a count table, or on `cases`."""
        c, found = counts.c, []
        if self.shop is not None:
            found.append(c.shop_id == self.shop)
        if self.defects is not None:
            found.append(c.defect_id.in_(self.defects))
        if self.months is not None:
            found.append(c.month.between(*self.months))
        return found

    @property
    def any_case_of_a_defect(self) -> bool:
        """Say whether, within a defect, every case is meant, so that nothing needs to be looked up in `cases`."""
        return self.shop is None and self.months is None


def slice_of(conn: Connection, book: WordBook, asked: Asked) -> Slice:
    """Return the cases that are asked for; a date is a whole month or year."""
    several = conn.execute(select(func.count()).select_from(t.shops)).scalar_one() > 1
    shop = t.OWN_SHOP if several and not asked.every_shop else None
    if asked.shop:
        # A shop that no case came from has no number: no row is of shop -1.
        shop = conn.execute(select(t.shops.c.id).where(t.shops.c.name == asked.shop)).scalar() or -1
    months = None
    if asked.since or asked.until:
        months = (month(asked.since, FIRST) if asked.since else 1, month(asked.until, LAST) if asked.until else ALWAYS)
    return Slice(shop, _defects(conn, book, asked), months)


def _defects(conn: Connection, book: WordBook, asked: Asked) -> tuple[int, ...] | None:
    if not asked.stage and not asked.defect:
        return None
    names = book.texts(conn, conn.execute(select(t.case_counts.c.defect_id).distinct()).scalars())
    return tuple(
        number for number, name in names.items()
        if name == (asked.defect or name) and name.split(".")[0] == (asked.stage or name.split(".")[0])
    )  # fmt: skip


def month(text: str, of_a_year: int) -> int:
    """Return a month as 202611 from 2026-11, or from a year its first or last; raise BadInput for anything else."""
    found = _MONTH.fullmatch(text.strip())
    if found is None or not FIRST <= int(found[2] or FIRST) <= LAST:
        raise BadInput(f"'{text}' is no month or year.", where="summary", next_step="Write 2026-11 or 2026.")
    return int(found[1]) * 100 + int(found[2] or of_a_year)
