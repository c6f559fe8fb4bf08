"""Cases for sharing between shops: without people, parts, words written freely, pictures and days."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import get_args

from diagnose.errors import BadInput
from diagnose.library.kept import UNLISTED, Kept, Moved, Said, Set, Tried
from diagnose.model.verdict import Verdict
from diagnose.model.vocabulary import NOT_KNOWN
from diagnose.rulebase.cases import recorded
from diagnose.rulebase.load import RuleBase

SHOP = "another shop"
OTHER_CAUSE = "none of these"
_DAY = re.compile(r"[0-9]{4}-(0[1-9]|1[0-2])(-[0-9]{2}([T ][0-9:.]*Z?)?)?")


def anonymised(kept: Kept, base: RuleBase) -> Kept:
    """Return a case with nothing in it that tells whose it is: of names and answers, only words of the rules base stay.

    Its `uid` stays, a number drawn at random, so that a shop that gets its own case back recognises it.
    """
    causes = tuple(c for c in kept.confirmed if _is_cause(c, base))
    return Kept(
        uid=kept.uid, shop=SHOP, opened_at=_month(kept.opened_at), closed_at=_month(kept.closed_at),
        defect=kept.defect if kept.defect in base.defect_files else "", date=_month(kept.date),
        materials=_known_answers(kept.materials, base),
        settings={n: _setting(n, s, base) for n, s in kept.settings.items() if n in base.words.settings},
        observations=_known_answers(kept.observations, base), said=_said(kept, base),
        trials=tuple(_trial(t, base) for t in kept.trials), confirmed=causes,
        other_cause=OTHER_CAUSE if kept.other_cause or causes != kept.confirmed else "",
    )  # fmt: skip


def _month(text: str) -> str:
    """Return the month that a text begins with when it is a date or a time, else nothing."""
    return text[:7] if _DAY.fullmatch(text) else ""


def _is_cause(name: str, base: RuleBase) -> bool:
    return base.is_cause(name) or name == UNLISTED


def _known_answers(told: Mapping[str, str], base: RuleBase) -> dict[str, str]:
    """Return the answers that are words of the rules base; others were written freely."""
    words = base.words
    found = {}
    for name, answer in told.items():
        closed = words.answers(name) if name in words.observations or name in words.slots else ()
        if answer in closed or (answer == NOT_KNOWN and (closed or name in words.settings)):
            found[name] = answer
    return found


def _said(kept: Kept, base: RuleBase) -> Said | None:
    """Return what was said, as far as it names causes and rules of the rules base."""
    if kept.said is None:
        return None
    rules = {rule.id for rule in base.defect(kept.defect).rules()} if kept.defect in base.defect_files else set()
    return Said(
        at=_month(kept.said.at), verdict=kept.said.verdict if kept.said.verdict in get_args(Verdict) else "",
        causes=tuple(c for c in kept.said.causes if _is_cause(c.cause, base)),
        evidence=tuple(e for e in kept.said.evidence if e.rule in rules and _is_cause(e.cause, base)),
    )  # fmt: skip


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
    cause = trial.cause if _is_cause(trial.cause, base) else ""
    return Tried(date=_month(trial.date), result=trial.result, cause=cause, moves=moves)
