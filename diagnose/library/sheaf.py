"""Cases as rows of the tables, in the order of their columns."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, NamedTuple

from sqlalchemy import Table

from diagnose.library import tables as t
from diagnose.library.features import pack, pack_chances, pack_evidence, pack_observed
from diagnose.library.kept import Kept
from diagnose.library.leaf import Leaf, leaf_of

CHILDREN = (t.facts, t.features, t.diagnoses, t.trials, t.moves, t.confirmed, t.photos)


@dataclass(frozen=True)
class Row:
    """A case with its numbers in this library."""

    id: int
    shop: int
    revision: int
    kept: Kept


class Entry(NamedTuple):
    """A case ready for the tables, with the numbers and the name that it has in this library."""

    id: int
    shop: int
    revision: int
    uid: str
    name: str
    opened_at: str
    leaf: Leaf

    @classmethod
    def of(cls, row: Row) -> Entry:
        """Return a case that has its name already."""
        leaf = leaf_of(row.kept)
        return cls(row.id, row.shop, row.revision, leaf.uid, leaf.name, leaf.opened_at, leaf)


class Sheaf:
    """The rows of many cases, table by table; `numbers` gives the number of every name in them."""

    def __init__(self, numbers: Mapping[str, int]) -> None:
        self.numbers = numbers
        self.rows: dict[Table, list[tuple[Any, ...]]] = {table: [] for table in (t.cases, *CHILDREN)}

    def add(self, entry: Entry) -> None:
        """Put in a case."""
        number, rows, case, leaf = self.numbers, self.rows, entry.id, entry.leaf
        defect = number[leaf.defect]
        stage, state, closed_at, author, part, notes, search, other_cause = leaf.head
        rows[t.cases].append(
            (
                case, entry.uid, entry.name, entry.shop, defect, stage, state, leaf.date, leaf.month, entry.opened_at,
                closed_at, author, part, notes, search, other_cause, len(leaf.true), leaf.cost, leaf.currency,
                entry.revision, leaf.fingerprint,
                pack_observed([(number[name], number[answer]) for name, answer in leaf.observed]),
            )
        )  # fmt: skip
        rows[t.facts] += [
            (case, number[name], defect, kind, value, readings, number[answer], typed)
            for kind, name, typed, value, readings, answer in leaf.facts
        ]
        rows[t.features].append((defect, case, pack(leaf.facts, leaf.observed, number)))
        if leaf.said is not None:
            at, verdict, causes, spoke = leaf.said
            cause, chance = causes[0] if causes else ("", 0.0)
            ranked, evidence = pack_chances(causes, number), pack_evidence(spoke, number)
            rows[t.diagnoses].append((case, at, verdict, number[cause], chance, ranked, evidence))
        if leaf.trials:
            self._trials(leaf, case, defect)
        for i, cause in enumerate(leaf.confirmed, 1):
            rows[t.confirmed].append((case, i, number[cause], defect))
        for i, (path, digest) in enumerate(leaf.photos, 1):
            rows[t.photos].append((case, i, path, digest))

    def _trials(self, leaf: Leaf, case: int, defect: int) -> None:
        number = self.numbers
        for i, (date, changed, outcome, result, cause, author, moves) in enumerate(leaf.trials, 1):
            self.rows[t.trials].append((case, i, date, changed, outcome, result, number[cause], defect, author))
            self.rows[t.moves] += [(case, i, number[setting], *values) for setting, *values in moves]


def names_in(leaves: Iterable[Leaf]) -> set[str]:
    """Return every name that cases need a number for."""
    found: set[str] = set()
    for leaf in leaves:
        found.update(leaf.names)
    return found
