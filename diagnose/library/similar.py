"""The kept cases that are like one at hand: of the same defect, or of any defect of the stage.

Numbers are compared over the range that the stage's cases span. A case counts as like this one from `LIKE` on, and only
when the two share enough facts: of very few, many cases agree by chance.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

import numpy as np
from sqlalchemy import Connection, func, select

from diagnose.library import tables as t
from diagnose.library.connect import Database
from diagnose.library.gower import Asked, alike
from diagnose.library.kept import Kept
from diagnose.library.read import load
from diagnose.library.words import WordBook
from diagnose.model.case import Case
from diagnose.model.likeness import Like, Likes

_NEVER_AN_ANSWER = 0xFFFFFFFF
LIKE = 0.8
ENOUGH_SHARED = 3
"""Facts that both must tell, and half of those told of the case at hand; all of them where it has fewer."""
MOST = 25
NEWEST = 30_000
"""How many cases of a defect are looked at, the newest ones, unless all are asked for: it bounds the time it takes."""
WORKED = ("cured", "better")


def similar(
    database: Database, case: Case, stage: Iterable[str], *, whole_stage: bool = False, apart_from: str = "",
    least: float = LIKE, most: int = MOST, newest: int | None = NEWEST,
) -> Likes:  # fmt: skip
    """Return the cases like this one, the most alike first; `stage` names the defects of the case's stage."""
    with database.read() as conn:
        book, stage = database.words, set(stage)
        book.look_up(conn, {case.defect, *stage, *_words(case)})
        defects = [n for d in sorted({*stage, case.defect}) if (n := book.known(conn, d))]
        own = book.known(conn, case.defect)
        asked = _asked(conn, book, case, defects)
        own_case = conn.execute(select(t.cases.c.id).where(t.cases.c.name == apart_from)).scalar()
        ids, packed = _packed(conn, defects if whole_stage else [own] if own else [], newest)
        if own_case in ids:
            at = ids.index(own_case)
            del ids[at], packed[at]
        found = alike(asked, packed)
        told = sum(not isinstance(value, tuple) for value in case.known().values())
        enough = min(max(ENOUGH_SHARED, -(-told // 2)), told)
        good = np.flatnonzero((found.similarity >= least) & (found.shared >= max(enough, 1)))
        # The most alike first; of equals the one that shares more, then the one kept last.
        keys = (-np.array(ids, dtype=np.int64)[good], -found.shared[good], -found.similarity[good])
        best = [int(i) for i in good[np.lexsort(keys)][:most]]
        rows = {row.id: row.kept for row in load(conn, book, [ids[i] for i in best])}
    like = [
        _like(rows[ids[i]], float(found.similarity[i]), int(found.shared[i]))
        for i in best if ids[i] in rows
    ]  # fmt: skip
    return Likes(looked_at=len(ids), alike=len(good), like=tuple(like))


def _words(case: Case) -> Iterator[str]:
    for name, value in case.known().items():
        yield name
        if isinstance(value, str):
            yield value


def _asked(conn: Connection, book: WordBook, case: Case, defects: Sequence[int]) -> Asked:
    """Return the case at hand in numbers; what no kept case ever told is left out, as nothing shares it."""
    answers, numbers = {}, {}
    for name, value in case.known().items():
        known = book.known(conn, name)
        if known is None:
            continue
        if isinstance(value, str):
            answers[known] = book.known(conn, value) or _NEVER_AN_ANSWER
        elif isinstance(value, float):
            numbers[known] = value
    ranges = _ranges(conn, defects, list(numbers))
    ends = {n: (*ranges.get(n, ()), value) for n, value in numbers.items()}
    return Asked(answers, {n: (value, max(ends[n]) - min(ends[n])) for n, value in numbers.items()})


def _ranges(conn: Connection, defects: Sequence[int], names: Sequence[int]) -> dict[int, tuple[float, float]]:
    """Return the lowest and highest value of each setting among the cases of some defects.

    Both ends of each defect's stretch of the index are looked up, so it takes the same time for any number of cases.
    """
    if not defects or not names:
        return {}
    defect, name = t.words.alias("defect"), t.words.alias("name")
    value = t.facts.c.number
    these = [
        t.facts.c.defect_id == defect.c.id, t.facts.c.name_id == name.c.id, t.facts.c.answer_id == t.NOTHING,
    ]  # fmt: skip
    ends = [
        select(value).where(*these, value.is_not(None)).order_by(end).limit(1).correlate(defect, name).scalar_subquery()
        for end in (value.asc(), value.desc())
    ]
    pairs = (
        select(name.c.id.label("name"), ends[0].label("low"), ends[1].label("high"))
        .select_from(defect.join(name, defect.c.id.in_(defects) & name.c.id.in_(names)))
        .subquery()
    )
    query = select(pairs.c.name, func.min(pairs.c.low), func.max(pairs.c.high)).group_by(pairs.c.name)
    return {n: (low, high) for n, low, high in conn.execute(query) if low is not None}


def _packed(conn: Connection, defects: Sequence[int], newest: int | None) -> tuple[list[int], list[bytes]]:
    """Return the numbers and packed facts of the newest cases of each of some defects."""
    ids: list[int] = []
    packed: list[bytes] = []
    for defect in defects:
        query = select(t.features.c.case_id, t.features.c.packed).where(t.features.c.defect_id == defect)
        query = query.order_by(t.features.c.case_id.desc()).limit(newest)
        cursor: Any = conn.execute(query).cursor  # the driver's own rows: a hundred thousand of ours take a second
        rows = cursor.fetchall()
        ids += [row[0] for row in rows]
        packed += [row[1] for row in rows]
    return ids, packed


def _like(kept: Kept, similarity: float, shared: int) -> Like:
    worked = tuple(dict.fromkeys(trial.changed for trial in kept.trials if trial.result in WORKED and trial.changed))
    return Like(
        name=kept.name, date=kept.date, part=kept.part, defect=kept.defect, shop=kept.shop, similarity=similarity,
        shared=shared, confirmed=kept.confirmed, other_cause=kept.other_cause, worked=worked,
    )  # fmt: skip
