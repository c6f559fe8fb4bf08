"""Whether the chances that the program states come true: said 80 %, was right how often."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import Connection, and_, case, exists, func, or_, select

from diagnose.library import tables as t
from diagnose.library.counts import UNLISTED
from diagnose.library.summary_counts import Slice
from diagnose.library.wilson import wilson
from diagnose.model.shop_picture import Tenth


def tenths(conn: Connection, these: Slice) -> tuple[Tenth, ...]:
    """Return, for each tenth of chance said of the first cause, how often that cause was confirmed."""
    rows = _kept(conn) if these.kept_counts else _counted(conn, these)
    found = []
    for tenth, said, right, chances in rows:
        low, high = wilson(right, said)
        found.append(
            Tenth(
                low=tenth / 10, high=(tenth + 1) / 10, said=said, mean=chances / said, right=right, share=right / said,
                share_low=low, share_high=high,
            )
        )  # fmt: skip
    return tuple(found)


def calibration_error(found: Sequence[Tenth]) -> float | None:
    """Return the mean distance between the chance said and the share that was right; None where nothing was said."""
    total = sum(tenth.said for tenth in found)
    return sum(tenth.said * abs(tenth.mean - tenth.share) for tenth in found) / total if total else None


def _kept(conn: Connection) -> list[tuple[int, int, int, float]]:
    c = t.calibration.c
    query = select(c.tenth, c.said, c.right, c.chances).where(c.shop_id == t.OWN_SHOP, c.first, c.said > 0)
    return [(n, said, right, chances) for n, said, right, chances in conn.execute(query.order_by(c.tenth))]


def _counted(conn: Connection, these: Slice) -> list[tuple[int, int, int, float]]:
    """Count anew for some cases."""
    c, d = t.cases.c, t.diagnoses.c
    # Databases do not agree on how a number becomes a whole one.
    tenth = case(*((d.first_chance >= n / 10, n) for n in range(9, 0, -1)), else_=0)
    named = exists().where(t.confirmed.c.case_id == c.id, t.confirmed.c.cause_id == d.first_cause_id)
    unlisted = select(t.words.c.id).where(t.words.c.text == UNLISTED).scalar_subquery()
    right = or_(named, and_(c.other_cause != "", d.first_cause_id == unlisted))
    query = (
        select(tenth, func.count(), func.sum(case((right, 1), else_=0)), func.sum(d.first_chance))
        .join(t.cases, c.id == d.case_id)
        .where(c.causes > 0, d.first_cause_id != t.NOTHING, *these.conditions)
        .group_by(tenth)
        .order_by(tenth)
    )
    return [(int(n), said, int(right), float(chances)) for n, said, right, chances in conn.execute(query)]
