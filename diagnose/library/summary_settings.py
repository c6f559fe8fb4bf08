"""Settings of bad runs beside those of good ones: as recorded with the fault, and as revised where that cured it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from sqlalchemy import ColumnElement, Connection, Select, func, select

from diagnose.library import tables as t
from diagnose.library.summary_slice import Slice
from diagnose.library.words import WordBook
from diagnose.model.shop_picture import Run, SettingRuns, Spread

LOOKED_AT, DEFECTS, SETTINGS, LAST = 15, 5, 2, 40
"""How many of the most frequent defects are looked at and shown, of their revised settings, and of their last runs."""
LEAST = 3
"""Good runs that make a comparison."""


def setting_runs(
    conn: Connection, book: WordBook, these: Slice, defects: Sequence[str], slots: Sequence[str]
) -> tuple[SettingRuns, ...]:
    """Return the settings most often revised with success in the most frequent defects, the latter first."""
    found = []
    for defect in defects[:LOOKED_AT]:
        number = book.known(conn, defect)
        revised = _revised(conn, these, number) if number else []
        for setting in revised:
            assert number is not None
            bad = _values(conn, _recorded(these, number, setting))
            good = _values(conn, _cured(these, number, setting))
            if len(bad) and len(good) >= LEAST:
                found.append(
                    SettingRuns(
                        defect=defect, setting=book.text(conn, setting), bad=_spread(bad), good=_spread(good),
                        last_bad=_last(conn, _recorded(these, number, setting)),
                        last_good=_last(conn, _cured(these, number, setting)),
                        materials=_materials(conn, book, number, slots),
                    )
                )  # fmt: skip
        if len({runs.defect for runs in found}) >= DEFECTS:
            break
    return tuple(found)


def _revised(conn: Connection, these: Slice, defect: int) -> list[int]:
    """Return the settings most often revised in trials that cured a defect."""
    query = (
        select(t.moves.c.name_id, func.count())
        .join(t.trials, (t.trials.c.case_id == t.moves.c.case_id) & (t.trials.c.number == t.moves.c.trial))
        .where(t.trials.c.defect_id == defect, t.trials.c.result == "cured", t.moves.c.after_number.is_not(None))
        .group_by(t.moves.c.name_id)
        .having(func.count() >= LEAST)
        .order_by(func.count().desc(), t.moves.c.name_id)
        .limit(SETTINGS)
    )
    query = _only(these, query, t.trials.c.case_id)
    return [setting for setting, _ in conn.execute(query)]


def _recorded(these: Slice, defect: int, setting: int) -> Select[Any]:
    """Return the query for the values recorded with a defect, with their cases."""
    f = t.facts.c
    query = select(f.number, f.case_id).where(
        f.defect_id == defect, f.name_id == setting, f.answer_id == t.NOTHING, f.number.is_not(None)
    )
    return _only(these, query, f.case_id)


def _cured(these: Slice, defect: int, setting: int) -> Select[Any]:
    """Return the query for the values to which a setting was revised in trials that cured a defect."""
    query = (
        select(t.moves.c.after_number, t.moves.c.case_id)
        .join(t.trials, (t.trials.c.case_id == t.moves.c.case_id) & (t.trials.c.number == t.moves.c.trial))
        .where(
            t.trials.c.defect_id == defect, t.trials.c.result == "cured", t.moves.c.name_id == setting,
            t.moves.c.after_number.is_not(None),
        )
    )  # fmt: skip
    return _only(these, query, t.moves.c.case_id)


def _only(these: Slice, query: Select[Any], case: ColumnElement[int]) -> Select[Any]:
    """Return a query about one defect for only those of its cases that are meant."""
    if these.any_case_of_a_defect:
        return query
    return query.join(t.cases, t.cases.c.id == case).where(*these.of(t.cases))


def _values(conn: Connection, query: Select[Any]) -> np.ndarray[Any, np.dtype[np.float64]]:
    cursor: Any = conn.execute(query).cursor
    return np.array([row[0] for row in cursor.fetchall()], dtype=np.float64)


def _spread(values: np.ndarray[Any, np.dtype[np.float64]]) -> Spread:
    low, middle, high = (float(v) for v in np.percentile(values, (25, 50, 75)))
    return Spread(runs=len(values), low=low, middle=middle, high=high)


def _last(conn: Connection, query: Select[Any]) -> tuple[Run, ...]:
    """Return the last runs kept, the earliest of them first."""
    value, case = query.selected_columns
    latest = query.order_by(case.desc()).limit(LAST).subquery()
    named = select(t.cases.c.name, t.cases.c.date, latest.c[value.name]).join(latest, latest.c.case_id == t.cases.c.id)
    rows = conn.execute(named.order_by(t.cases.c.date, t.cases.c.id)).all()
    return tuple(Run(case=name, date=date, value=value) for name, date, value in rows)


def _materials(conn: Connection, book: WordBook, defect: int, slots: Sequence[str]) -> tuple[tuple[str, str], ...]:
    """Return the most frequent material of each slot among the cases of a defect; of equals the first by name."""
    found = []
    for slot in slots:
        name = book.known(conn, slot)
        if name is None:
            continue
        f = t.facts.c
        query = select(f.answer_id, func.count()).where(
            f.defect_id == defect, f.name_id == name, f.answer_id != t.NOTHING
        )
        counts = conn.execute(query.group_by(f.answer_id)).all()
        texts = book.texts(conn, {answer for answer, _ in counts})
        ranked = sorted((-count, texts[answer]) for answer, count in counts)
        found += [(slot, text) for _, text in ranked[:1]]
    return tuple(found)
