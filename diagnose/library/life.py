"""The life of a case: opened, diagnosed, tried, confirmed, closed. Each step is a function of the case before it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from diagnose.errors import BadInput
from diagnose.library.find import a_day
from diagnose.library.kept import Kept, Moved, Tried, made
from diagnose.model.case import Recorded
from diagnose.rulebase.cases import fact_value
from diagnose.rulebase.load import RuleBase


def moved(kept: Kept, revised: Mapping[str, str], base: RuleBase) -> tuple[Moved, ...]:
    """Return revised settings beside what was recorded; raise BadInput for one that cannot be read."""
    found = []
    for name, typed in revised.items():
        value = fact_value(base, name, typed)
        if not isinstance(value, Recorded):
            raise BadInput(f"'{name}' is no setting.", next_step="Say it in words: --changed TEXT.")
        before = kept.settings.get(name)
        found.append(
            Moved(
                setting=name, before=before.typed if before else "", after=value.typed,
                before_si=before.value if before and isinstance(before.value, float) else None,
                after_si=value.value if isinstance(value.value, float) else None,
            )
        )  # fmt: skip
    return tuple(found)


def with_trial(kept: Kept, fields: Mapping[str, str], moves: tuple[Moved, ...] = ()) -> Kept:
    """Return the case with one more trial."""
    trial = made(Tried, {**fields, "moves": moves})
    if kept.closed_at:
        raise BadInput("the case is closed.", where=kept.name, next_step="Open it again: `diagnose library reopen`.")
    if trial.date:
        a_day(trial.date, first=True)
    if not (trial.changed.strip() or trial.moves):
        raise BadInput("what was changed?", where=kept.name, next_step="--changed TEXT or --set 'SETTING=VALUE'.")
    return kept.model_copy(update={"trials": (*kept.trials, trial)})


def with_result(kept: Kept, number: int, result: str, outcome: str) -> Kept:
    """Return the case with what came out of a trial that had no result yet or another one; trials count from 1."""
    if not 1 <= number <= len(kept.trials):
        has = f"its last one is trial {len(kept.trials)}" if kept.trials else "it has none yet"
        hint = "`diagnose library show` numbers them." if kept.trials else "Leave out --number to note the first one."
        raise BadInput(f"there is no trial {number}; {has}.", where=kept.name, next_step=hint)
    if not (result or outcome.strip()):
        raise BadInput(
            "what came out?", where=kept.name, next_step="--result cured (or better, same, worse), --outcome."
        )
    trial = kept.trials[number - 1]
    new = made(Tried, {**dict(trial), "result": result or trial.result, "outcome": outcome or trial.outcome})
    return kept.model_copy(update={"trials": (*kept.trials[: number - 1], new, *kept.trials[number:])})


def confirmed(kept: Kept, causes: Sequence[str], other: str) -> Kept:
    """Return the case with what it turned out to be, in the place of what was confirmed before."""
    other = other.strip()
    if not causes and not other:
        raise BadInput(
            "what was the cause?", where=kept.name, next_step="Name one or several, or --none-of-these 'IN YOUR WORDS'."
        )
    return kept.model_copy(update={"confirmed": tuple(dict.fromkeys(causes)), "other_cause": other})


def closed(kept: Kept, now: str) -> Kept:
    """Return the case closed."""
    if kept.closed_at:
        raise BadInput(
            "the case is closed already.", where=kept.name, next_step="`diagnose library reopen` opens it again."
        )
    return kept.model_copy(update={"closed_at": now})


def reopened(kept: Kept) -> Kept:
    """Return the case open again."""
    if not kept.closed_at:
        raise BadInput("the case is open.", where=kept.name, next_step="Nothing needs to be done.")
    return kept.model_copy(update={"closed_at": ""})


def with_cost(kept: Kept, cost: int | None, currency: str) -> Kept:
    """Return the case with what the scrap cost, in hundredths of the currency."""
    return kept.model_copy(update={"cost": cost, "currency": currency}) if cost is not None else kept
