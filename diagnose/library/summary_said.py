"""Whether the chances that the program states come true: said 80 %, was right how often."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import Connection, func, select

from diagnose.library import tables as t
from diagnose.library.summary_slice import Slice
from diagnose.library.wilson import wilson
from diagnose.model.shop_picture import Tenth


def tenths(conn: Connection, these: Slice) -> tuple[Tenth, ...]:
    """Return, for each tenth of chance said of the first cause, how often that cause was confirmed."""
    c = t.calibration.c
    sums = [func.sum(column) for column in (c.said, c.right, c.chances)]
    query = select(c.tenth, *sums).where(c.first, *these.of(t.calibration)).group_by(c.tenth).order_by(c.tenth)
    found = []
    for tenth, said, right, chances in ((n, int(s), int(r), float(p)) for n, s, r, p in conn.execute(query)):
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
