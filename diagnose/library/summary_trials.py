"""Which corrections were tried how often, and what came of them."""

from __future__ import annotations

from collections import Counter, defaultdict

from sqlalchemy import Connection, func, select

from diagnose.library import tables as t
from diagnose.library.leaf import LONGEST
from diagnose.library.summary_slice import Slice
from diagnose.library.wilson import wilson
from diagnose.library.words import WordBook
from diagnose.model.shop_picture import Correction

MOST = 20


def corrections(conn: Connection, book: WordBook, these: Slice) -> tuple[Correction, ...]:
    """Return the corrections tried most often whose result was told; the same words in other letters are one."""
    c = t.trial_counts.c
    query = select(c.changed, c.cause_id, c.result, func.sum(c.tried)).where(*these.of(t.trial_counts))
    results: dict[tuple[str, int], Counter[str]] = defaultdict(Counter)
    written: dict[tuple[str, int], str] = {}
    for changed, cause, result, count in conn.execute(query.group_by(c.changed, c.cause_id, c.result)):
        key = (changed.casefold(), cause)
        results[key][result] += int(count)
        written.setdefault(key, changed)
    often = sorted(results, key=lambda key: (-results[key].total(), key))[:MOST]
    causes = book.texts(conn, {cause for _, cause in often})
    return tuple(_correction(_whole_words(written[key]), causes[key[1]], results[key]) for key in often)


def _whole_words(changed: str) -> str:
    """Return a text that may have been cut where it is counted, ended at a word with a mark that it goes on."""
    return changed if len(changed) < LONGEST else f"{changed.rpartition(' ')[0]} ..."


def _correction(changed: str, cause: str, results: Counter[str]) -> Correction:
    tried, worked = results.total(), results["cured"] + results["better"]
    low, high = wilson(worked, tried)
    return Correction(
        changed=changed, cause=cause, tried=tried, cured=results["cured"], better=results["better"],
        same=results["same"], worse=results["worse"], worked=worked / tried, worked_low=low, worked_high=high,
    )  # fmt: skip
