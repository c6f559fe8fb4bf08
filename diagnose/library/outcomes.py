"""What the rules say of confirmed cases, packed beside each case, and the counts that they add up to.

A packed outcome is a row of 32-bit numbers, one for each rule of which all was told: twice the number of the rule's key
in `words`, plus one when the rule spoke.
"""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence

import numpy as np
from sqlalchemy import Connection, bindparam, delete, insert, select

from diagnose.library import tables as t
from diagnose.library.adding import add
from diagnose.library.words import AT_ONCE, WordBook
from diagnose.model.experience import Heard

# Made once: putting a statement together takes longer than running it.
_OUTCOMES = select(t.outcomes).where(t.outcomes.c.case_id.in_(bindparam("these", expanding=True)))
_REMOVE = delete(t.outcomes).where(t.outcomes.c.case_id.in_(bindparam("these", expanding=True)))
_PACKED = np.dtype("<u4")


class Counts:
    """What some cases add to the counts, to write it in one go."""

    def __init__(self) -> None:
        self.shares: dict[tuple[int, ...], list[float]] = defaultdict(lambda: [0.0])
        self.rules: dict[tuple[int, ...], list[float]] = defaultdict(lambda: [0, 0])

    def add(self, defect: int, causes: Sequence[int], packed: bytes, sign: int = 1) -> None:
        """Count what the rules say of a case, or with sign -1 take it out again."""
        said = [(int(n) >> 1, int(n) & 1) for n in np.frombuffer(packed, dtype=_PACKED)]
        for cause in causes:
            self.shares[defect, cause][0] += sign / len(causes)
            for rule, spoke in said:
                amount = self.rules[defect, rule, cause]
                amount[0] += sign
                amount[1] += sign * spoke

    def write(self, conn: Connection) -> None:
        """Add the amounts to the count tables."""
        add(conn, t.shares, self.shares)
        add(conn, t.rule_counts, self.rules)


def keep(conn: Connection, book: WordBook, heard: Iterable[tuple[int, Sequence[Heard]]]) -> None:
    """Keep and count what the rules say of cases, given by number. Only inside a writing transaction."""
    many = list(heard)
    book.learn(conn, (name for _, all_of in many for one in all_of for name in (one.defect, *one.causes, *one.said)))
    counts, rows = Counts(), []
    for case, all_of in many:
        for one in all_of:
            defect, causes = book.ids[one.defect], [book.ids[cause] for cause in one.causes]
            packed = pack(one.said, book)
            counts.add(defect, causes, packed)
            rows.append({"case_id": case, "defect_id": defect, "causes": json.dumps(causes), "packed": packed})
    if rows:
        conn.execute(insert(t.outcomes), rows)
    conn.execute(delete(t.to_learn).where(t.to_learn.c.case_id.in_([case for case, _ in many])))
    counts.write(conn)


def take_back(conn: Connection, ids: Sequence[int]) -> None:
    """Take cases out of the counts. Only inside a writing transaction, before the cases change or go."""
    counts = Counts()
    for i in range(0, len(ids), AT_ONCE):
        these = {"these": list(ids[i : i + AT_ONCE])}
        found = conn.execute(_OUTCOMES, these).all()
        for row in found:
            counts.add(row.defect_id, json.loads(row.causes), row.packed, -1)
        if found:
            conn.execute(_REMOVE, these)
    counts.write(conn)


def pack(said: Mapping[str, bool], book: WordBook) -> bytes:
    """Return what the rules say, by their keys, as the bytes that are kept."""
    return np.array(sorted(2 * book.ids[key] + spoke for key, spoke in said.items()), dtype=_PACKED).tobytes()
