"""The shop picture: a few aggregate queries, each over an index or one pass through a table."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from sqlalchemy import Connection, func, select

from diagnose.library import tables as t
from diagnose.library.connect import Database
from diagnose.library.find import Wanted, conditions
from diagnose.library.summary_counts import Slice, causes_counted, costs_of, defects_counted, heads, months_of
from diagnose.library.summary_said import calibration_error, tenths
from diagnose.library.summary_settings import setting_runs
from diagnose.library.summary_trials import corrections
from diagnose.model.shop_picture import ShopPicture

STEPS = 5


def shop_picture(
    database: Database, wanted: Wanted, slots: Sequence[str], every_shop: bool = False,
    progress: Callable[[int], None] = lambda more: None,
) -> ShopPicture:  # fmt: skip
    """Return what the cases that match look like together; `slots` names the materials that windows depend on."""
    with database.read() as conn:
        book = database.words
        these = _slice(conn, database, wanted, every_shop)
        counts = heads(conn, these)
        progress(1)
        causes = causes_counted(conn, book, these)
        progress(1)
        tried = corrections(conn, book, these)
        progress(1)
        defects = defects_counted(conn, book, counts)
        runs = setting_runs(conn, book, these, [d.id for d in defects], slots)
        progress(1)
        said = tenths(conn, these)
        progress(1)
        months = months_of(counts)
        costs = costs_of(conn, book, counts)
    return ShopPicture(
        cases=sum(h.cases for h in counts), confirmed=sum(h.confirmed for h in counts),
        first_month=months[0].month if months else "", last_month=months[-1].month if months else "",
        defects=defects, causes=causes, months=months, settings=runs, corrections=tried, costs=costs,
        calibration=said, calibration_error=calibration_error(said),
    )  # fmt: skip


def _slice(conn: Connection, database: Database, wanted: Wanted, every_shop: bool) -> Slice:
    found = conditions(conn, database.words, wanted)
    # The counts that are kept up anyway are those of all cases of this shop.
    kept_counts = not found and not every_shop
    several = conn.execute(select(func.count()).select_from(t.shops)).scalar_one() > 1
    if several and not every_shop and not wanted.shop:
        found.append(t.cases.c.shop_id == t.OWN_SHOP)
    return Slice(tuple(found), kept_counts)
