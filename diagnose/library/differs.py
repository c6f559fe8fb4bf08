"""What a change did to a case: each field that differs, before and after."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import zip_longest

from diagnose.library.kept import Kept, Tried

TEXTS = ("part", "defect", "date", "notes", "other_cause", "closed_at", "shop", "currency")
TABLES = ("materials", "settings", "observations")
LONGEST = 60
"""How much of a text is shown. [characters]"""


def differences(before: Kept, after: Kept) -> Iterator[str]:
    """Yield each difference between two states of a case, in words."""
    for name in TEXTS:
        yield from _change(name.replace("_", " "), getattr(before, name), getattr(after, name))
    for name in TABLES:
        old, new = _typed(getattr(before, name)), _typed(getattr(after, name))
        for fact in sorted({*old, *new}):
            yield from _change(fact, old.get(fact, ""), new.get(fact, ""))
    yield from _change("confirmed", ", ".join(before.confirmed), ", ".join(after.confirmed))
    yield from _change("cost", _amount(before.cost), _amount(after.cost))
    yield from _trials(before.trials, after.trials)
    yield from _change("photos", str(len(before.photos)), str(len(after.photos)))
    if before.said != after.said:
        yield "diagnosed anew"


def _change(name: str, old: str, new: str) -> Iterator[str]:
    if old != new:
        yield f"{name}: {_short(old)} -> {_short(new)}"


def _short(text: str) -> str:
    plain = " ".join(text.split())
    return (plain if len(plain) <= LONGEST else plain[: LONGEST - 3] + "...") or "nothing"


def _typed(facts: Mapping[str, object]) -> dict[str, str]:
    return {name: str(getattr(value, "typed", value)) for name, value in facts.items()}


def _amount(cost: int | None) -> str:
    return "" if cost is None else f"{cost / 100:.2f}"


def _trials(old: tuple[Tried, ...], new: tuple[Tried, ...]) -> Iterator[str]:
    for number, (before, after) in enumerate(zip_longest(old, new), 1):
        if after is None:
            yield f"trial {number}: gone"
        elif before is None:
            yield f"trial {number}: {_short(trial_words(after))}"
        else:
            yield from _change(f"trial {number}", trial_words(before), trial_words(after))


def trial_words(trial: Tried) -> str:
    """Return what was changed in a trial, and what came of it."""
    moves = "; ".join(f"{m.setting}: {m.before or '?'} -> {m.after}" for m in trial.moves)
    changed = "; ".join(part for part in (trial.changed, moves) if part)
    came = ", ".join(part for part in (trial.result, trial.outcome) if part)
    return f"{changed or 'something'}: {came or 'no result yet'}"
