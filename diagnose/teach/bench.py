"""The student's bench: a bad part that answers what it is asked, at its price in minutes and material."""

from __future__ import annotations

from typing import NamedTuple

from rapidfuzz import fuzz, process

from diagnose.consult import Consultant
from diagnose.errors import BadInput
from diagnose.model.case import Case
from diagnose.model.exercise import Exercise
from diagnose.model.vocabulary import NOT_KNOWN
from diagnose.rulebase.cases import recorded, told
from diagnose.rulebase.naming import stage_of

MATERIAL_MINUTES = {"nothing": 0.0, "a little material": 5.0, "the part": 30.0, "a mold": 60.0}
"""What spoiled material counts as, beside the time that a test takes."""
NEAR = 80.0


class Found(NamedTuple):
    """What asking brought out, and what it cost."""

    name: str
    answer: str
    minutes: float
    new: bool


class Price(NamedTuple):
    """Something that can be asked for, in the student's words, and its cost."""

    name: str
    question: str
    minutes: float
    spoils: str


class Bench:
    """One attempt at an exercise: what is known so far, what it cost, what the student settles on."""

    def __init__(self, of: Consultant, exercise: Exercise) -> None:
        self.of, self.exercise = of, exercise
        self.known = only(exercise.case, frozenset(exercise.told))
        self.asked: list[Found] = []
        self.named = ""
        self.proposed: dict[str, float] = {}

    @property
    def minutes(self) -> float:
        """Return what was spent so far. [min]"""
        return sum(found.minutes for found in self.asked)

    def open_facts(self) -> list[Price]:
        """Return everything that can still be asked for, cheapest first."""
        known = {*facts_of(self.known), *(f.name for f in self.asked)}
        names = [n for n in askable(self.of, self.exercise.case.defect) if n not in known]
        return sorted((price(self.of, n) for n in names), key=lambda p: p.minutes)

    def meant(self, typed: str) -> str:
        """Return the fact that typed words mean; raise BadInput with the nearest ones when none is meant."""
        base = self.of.base
        named = base.words.named(typed, stage_of(self.exercise.case.defect))
        every = askable(self.of, self.exercise.case.defect)
        if named in base.words.settings or named in base.words.observations or named in base.words.slots:
            return named
        near = process.extract(typed.casefold(), every, scorer=fuzz.WRatio, limit=3)
        if near and near[0][1] >= NEAR and (len(near) == 1 or near[0][1] - near[1][1] > 5.0):
            return near[0][0]
        names = ", ".join(n for n, _, _ in near)
        raise BadInput(f"'{typed:.40}' is nothing that can be asked for here.", next_step=f"Near it: {names}.")

    def ask(self, name: str) -> Found:
        """Bring out a fact and pay for it; asked again, or where nobody recorded it, it costs nothing."""
        everything = facts_of(self.exercise.case)
        again = name in facts_of(self.known) or any(f.name == name for f in self.asked)
        minutes = 0.0 if again or name not in everything else price(self.of, name).minutes
        found = Found(name, everything.get(name, NOT_KNOWN), minutes, not again)
        if not again:
            self.asked.append(found)
            self.known = only(self.exercise.case, frozenset((*facts_of(self.known), name)))
        return found

    def propose(self, name: str, typed: str) -> str:
        """Take a corrected setting; returns it as understood, raises BadInput when it cannot be one."""
        setting = self.of.base.words.settings.get(self.of.base.words.named(name, stage_of(self.exercise.case.defect)))
        if setting is None:
            raise BadInput(f"'{name:.40}' is no setting.", next_step="Name a setting, such as: set cure time = 70 min")
        value = recorded(setting, typed).value
        if isinstance(value, tuple):
            raise BadInput(f"{setting.name} is a list of readings, not something to set.")
        self.proposed[setting.name] = value
        return f"{setting.name}: {self.of.show.value(setting.name, value)}"


def spent(minutes: float) -> str:
    """Return what something cost, in words: 0 is no time, and a part of a minute is not nothing."""
    if minutes < 0.5:
        return "under a minute" if minutes > 0.0 else "no time"
    return f"{minutes:.0f} min" if minutes < 60.0 else f"{minutes / 60.0:.1f} h"


def facts_of(case: Case) -> dict[str, str]:
    """Return every fact of a case as it was written."""
    return {**case.materials, **{n: r.typed for n, r in case.settings.items()}, **case.observations}


def only(case: Case, names: frozenset[str]) -> Case:
    """Return a case that knows only some of its facts."""
    parts = {s: {n: v for n, v in getattr(case, s).items() if n in names} for s in FACT_SECTIONS}
    return case.model_copy(update={**parts, "confirmed": (), "trials": (), "notes": ""})


FACT_SECTIONS = ("materials", "settings", "observations")


def askable(of: Consultant, defect: str) -> list[str]:
    """Return the observations, settings and materials that the rules of a defect look at, or that follow into one.

    Settings that a calculator may assume are left out, unless a rule looks at them: few shops write them down.
    """
    words = of.base.words
    found: dict[str, None] = {}
    todo = list(of.desk(defect).rule_facts)
    seen: set[str] = set()
    while todo:
        name = todo.pop(0)
        if name in seen:
            continue
        seen.add(name)
        seldom = name in words.settings and words.settings[name].assume and name not in of.desk(defect).rule_facts
        if name in words.observations or (name in words.settings and not seldom):
            found[name] = None
        slot = next((s for s in words.slots if name == s or name.startswith(s + " ")), None)
        if slot is not None and name not in words.derived and name not in words.settings:
            found[slot] = None
        for calculator in of.resolver.calculators:
            if name in calculator.gives and name not in words.settings:
                todo += [*calculator.needs, *calculator.takes]
    return list(found)


def price(of: Consultant, name: str) -> Price:
    """Return what a fact costs to find out."""
    words = of.base.words
    if name in words.observations:
        seen = words.observations[name]
        spoils = seen.bench_test.costs if seen.bench_test else "nothing"
        return Price(name, seen.ask, seen.effort / 60.0 + MATERIAL_MINUTES.get(spoils, 0.0), spoils)
    if name in words.settings:
        return Price(name, words.settings[name].ask, words.settings[name].effort / 60.0, "nothing")
    return Price(name, words.slots[name].ask, 0.5, "nothing")


def learned(of: Consultant, case: Case, exercise: Exercise, name: str) -> Case:
    """Return a case that knows one fact more of an exercise."""
    for section in FACT_SECTIONS:
        if name in getattr(exercise.case, section):
            return told(case, name, getattr(exercise.case, section)[name], of.base)
    return told(case, name, NOT_KNOWN, of.base) if name in of.base.words.observations else case
