"""Cases as rows of the tables, in the order of their columns."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Table

from diagnose.library import tables as t
from diagnose.library.counts import true_causes
from diagnose.library.features import pack, pack_chances, pack_evidence
from diagnose.library.kept import Kept, Told

CHILDREN = (t.facts, t.features, t.diagnoses, t.trials, t.moves, t.confirmed, t.photos)
_KINDS = {"material": t.MATERIAL, "setting": t.SETTING, "observation": t.OBSERVATION}


@dataclass(frozen=True)
class Row:
    """A case with its numbers in this library."""

    id: int
    shop: int
    revision: int
    kept: Kept


def names_in(kepts: Iterable[Kept]) -> set[str]:
    """Return every name that cases need a number for."""
    found: set[str] = set()
    for kept in kepts:
        found.add(kept.defect)
        found.update(true_causes(kept))
        for mapping in (kept.materials, kept.observations):
            found.update(mapping)
            found.update(mapping.values())
        found.update(kept.settings)
        if kept.said:
            found.update([c.cause for c in kept.said.causes])
            for spoke in kept.said.evidence:
                found.add(spoke.rule)
                found.add(spoke.cause)
        for trial in kept.trials:
            found.add(trial.cause)
            found.update([m.setting for m in trial.moves])
    return found


class Sheaf:
    """The rows of many cases, table by table; `numbers` gives the number of every name in them."""

    def __init__(self, numbers: Mapping[str, int]) -> None:
        self.numbers = numbers
        self.rows: dict[Table, list[tuple[Any, ...]]] = {table: [] for table in (t.cases, *CHILDREN)}

    def add(self, row: Row) -> None:
        """Put in a case."""
        kept, number = row.kept, self.numbers
        case, defect = row.id, self.numbers[row.kept.defect]
        facts = list(kept.facts())
        self.rows[t.cases].append(self._case(row, defect, facts))
        self.rows[t.facts] += [
            (
                case, number[f.name], defect, _KINDS[f.kind], f.number,
                json.dumps(f.readings) if f.readings is not None else None, number[f.answer], f.typed,
            )
            for f in facts
        ]  # fmt: skip
        self.rows[t.features].append((defect, case, pack(facts, number)))
        self._said(kept, case)
        self._trials(kept, case, defect)
        for i, cause in enumerate(kept.confirmed, 1):
            self.rows[t.confirmed].append((case, i, number[cause], defect))
        for i, photo in enumerate(kept.photos, 1):
            self.rows[t.photos].append((case, i, photo.path, photo.digest))

    def _case(self, row: Row, defect: int, facts: list[Told]) -> tuple[Any, ...]:
        k = row.kept
        return (
            row.id, k.uid, k.name, row.shop, defect, k.stage, k.state, k.date, k.month, k.opened_at, k.closed_at,
            k.author, k.part, k.notes, _search(k), k.other_cause, len(true_causes(k)), k.cost, k.currency, row.revision,
            k.fingerprint(facts),
        )  # fmt: skip

    def _said(self, kept: Kept, case: int) -> None:
        said, number = kept.said, self.numbers
        if said is None:
            return
        cause, chance = (said.causes[0].cause, said.causes[0].chance) if said.causes else ("", 0.0)
        self.rows[t.diagnoses].append(
            (
                case, said.at, said.verdict, number[cause], chance, pack_chances(said.causes, number),
                pack_evidence(said.evidence, number),
            )
        )  # fmt: skip

    def _trials(self, kept: Kept, case: int, defect: int) -> None:
        number = self.numbers
        for i, tried in enumerate(kept.trials, 1):
            self.rows[t.trials].append(
                (
                    case, i, tried.date, tried.changed, tried.outcome, tried.result, number[tried.cause], defect,
                    tried.author,
                )
            )  # fmt: skip
            self.rows[t.moves] += [
                (case, i, number[m.setting], m.before, m.before_si, m.after, m.after_si) for m in tried.moves
            ]


def _search(kept: Kept) -> str:
    trials = (x for tried in kept.trials for x in (tried.changed, tried.outcome))
    return "\n".join(p for p in (kept.part, kept.notes, kept.other_cause, *trials) if p).casefold()
