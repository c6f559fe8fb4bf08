"""How many cases: by defect, month, cause, and what the scrap cost."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from sqlalchemy import Connection, func, select

from diagnose.library import tables as t
from diagnose.library.adding import NEARLY_NOTHING
from diagnose.library.summary_slice import Slice
from diagnose.library.words import WordBook
from diagnose.model.shop_picture import Cost, Counted, Month


class Head(NamedTuple):
    """Cases of one defect, month and currency."""

    defect: int
    month: int
    currency: str
    cases: int
    confirmed: int
    costed: int
    cost: int


def heads(conn: Connection, these: Slice) -> list[Head]:
    """Return how many cases there are of each defect, month and currency, and what they cost."""
    c = t.case_counts.c
    sums = [func.sum(column) for column in (c.cases, c.confirmed, c.costed, c.cost)]
    query = select(c.defect_id, c.month, c.currency, *sums).where(*these.of(t.case_counts))
    rows = conn.execute(query.group_by(c.defect_id, c.month, c.currency))
    return [Head(defect, month, currency, *map(int, counts)) for defect, month, currency, *counts in rows]


def defects_counted(conn: Connection, book: WordBook, counts: Iterable[Head]) -> tuple[Counted, ...]:
    """Return the defects, the most frequent first."""
    by_defect: dict[int, float] = {}
    for head in counts:
        by_defect[head.defect] = by_defect.get(head.defect, 0.0) + head.cases
    return _pareto(conn, book, by_defect)


def causes_counted(conn: Connection, book: WordBook, these: Slice) -> tuple[Counted, ...]:
    """Return the confirmed causes, the most frequent first; `unlisted` for those outside the rules base."""
    c = t.cause_counts.c
    query = select(c.cause_id, func.sum(c.confirmed)).where(*these.of(t.cause_counts)).group_by(c.cause_id)
    return _pareto(conn, book, {cause: float(count) for cause, count in conn.execute(query)})


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
