"""Case files: read with every fault named, written so that they read back the same."""

from __future__ import annotations

from collections.abc import Container, Mapping
from pathlib import Path
from typing import Any

from diagnose import units
from diagnose.errors import BadInput
from diagnose.model.case import Case, Recorded, Trial, Value
from diagnose.model.vocabulary import NOT_KNOWN, Setting
from diagnose.rulebase.cursor import Cursor, suggest
from diagnose.rulebase.files import dump, parse, read_text
from diagnose.rulebase.issue import Issue
from diagnose.rulebase.load import RuleBase
from diagnose.rulebase.naming import materials_meant, several, stage_of

KEYS = (
    "part", "defect", "date", "materials", "settings", "observations", "notes", "trials", "confirmed", "author",
    "library",  # what a case library knows beyond the case; read only there
)  # fmt: skip


def recorded(setting: Setting, typed: str) -> Recorded:
    """Return a setting as recorded from what was written; raise BadInput if it cannot be used."""
    plausible = (setting.plausible_low, setting.plausible_high)
    unit = setting.unit_us or setting.unit_metric
    if setting.many:
        found = units.read_many(typed, setting.dimension, unit, plausible, bare="refuse", name=setting.name)
        if not isinstance(found, tuple):
            raise BadInput(getattr(found, "reason", "") or getattr(found, "question", ""))
        return Recorded(typed=typed, value=tuple(v.si for v in found))
    quantity = setting.in_numbers(typed)
    return Recorded(
        typed=typed, value=units.must_read(quantity, setting.dimension, unit, plausible, name=setting.name).si
    )


def fact_value(base: RuleBase, name: str, typed: str) -> Value | Recorded:
    """Return the value of any fact that can be told: a material or an answer as text, a setting as recorded."""
    words = base.words
    if name in words.settings:
        return recorded(words.settings[name], typed)
    known = words.answers(name) if name in words.observations or name in words.slots else ()
    if not known:
        raise unknown_name(base, name)
    if name in words.slots:
        meant = materials_meant(words.slots[name], typed)
        if len(meant) > 1:
            raise several(typed, meant)
        if meant:
            return meant[0]
    answer = next((a for a in (*known, NOT_KNOWN) if _same(typed, a)), None)
    if answer is None:
        choices = ", ".join((*known, NOT_KNOWN))
        raise BadInput(
            f"'{typed}' is no answer to '{name}'.", next_step=suggest(typed, known) or f"Answers: {choices}."
        )
    return answer


def _same(typed: str, answer: str) -> bool:
    """Say whether an answer was typed, as the rules base has it or as it is shown in US units."""
    return typed.casefold().replace("°", "") in (
        said.casefold().replace("°", "") for said in (answer, units.prose(answer, "us"))
    )


def unknown_name(base: RuleBase, name: str) -> BadInput:
    """Return the error for a name that is none of a fact that can be told, with the ones that may be meant."""
    if name in base.words.derived:
        return BadInput(f"'{name}' is computed and cannot be told.", next_step="Tell what it is computed from.")
    near = " or ".join(f"'{n}'" for n in base.words.names_meant.near(name))
    listed = "No name is like it; `diagnose rules list --kind settings` (or observations) shows all."
    return BadInput(f"unknown name '{name}'.", next_step=f"Did you mean {near}?" if near else listed)


def read_case(path: Path, base: RuleBase, good: bool = False) -> Case:
    """Return the case in a file; raise one BadInput that names every fault with its line.

    A run that came out good need not name a defect.
    """
    return case_from_text(read_text(path), str(path), base, good)


def case_from_text(text: str, where: str, base: RuleBase, good: bool = False) -> Case:
    """Return the case that a YAML text holds."""
    issues: list[Issue] = []
    c = Cursor(parse(text, where), where, "", issues)
    c.only(*KEYS)
    case = case_at(c, base, good)
    refuse(issues)
    return case


def refuse(issues: list[Issue]) -> None:
    """Raise one BadInput for everything that is wrong in a file, if anything is."""
    if issues:
        raise BadInput("\n".join(i.text() for i in issues), next_step=f"\n{len(issues)} to mend; nothing was changed.")


