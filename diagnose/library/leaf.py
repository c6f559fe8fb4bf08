"""A case as plain values, ready for the tables but for the numbers that only a library can give.

Reading and checking a case is much of the work of taking it in, and this form of it travels cheaply from the process
that reads (see `ahead.py`) to the one that writes.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from typing import Any, NamedTuple

from diagnose.library.kept import Kept

MATERIAL, SETTING = 1, 2
LONGEST = 200
"""How much of what was changed in a trial tells it from another: an index has its limits."""

Fact = tuple[int, str, str, float | None, str | None, str]
"""A material or a setting: kind, name, as typed, SI number, JSON list of SI readings, answer."""
Observed = tuple[tuple[str, str], ...]
"""Names of observations with their answers."""


class Leaf(NamedTuple):
    """One case; every name in it stands in `names` once more."""

    uid: str
    name: str
    shop: str
    opened_at: str
    defect: str
    date: str
    month: int
    head: tuple[Any, ...]
    """What the columns of `cases` hold besides: see `Sheaf`."""
    fingerprint: str
    names: tuple[str, ...]
    facts: tuple[Fact, ...]
    observed: Observed
    said: tuple[str, str, tuple[tuple[str, float], ...], tuple[tuple[str, str, bool, bool], ...]] | None
    """When, the verdict, each cause with its chance, each rule with its cause, whether for it, whether counted."""
    trials: tuple[tuple[str, str, str, str, str, str, tuple[tuple[Any, ...], ...]], ...]
    """Date, what was changed, what came out, result, cause, author, and the moves."""
    tried: tuple[tuple[str, str, str], ...]
    """Of trials whose result was told: cause, result, and the beginning of what was changed."""
    true: tuple[str, ...]
    """What it turned out to be; empty while not confirmed."""
    confirmed: tuple[str, ...]
    photos: tuple[tuple[str, str], ...]
    cost: int | None
    currency: str


def leaf_of(kept: Kept) -> Leaf:
    """Return a case as plain values."""
    facts, observed = _facts(kept), tuple(kept.observations.items())
    names = [kept.defect]
    for _, name, _, _, _, answer in facts:
        names.append(name)
        names.append(answer)
    for seen in observed:
        names += seen
    said = None
    if kept.said is not None:
        causes = tuple([(c.cause, c.chance) for c in kept.said.causes])
        spoke = tuple([(e.rule, e.cause, e.speaks == "for", e.counted) for e in kept.said.evidence])
        said = (kept.said.at, kept.said.verdict, causes, spoke)
        names += [cause for cause, _ in causes]
        for rule, cause, _, _ in spoke:
            names.append(rule)
            names.append(cause)
    trials, tried, search = [], [], [kept.part, kept.notes, kept.other_cause]
    for t in kept.trials:
        moves = tuple([(m.setting, m.before, m.before_si, m.after, m.after_si) for m in t.moves])
        trials.append((t.date, t.changed, t.outcome, t.result, t.cause, t.author, moves))
        if t.result and t.changed:
            tried.append((t.cause, t.result, " ".join(t.changed.split())[:LONGEST]))
        names.append(t.cause)
        names += [move[0] for move in moves]
        search += [t.changed, t.outcome]
    true = kept.true_causes
    names += true
    return Leaf(
        kept.uid, kept.name, kept.shop, kept.opened_at, kept.defect, kept.date, kept.month,
        (kept.stage, kept.state, kept.closed_at, kept.author, kept.part, kept.notes,
         "\n".join([text for text in search if text]).casefold(), kept.other_cause),
        fingerprint(kept, facts), tuple(set(names)), facts, observed, said, tuple(trials), tuple(tried), true,
        kept.confirmed, tuple([(p.path, p.digest) for p in kept.photos]), kept.cost, kept.currency,
    )  # fmt: skip


def _facts(kept: Kept) -> tuple[Fact, ...]:
    facts: list[Fact] = [(MATERIAL, name, "", None, None, answer) for name, answer in kept.materials.items()]
    for name, told in kept.settings.items():
        value = told.value
        if isinstance(value, tuple):
            facts.append((SETTING, name, told.typed, None, json.dumps(value), ""))
        else:
            facts.append((SETTING, name, told.typed, value, None, ""))
    return tuple(facts)


def fingerprint(kept: Kept, facts: Sequence[Fact] | None = None) -> str:
    """Return a fingerprint of what was told; a case taken in twice has it twice."""
    # The zero byte is in no text that is kept, so no two different lists are joined to the same text. Nine digits: the
    # same reading typed in another unit is the same fact.
    told = [f"observation\0{name}\0{answer}\0" for name, answer in kept.observations.items()]
    for kind, name, _, number, readings, answer in facts if facts is not None else _facts(kept):
        if kind == MATERIAL:
            told.append(f"material\0{name}\0{answer}\0")
        elif readings is None:
            told.append(f"setting\0{name}\0\0{number:.9g}")
        else:
            digits = " ".join([f"{n:.9g}" for n in kept.settings[name].value])  # type: ignore[union-attr]
            told.append(f"setting\0{name}\0\0{digits}")
    told.sort()
    text = "\0\0".join((kept.part, kept.defect, kept.date, kept.notes, *told))
    return hashlib.blake2b(text.encode(), digest_size=16).hexdigest()
