"""The shop picture: read from the count tables, and for the settings from the index of the facts."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from diagnose.library.connect import Database
from diagnose.library.summary_counts import causes_counted, costs_of, defects_counted, heads, months_of
from diagnose.library.summary_said import calibration_error, tenths
from diagnose.library.summary_settings import setting_runs
from diagnose.library.summary_slice import Asked, slice_of
from diagnose.library.summary_trials import corrections
from diagnose.model.shop_picture import ShopPicture

STEPS = 5
EVERYTHING = Asked()


def shop_picture(
    database: Database, slots: Sequence[str], asked: Asked = EVERYTHING,
    progress: Callable[[int], None] = lambda more: None,
) -> ShopPicture:  # fmt: skip
    """Return what the cases asked for look like together; `slots` names the materials that windows depend on."""
    with database.read() as conn:
        book = database.words
        these = slice_of(conn, book, asked)
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
