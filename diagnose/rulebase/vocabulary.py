"""Settings, derived facts, observations and materials from their files."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from diagnose import units
from diagnose.model.vocabulary import (
    NOT_KNOWN,
    Assumption,
    BenchTest,
    Derived,
    Material,
    Observation,
    Property,
    PropertyValue,
    SafeLimits,
    Setting,
    SettingWindow,
    Slot,
)
from diagnose.rulebase import formats
from diagnose.rulebase.cursor import Cursor, suggest
from diagnose.rulebase.drawers import names_in
from diagnose.rulebase.naming import Names, several


@dataclass
class Vocabulary:
    """Everything that can be known, by name."""

    settings: Mapping[str, Setting] = field(default_factory=dict)
    derived: Mapping[str, Derived] = field(default_factory=dict)
    observations: Mapping[str, Observation] = field(default_factory=dict)
    slots: Mapping[str, Slot] = field(default_factory=dict)

    def dimension(self, fact: str) -> str | None:
        """Return the dimension of a numeric fact, `answer` for a worded one, None for an unknown one."""
        if fact in self.settings:
            return self.settings[fact].dimension
        if fact in self.derived:
            return self.derived[fact].dimension
        if fact in self.observations or fact in self.slots or self.slot_of_kind(fact):
            return "answer"
        prop = self.property_of(fact)
        return prop.dimension if prop else None

    def answers(self, fact: str) -> tuple[str, ...]:
        """Return the answers a worded fact can have."""
        if fact in self.observations:
            return tuple(self.observations[fact].answers)
        if fact in self.slots:
            return tuple(self.slots[fact].materials)
        if slot := self.slot_of_kind(fact):
            return slot.kinds()
        return self.derived[fact].answers if fact in self.derived else ()

    def slot_of_kind(self, fact: str) -> Slot | None:
        """Return the slot whose kind a fact such as `rubber kind` names."""
        return self.slots.get(fact.removesuffix(" kind")) if fact.endswith(" kind") else None

    def property_of(self, fact: str) -> Property | None:
        """Return the material property a fact such as `rubber diffusivity` names."""
        for slot in names_in(self.slots):
            if fact.startswith(slot + " ") and slot in self.slots:
                prop = self.slots[slot].properties.get(fact[len(slot) + 1 :])
                if prop:
                    return prop
        return None

    def about(self, fact: str) -> str:
        """Return the state of the world a fact tells about."""
        for table in (self.observations, self.settings, self.derived):
            if fact in table:
                return table[fact].about
        return fact

    @cached_property
    def names_meant(self) -> Names:
        """Return what finds the facts that a typed name can mean."""
        return Names(self)

    def named(self, typed: str, stage: str = "") -> str:
        """Return the fact name meant, other names that people use included; what was typed when there is none.

        Raises BadInput for a name that can mean several facts, unless exactly one belongs to the stage.
        """
        found = self.names_meant.meant(typed, stage)
        if len(found) > 1:
            raise several(typed, found)
        return found[0] if found else " ".join(typed.casefold().replace("-", " ").split())

    def names(self) -> list[str]:
        """Return every fact name."""
        return [n for table in (self.settings, self.derived, self.observations, self.slots) for n in names_in(table)]


def read_quantity_base(c: Cursor, name: str, stage: str) -> dict[str, str]:
    """Return the keys that settings and derived facts share."""
    unit = c.child("units")
    unit.only(*formats.UNITS.keys)
    dimension = c.text("dimension")
    base = {
        "name": name,
        "stage": stage,
        "says": c.text("says"),
        "dimension": dimension,
        "about": c.text("about", name),
    }
    base["unit_us"], base["unit_metric"] = unit.text("us", ""), unit.text("metric", "")
    if dimension not in units.dimensions() and dimension != "answer":
        c.fault(f"unknown dimension '{dimension}'.", f"Known: {', '.join(units.dimensions())}.", "dimension")
    return base


def _pair(c: Cursor, key: str, dimension: str) -> tuple[float, float]:
    raw = c.text(key)
    found = c.attempt(lambda: units.span(raw, dimension), key) if raw else None
    return found or (0.0, 1.0)


def _limits(c: Cursor, dimension: str) -> dict[str, object]:
    return {
        "low": c.quantity("from", dimension) if c.has("from") else None,
        "high": c.quantity("to", dimension) if c.has("to") else None,
        "because": c.text("because", ""),
        "source": c.source(),
    }


def read_setting(c: Cursor, name: str, stage: str) -> Setting | None:
    """Return a setting from its entry."""
    c.only(*formats.SETTING.keys)
    base = read_quantity_base(c, name, stage)
    dim = base["dimension"]
    low, high = _pair(c, "plausible", dim)
    windows = []
    for w in c.items("windows"):
        w.only(*formats.WINDOW.keys)
        holds = {k: w.child("for").texts(k) for k in w.child("for").tree}
        windows.append(SettingWindow(holds_for=holds, **_limits(w, dim)))
    safe = None
    if c.has("safe"):
        s = c.child("safe")
        s.only(*formats.WINDOW.keys)
        safe = SafeLimits(holds_for={k: s.child("for").texts(k) for k in s.child("for").tree}, **_limits(s, dim))
    step_dim = "temperature change" if dim == "temperature" else dim
    step = c.quantity("usual step", step_dim) if c.has("usual step") else None
    effort = (c.quantity("effort", "time") if c.has("effort") else None) or 90.0
    return c.attempt(
        lambda: Setting(
            **base, ask=c.text("ask", f"What was the {name}?"), plausible_low=low, plausible_high=high,
            usual_step=step, safe=safe, windows=tuple(windows), assume=_assumption(c, dim),
            many=c.text("many", "false") == "true", effort=effort, words=c.texts("words"),
            stands_for=_stands_for(c, dim),
        )
    )  # fmt: skip


def _stands_for(c: Cursor, dimension: str) -> dict[str, str]:
    """Return the quantity that each word of the trade stands for, as a person would write it."""
    words = c.child("stands for") if c.has("stands for") else None
    if words is None:
        return {}
    return {word.casefold(): words.text(word) for word in words.tree if words.quantity(word, dimension) is not None}


def _assumption(c: Cursor, dimension: str) -> Assumption | None:
    if not c.has("assume"):
        return None
    a = c.child("assume")
    a.only(*formats.ASSUMED.keys)
    value = a.quantity("value", dimension)
    if value is None:
        return None
    low = a.quantity("from", dimension) if a.has("from") else value
    high = a.quantity("to", dimension) if a.has("to") else value
    if not (low is not None and high is not None and low <= value <= high):
        a.fault("the assumed value does not lie between its bounds.", key="value")
        return None
    return Assumption(value=value, low=low, high=high, source=a.source())


def read_derived(c: Cursor, name: str, stage: str) -> Derived | None:
    """Return a derived fact from its entry."""
    c.only(*formats.DERIVED.keys)
    return c.attempt(lambda: Derived(**read_quantity_base(c, name, stage), answers=c.texts("answers")))


def read_observation(c: Cursor, name: str, stage: str) -> Observation | None:
    """Return an observation or bench test from its entry."""
    c.only(*formats.OBSERVATION.keys)
    answers = {a: c.child("answers").text(a, a) for a in c.child("answers").tree}
    if not 2 <= len(answers) <= 8:
        c.fault(f"has {len(answers)} answers; 2 to 8 are needed.", key="answers")
    if NOT_KNOWN in answers:
        c.fault("lists 'not known', which every observation has already.", "Remove it.", "answers")
    usual: dict[str, float] = {}
    for answer in c.child("usual").tree if c.has("usual") else ():
        if answer not in answers:
            c.fault(f"'usual' names '{answer}', which is no answer.", suggest(answer, answers), "usual")
        else:
            usual[answer] = float(c.attempt(lambda a=answer: float(c.child("usual").text(a))) or 0.0)  # type: ignore[misc]
    if sum(usual.values()) > 1.0 + 1e-9:
        c.fault("'usual' shares sum to more than 1.", key="usual")
    bench = None
    if c.has("bench test"):
        b = c.child("bench test")
        b.only(*formats.BENCH_TEST.keys)
        bench = BenchTest(
            do=b.texts("do"), costs=b.text("costs", "nothing"), caution=b.text("caution", ""), source=b.source()
        )
    effort = c.quantity("effort", "time") if c.has("effort") else (600.0 if bench else 60.0)
    return c.attempt(
        lambda: Observation(
            name=name, stage=stage, ask=c.text("ask"), why=c.text("why", ""), about=c.text("about", name),
            effort=effort or 60.0, answers=answers, usual=usual, words=c.texts("words"), bench_test=bench,
        )
    )  # fmt: skip


def read_slot(c: Cursor) -> Slot | None:
    """Return a material slot with its materials."""
    c.only(*formats.SLOT.keys)
    props: dict[str, Property] = {}
    for name, p in c.children("properties"):
        p.only(*formats.PROPERTY.keys)
        base = read_quantity_base(p, name, "")
        props[name] = Property(**{k: base[k] for k in ("name", "says", "dimension", "unit_us", "unit_metric")})
    materials = _materials(c, props)
    return c.attempt(
        lambda: Slot(
            name=c.text("slot"), ask=c.text("ask"), words=c.texts("words"), properties=props, materials=materials
        )
    )  # fmt: skip


def read_more(c: Cursor, slots: Mapping[str, Slot]) -> Slot | None:
    """Return the slot that a file holds more materials of, with these added; None, with a fault, if there is none."""
    c.only(*formats.MORE_OF_SLOT.keys)
    slot = slots.get(c.text("more of"))
    if slot is None:
        c.fault(f"no file is `slot: {c.text('more of')}`.", suggest(c.text("more of"), slots), "more of")
        return None
    return slot.model_copy(update={"materials": {**slot.materials, **_materials(c, slot.properties)}})


def _materials(c: Cursor, props: Mapping[str, Property]) -> dict[str, Material]:
    materials: dict[str, Material] = {}
    for name, m in c.children("materials"):
        m.only(*formats.MATERIAL.keys)
        values: dict[str, PropertyValue] = {}
        for pname, v in m.children("properties"):
            v.only(*formats.ASSUMED.keys)
            if pname not in props:
                v.fault(f"'{pname}' is not a property of this slot.", f"Known: {', '.join(props)}.")
                continue
            a = _assumption_of(v, props[pname].dimension)
            if a:
                values[pname] = a
        materials[name] = Material(
            name=name, kind=m.text("kind"), words=m.texts("words"), says=m.text("says", ""), properties=values
        )
    return materials


def _assumption_of(v: Cursor, dimension: str) -> PropertyValue | None:
    value = v.quantity("value", dimension)
    if value is None:
        return None
    low = v.quantity("from", dimension) if v.has("from") else value
    high = v.quantity("to", dimension) if v.has("to") else value
    if low is None or high is None or not low <= value <= high:
        v.fault("the value does not lie between its bounds.", key="value")
        return None
    return PropertyValue(value=value, low=low, high=high, source=v.source())
