"""How many cases: by defect, month, cause, and what the scrap cost."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from sqlalchemy import ColumnElement, Connection, Float, case, cast, func, select

from diagnose.library import tables as t
from diagnose.library.counts import NEARLY_NOTHING, UNLISTED
from diagnose.library.words import WordBook
from diagnose.model.shop_picture import Cost, Counted, Month


@dataclass(frozen=True)
class Slice:
    """Which cases are meant: conditions on `cases`; `kept_counts` when the kept count tables are of just these."""

    conditions: tuple[ColumnElement[bool], ...] = ()
    kept_counts: bool = False

    @property
    def all(self) -> bool:
        """Say whether every case is meant, so that nothing needs to be looked up in `cases`."""
        return not self.conditions


class Head(NamedTuple):
    """Cases of one defect, month and currency."""

    defect: int
    month: int
    currency: str
    cases: int
    confirmed: int
    cost: int
    costed: int


def heads(conn: Connection, these: Slice) -> list[Head]:
    """Return how many cases there are of each defect, month and currency, and their cost, in one pass."""
    c = t.cases.c
    columns = (
        c.defect_id, c.month, c.currency, func.count(), func.sum(case((c.causes > 0, 1), else_=0)), func.sum(c.cost),
        func.count(c.cost),
    )  # fmt: skip
    query = select(*columns).where(*these.conditions).group_by(c.defect_id, c.month, c.currency)
    return [Head(d, m, cur, n, int(k), int(cost or 0), costed) for d, m, cur, n, k, cost, costed in conn.execute(query)]


def defects_counted(conn: Connection, book: WordBook, counts: Iterable[Head]) -> tuple[Counted, ...]:
    """Return the defects, the most frequent first."""
    by_defect: dict[int, float] = {}
    for head in counts:
        by_defect[head.defect] = by_defect.get(head.defect, 0.0) + head.cases
    return _pareto(conn, book, by_defect)


def causes_counted(conn: Connection, book: WordBook, these: Slice) -> tuple[Counted, ...]:
    """Return the confirmed causes, the most frequent first; `unlisted` for those outside the rules base."""
    c, found = t.cases.c, {}
    if these.kept_counts:
        counts = t.cause_counts.c
        query = select(counts.cause_id, func.sum(counts.confirmed)).where(counts.shop_id == t.OWN_SHOP)
        found = {cause: float(n) for cause, n in conn.execute(query.group_by(counts.cause_id))}
        return _pareto(conn, book, found)
    query = (
        select(t.confirmed.c.cause_id, func.sum(1.0 / cast(c.causes, Float)))
        .join(t.cases, c.id == t.confirmed.c.case_id)
        .where(*these.conditions)
        .group_by(t.confirmed.c.cause_id)
    )
    found = {cause: float(n) for cause, n in conn.execute(query)}
    other = select(func.sum(1.0 / cast(c.causes, Float))).where(c.other_cause != "", *these.conditions)
    unlisted = conn.execute(other).scalar()
    if unlisted:
        number = book.known(conn, UNLISTED)
        assert number is not None, "a case confirmed as none of these has learned the word"
        found[number] = found.get(number, 0.0) + float(unlisted)
    return _pareto(conn, book, found)


def months_of(counts: Iterable[Head]) -> tuple[Month, ...]:
    """Return the months from the first to the last, those without a case too."""
    by_month: dict[int, tuple[int, int]] = {}
    for head in counts:
        if head.month:
            cases, confirmed = by_month.get(head.month, (0, 0))
            by_month[head.month] = (cases + head.cases, confirmed + head.confirmed)
    if not by_month:
        return ()
    found, month = [], min(by_month)
    while month <= max(by_month):
        cases, confirmed = by_month.get(month, (0, 0))
        found.append(Month(month=f"{month // 100:04d}-{month % 100:02d}", cases=cases, confirmed=confirmed))
        month += 1 if month % 100 < 12 else 89
    return tuple(found)


def costs_of(conn: Connection, book: WordBook, counts: Sequence[Head]) -> tuple[Cost, ...]:
    """Return what the scrap cost by currency and defect, the dearest first."""
    sums: dict[tuple[str, int], tuple[int, int]] = {}
    for head in counts:
        if head.costed:
            cases, cost = sums.get((head.currency, head.defect), (0, 0))
            sums[head.currency, head.defect] = (cases + head.costed, cost + head.cost)
    texts = book.texts(conn, {defect for _, defect in sums})
    found = [
        Cost(currency=currency, defect=texts[defect], cases=cases, hundredths=cost)
        for (currency, defect), (cases, cost) in sums.items()
    ]
    return tuple(sorted(found, key=lambda c: (c.currency, -c.hundredths)))


def _pareto(conn: Connection, book: WordBook, counts: Mapping[int, float]) -> tuple[Counted, ...]:
    texts = book.texts(conn, counts)
    total, so_far, found = sum(counts.values()), 0.0, []
    for number, count in sorted(counts.items(), key=lambda item: (-item[1], texts[item[0]])):
        if count > NEARLY_NOTHING:
            so_far += count
            found.append(Counted(id=texts[number], cases=count, share=count / total, so_far=so_far / total))
    return tuple(found)
