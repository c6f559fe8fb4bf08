"""`NAME = VALUE` and `names`: a fact told by the name people use for it, and the names that count for a defect."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from diagnose import units
from diagnose.consult.needs import looked_at
from diagnose.interview import words
from diagnose.interview.prompt import Reply, choose, choose_either, skips
from diagnose.rulebase.naming import materials_meant, several, stage_of

if TYPE_CHECKING:
    from diagnose.interview.inquiry import Inquiry

PICK = "name"
_PLAINLY = re.compile(r"(\D+?) (?:is |of )?(\d.*)")
OTHER_THINGS = ("defect", "part", "notes", "date")


def tell_by_name(inquiry: Inquiry, given: str, typed: str) -> Reply:
    """Take a fact by its name or by another name of it; ask which one is meant where several are called so."""
    name = " ".join(given.casefold().split())
    if name in OTHER_THINGS:
        return inquiry.volunteered(name, typed)
    meant = called(inquiry, given, typed)
    if len(meant) == 1 and inquiry.case.defect:
        # What is called exactly so at another stage may not be what people of this one call so.
        stage = stage_of(inquiry.case.defect)
        meant += inquiry.of.base.words.names_meant.also(meant[0], stage)
    meant = _fitting(inquiry, meant, typed)
    if len(meant) > 1:
        inquiry.pick = (PICK, [(n, about(inquiry, n)) for n in meant])
        inquiry.value_told = typed
        return Reply([words.SEVERAL_NAMES.format(given=given.strip())])
    if meant:
        return inquiry.volunteered(meant[0], typed)
    if (named := inquiry.of.base.words.named(given)) in inquiry.of.base.words.derived:
        return inquiry.volunteered(named, typed)
    near = " or ".join(f"'{n}'" for n in inquiry.of.base.words.names_meant.near(given))
    hint = words.MEANT.format(near=near) if near else words.NO_NAME_LIKE_IT
    return Reply([" ".join((words.NO_NAME.format(given=given.strip()), hint, words.ASK_FOR_NAMES))])


def told_plainly(inquiry: Inquiry, asked: str, text: str) -> Reply | None:
    """Take a fact told as NAME NUMBER, where that is no answer to what is asked."""
    split = _PLAINLY.fullmatch(text)
    if split is None or _fits(inquiry, asked, text) or not called(inquiry, split[1], split[2]):
        return None
    return tell_by_name(inquiry, split[1], split[2])


def called(inquiry: Inquiry, given: str, typed: str) -> tuple[str, ...]:
    """Return what is called so and can have the value; that of the stage of the defect alone where there is one."""
    vocabulary = inquiry.of.base.words
    told = {*vocabulary.settings, *vocabulary.observations, *vocabulary.slots}
    meant = _fitting(inquiry, vocabulary.names_meant.meant(given, among=told), typed)
    return vocabulary.names_meant.of_stage(meant, stage_of(inquiry.case.defect))


def picked(inquiry: Inquiry, text: str) -> Reply:
    """Take the fact that is meant, with the value that was told."""
    assert inquiry.pick is not None
    names = [name for name, _ in inquiry.pick[1]]
    chosen = choose(text, names)
    if chosen is None and not skips(text):
        return Reply([f"Type a number from 1 to {len(names)}, not '{text:.40}'."])
    inquiry.pick = None
    return inquiry.volunteered(chosen, inquiry.value_told) if chosen else Reply([words.NOT_TAKEN])


def about(inquiry: Inquiry, name: str) -> str:
    """Return in a few words what a fact is."""
    vocabulary = inquiry.of.base.words
    if name in vocabulary.settings:
        return vocabulary.settings[name].says
    return vocabulary.observations[name].ask if name in vocabulary.observations else vocabulary.slots[name].ask


def _fitting(inquiry: Inquiry, meant: tuple[str, ...], typed: str) -> tuple[str, ...]:
    """Return those of several facts that a value can be one of; all of them where it can be one of none."""
    if len(meant) < 2:
        return meant
    return tuple(n for n in meant if _fits(inquiry, n, typed)) or meant


def _fits(inquiry: Inquiry, name: str, typed: str) -> bool:
    """Say whether a value can be one of a fact: a quantity of its dimension, or one of its answers."""
    vocabulary = inquiry.of.base.words
    if skips(typed):
        return True
    if name in vocabulary.slots and materials_meant(vocabulary.slots[name], typed):
        return True
    if name not in vocabulary.settings:
        return choose_either(typed, list(vocabulary.answers(name)), inquiry.says) is not None
    setting = vocabulary.settings[name]
    unit = setting.unit_us or setting.unit_metric
    if setting.many:
        return isinstance(units.read_many(typed, setting.dimension, unit, None), tuple)
    # Plain numbers have no unit to be told apart by; of ring sizes 7 and 54 the number itself says whose it is.
    plausible = (setting.plausible_low, setting.plausible_high) if setting.dimension == "number" else None
    found = units.read(setting.in_numbers(typed), setting.dimension, unit, plausible)
    return isinstance(found, units.Value) or (isinstance(found, units.Ask) and found.why != "unusual")


def depends(inquiry: Inquiry, name: str) -> list[str]:
    """Return a sentence where nothing of the defect at hand depends on a setting that was just told."""
    of = inquiry.of
    if inquiry.standing is None or name not in of.base.words.settings or name not in inquiry.case.settings:
        return []
    desk = inquiry.standing.desk
    if name in looked_at(desk, of.resolver):
        return []
    for earlier in (c.cause for c in desk.defect.candidates if c.hand_over):
        if name in looked_at(of.desk(earlier), of.resolver):
            return [words.COUNTS_EARLIER.format(name=of.base.defect(earlier).name)]
    return [words.NOTHING_DEPENDS]


def list_names(inquiry: Inquiry) -> Reply:
    """List what can be told that counts for the defect at hand, with the other names of settings and materials."""
    if inquiry.standing is None:
        return Reply([words.NAME_NO_DEFECT])
    vocabulary = inquiry.of.base.words
    counts = looked_at(inquiry.standing.desk, inquiry.of.resolver)
    numbers = [n for n in sorted(counts) if n in vocabulary.settings]
    seen = [n for n in sorted(counts) if n in vocabulary.observations]
    slots = [n for n in sorted(counts) if n in vocabulary.slots]
    say = [words.NAMES_SETTINGS, *(f"  {n}{_also(vocabulary.settings[n].words)}" for n in numbers)]
    say += [words.NAMES_MATERIALS, *(f"  {n}{_also(vocabulary.slots[n].words)}" for n in slots)] if slots else []
    return Reply([*say, words.NAMES_SEEN, f"  {inquiry.says('; '.join(seen))}"])


def _also(said: tuple[str, ...]) -> str:
    return f" ({', '.join(said[:3])})" if said else ""


def one_called(inquiry: Inquiry, given: str, typed: str = "skip") -> str:
    """Return the fact that is called so and can have a value, of several the one already told.

    Raises BadInput where that is not clear.
    """
    meant = called(inquiry, given, typed)
    told = {name for name, _ in inquiry.told}
    of_told = [name for name in meant if name in told]
    if len(meant) > 1 and len(of_told) != 1:
        raise several(given, meant)
    if meant:
        return of_told[0] if of_told else meant[0]
    return inquiry.of.base.words.named(given)
