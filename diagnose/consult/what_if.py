"""What would change if some facts were others: the diagnosis before and after, side by side."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import TYPE_CHECKING

from diagnose.consult.condition_words import in_words
from diagnose.consult.revise_limits import past_safety
from diagnose.consult.revise_watch import new_accusations
from diagnose.errors import BadInput
from diagnose.model.case import Case, Recorded
from diagnose.model.diagnosis import DerivedShown, Diagnosis
from diagnose.model.what_if import Change, NumberBeside, WhatIf
from diagnose.rulebase.cases import fact_value, told
from diagnose.rulebase.naming import stage_of

if TYPE_CHECKING:
    from diagnose.consult.consultant import Consultant

SEVERAL = re.compile(r"[;,]\s*(?=[^=;,]+=)")  # a comma inside a number is followed by no further name
WHERE = "what if"


def what_if(of: Consultant, case: Case, changes: Iterable[str]) -> WhatIf:
    """Return the diagnosis of a case before and after `name=value` changes; raise BadInput for an unusable one."""
    changed = case
    shown: dict[str, Change] = {}
    for name, typed in _read(of, changes, stage_of(case.defect)):
        value = fact_value(of.base, name, typed)
        _refuse_unsafe(of, case, name, value)
        changed = told(changed, name, value, of.base)
        old, new = case.known().get(name), changed.known()[name]
        was = of.show.value(name, old) if old is not None else "not recorded"
        shown[name] = Change(name=name, from_=was, to=of.show.value(name, new))
    before, after = of.diagnose(case), of.diagnose(changed)
    return WhatIf(
        changes=tuple(shown.values()), before=before, after=after, numbers=_numbers(of, before, after, changed),
        cleared=_reasons(before, after), raised=_reasons(after, before), elsewhere=_elsewhere(of, case, changed, after),
        cautions=tuple(text for text in after.cautions if text not in before.cautions),
    )  # fmt: skip


def _read(of: Consultant, changes: Iterable[str], stage: str) -> list[tuple[str, str]]:
    found: dict[str, str] = {}
    for change in (part for text in changes for part in SEVERAL.split(text)):
        given, equals, typed = change.partition("=")
        if not equals or not given.strip() or not typed.strip():
            raise BadInput(
                f"'{change.strip()}' is not name=value.", where=WHERE, next_step="For example: 'wax temperature=68C'"
            )
        name, typed = of.base.words.named(given, stage), typed.strip()
        if name in of.base.words.derived:
            raise BadInput(f"{name} is computed and cannot be set.", where=WHERE, next_step=_comes_from(of, name))
        if found.setdefault(name, typed) != typed:
            raise BadInput(
                f"{name} is given twice, as {found[name]} and as {typed}.", where=WHERE, next_step="Give it once."
            )
    if not found:
        raise BadInput("nothing is changed.", where=WHERE, next_step="For example: 'wax temperature=68C'")
    return list(found.items())


def _comes_from(of: Consultant, name: str) -> str:
    settings = of.base.words.settings
    sources = [n for n in sorted(of.reviser.flow.before((name,))) if n in settings and settings[n].usual_step]
    return f"Change what it comes from: {', '.join(sources)}." if sources else "It comes from the material."


def _refuse_unsafe(of: Consultant, case: Case, name: str, value: object) -> None:
    setting = of.base.words.settings.get(name)
    if setting is None or not isinstance(value, Recorded):
        return
    for number in value.value if isinstance(value.value, tuple) else (value.value,):
        limit = past_safety(setting, number, of.resolver.resolve(case.known()).facts)
        if limit is not None:
            side = "at most" if number > limit.value else "at least"
            raise BadInput(
                f"{name} {of.show.value(name, number)} is past its safety limit, {side} "
                f"{of.show.value(name, limit.value)}: {limit.because}",
                where=WHERE, next_step="It is not worked out; stay inside the limit.",
            )  # fmt: skip


def _chain(d: Diagnosis) -> list[Diagnosis]:
    return [d, *(_chain(d.upstream) if d.upstream else ())]


def _derived(d: Diagnosis) -> dict[str, DerivedShown]:
    return {n.name: n for one in _chain(d) for n in one.derived}


def _numbers(of: Consultant, before: Diagnosis, after: Diagnosis, changed: Case) -> tuple[NumberBeside, ...]:
    was, then = _derived(before), _derived(after)
    refused = {c: of.show.refusal(why).what for c, why in of.stand(changed).resolved.refused.items()}
    return tuple(
        NumberBeside(
            name=name, before=was[name].value if name in was else "", after=then[name].value if name in then else "",
            why_not=refused.get(was[name].calculator, "") if name not in then else "",
        )
        for name in dict.fromkeys((*was, *then))
    )  # fmt: skip


def _reasons(here: Diagnosis, not_there: Diagnosis) -> tuple[str, ...]:
    there = {e.rule for d in _chain(not_there) for c in d.causes for e in c.evidence}
    return tuple(
        f"{c.name} ({e.weight}): {e.because}"
        for d in _chain(here) for c in d.causes for e in c.evidence if e.speaks == "for" and e.rule not in there
    )  # fmt: skip


def _elsewhere(of: Consultant, case: Case, changed: Case, after: Diagnosis) -> tuple[str, ...]:
    was, then = of.stand(case), of.stand(changed)
    watch = of.reviser.watch(was)
    accused = [watch.accused(s.resolved.facts, s.windows) for s in (was, then)]
    here = {(c.id, e.because) for d in _chain(after) for c in d.causes for e in c.evidence}
    return tuple(
        f"{of.base.cause_name(rule.cause)} ({rule.weight}): {in_words(rule.when, of.show)}. {rule.because}"
        for rule in new_accusations(*accused) if (rule.cause, rule.because) not in here
    )  # fmt: skip
