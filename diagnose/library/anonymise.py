"""Cases for sharing between shops: without people, parts, words written freely, pictures and days."""

from __future__ import annotations

from diagnose.errors import BadInput
from diagnose.library.kept import Kept, Moved, Set, Tried
from diagnose.rulebase.cases import recorded
from diagnose.rulebase.load import RuleBase

SHOP = "another shop"
OTHER_CAUSE = "none of these"


def anonymised(kept: Kept, base: RuleBase) -> Kept:
    """Return a case with nothing in it that tells whose it is.

    Its `uid` stays, a number drawn at random, so that a shop that gets its own case back recognises it.
    """
    said = kept.said.model_copy(update={"at": kept.said.at[:7]}) if kept.said else None
    return Kept(
        uid=kept.uid, shop=SHOP, opened_at=kept.opened_at[:7], closed_at=kept.closed_at[:7], defect=kept.defect,
        date=kept.date[:7] if kept.month else "", materials=_known_answers(kept.materials, base),
        settings={n: _setting(n, s, base) for n, s in kept.settings.items() if n in base.words.settings},
        observations=_known_answers(kept.observations, base), said=said,
        trials=tuple(_trial(t, base) for t in kept.trials), confirmed=kept.confirmed,
        other_cause=OTHER_CAUSE if kept.other_cause else "",
    )  # fmt: skip


def _known_answers(told: object, base: RuleBase) -> dict[str, str]:
    """Return the answers that are words of the rules base; others were written freely."""
    words = base.words
    found = {}
    for name, answer in dict(told).items():  # type: ignore[call-overload]
        closed = words.answers(name) if name in words.observations or name in words.slots else ()
        if answer in closed or answer == "not known":
            found[name] = answer
    return found


def _setting(name: str, setting: Set, base: RuleBase) -> Set:
    """Return a setting as typed when that is a quantity and nothing else, else with its SI value alone."""
    return Set(typed=_quantity(name, setting.typed, base), value=setting.value)


def _quantity(name: str, typed: str, base: RuleBase) -> str:
    if name not in base.words.settings:
        return ""
    try:
        recorded(base.words.settings[name], typed)
    except BadInput:
        return ""
    return typed


def _trial(trial: Tried, base: RuleBase) -> Tried:
    moves = tuple(
        Moved(
            setting=m.setting, before=_quantity(m.setting, m.before, base), after=_quantity(m.setting, m.after, base),
            before_si=m.before_si, after_si=m.after_si,
        )
        for m in trial.moves if m.setting in base.words.settings
    )  # fmt: skip
    month = trial.date[:7] if trial.date[:4].isdigit() else ""
    return Tried(date=month, result=trial.result, cause=trial.cause, moves=moves)