def case_at(c: Cursor, base: RuleBase, good: bool = False) -> Case:
    """Return the case at a place in a file; what is wrong with it is noted in the cursor's issues."""
    told: dict[str, dict[str, object]] = {}
    skipped: dict[str, object] = {}  # asked and not known: kept with the observations, whatever it is
    stage = stage_of(c.text("defect", ""))
    for section in ("materials", "settings", "observations"):
        told[section] = {}
        sub = c.child(section)
        for written in sub.tree:
            name = _named(sub, written, section, base, stage)
            if not name:
                continue
            if name in told[section] or name in skipped:
                sub.fault(f"'{name}' is told twice.", "Keep one.", written)
                continue
            value = "; ".join(sub.tree[written]) if isinstance(sub.tree[written], list) else sub.text(written)
            if value == NOT_KNOWN:
                skipped[name] = NOT_KNOWN
                continue
            found = sub.attempt(lambda n=name, v=value: fact_value(base, n, v), written)  # type: ignore[misc]
            if found is not None:
                told[section][name] = found
    defect = c.text("defect", "" if good else None)
    if defect and defect not in base.defect_files:
        c.fault(f"unknown defect '{defect}'.", suggest(defect, base.defect_files), "defect")
    trials = []
    for item in c.items("trials"):
        item.only("changed", "outcome", "date")
        trials.append(Trial(changed=item.text("changed"), outcome=item.text("outcome"), date=item.text("date", "")))
    confirmed = c.texts("confirmed")
    for cause in confirmed:
        if not base.is_cause(cause):
            c.fault(f"unknown cause '{cause}'.", suggest(cause, base.causes), "confirmed")
    told["observations"].update(skipped)
    return Case(
        part=c.text("part", ""), defect=defect, date=c.text("date", ""), notes=c.text("notes", ""),
        trials=tuple(trials), confirmed=confirmed, **told,
    )  # fmt: skip


def _named(sub: Cursor, written: str, section: str, base: RuleBase, stage: str) -> str:
    """Return the fact of a section that a written name means; nothing, with a fault, when it is not clear."""
    words = base.words
    table: Mapping[str, object] = {
        "materials": words.slots, "settings": words.settings, "observations": words.observations
    }[section]  # fmt: skip
    if written in table:
        return written
    meant = words.names_meant.meant(written, stage, table)
    if len(meant) == 1:
        return meant[0]
    if meant:
        sub.fault(several(written, meant).what, "Write one of them.", written)
    else:
        near = " or ".join(f"'{n}'" for n in words.names_meant.near(written, table))
        hint = f"Did you mean {near}?" if near else f"`diagnose rules list --kind {section}` shows all."
        sub.fault(f"unknown name '{written}' under '{section}'.", hint, written)
    return ""


def case_to_text(case: Case, settings: Container[str] = ()) -> str:
    """Return a case as the YAML text of a case file; `settings` are the names that belong under settings."""
    data: dict[str, Any] = {"part": case.part, "defect": case.defect}
    if case.date:
        data["date"] = case.date
    data["materials"] = dict(case.materials)
    data["settings"] = {n: r.typed for n, r in case.settings.items()}
    data["settings"].update({n: a for n, a in case.observations.items() if n in settings})
    data["observations"] = {n: a for n, a in case.observations.items() if n not in settings}
    if case.notes:
        data["notes"] = case.notes
    if case.trials:
        data["trials"] = [t.model_dump() for t in case.trials]
    if case.confirmed:
        data["confirmed"] = list(case.confirmed)
    return dump({k: v for k, v in data.items() if v})


def told(case: Case, name: str, value: Value | Recorded, base: RuleBase) -> Case:
    """Return the case with one more (or changed) fact."""
    section = "materials" if name in base.words.slots else "settings" if name in base.words.settings else "observations"
    old = dict(getattr(case, section))
    old[name] = value
    return case.model_copy(update={section: old})


def forgotten(case: Case, name: str) -> Case:
    """Return the case without a fact."""
    update = {
        s: {k: v for k, v in getattr(case, s).items() if k != name} for s in ("materials", "settings", "observations")
    }
    return case.model_copy(update=update)
