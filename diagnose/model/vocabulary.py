"""What can be known about a part: observations, settings, derived facts, materials."""

from __future__ import annotations

import re
from collections.abc import Mapping

from diagnose.model.record import Record

STAGES = ("model", "mold", "wax", "tree", "investment", "burnout", "casting")
NOT_KNOWN = "not known"


class BenchTest(Record):
    """How to carry out an observation that costs effort, material or the part."""

    do: tuple[str, ...]
    costs: str
    caution: str = ""
    source: str


class Observation(Record):
    """Something a person can look at, feel or test, with a closed set of answers."""

    name: str
    stage: str
    ask: str
    why: str
    about: str
    effort: float  # [s]
    answers: Mapping[str, str]
    usual: Mapping[str, float] = {}
    words: tuple[str, ...] = ()
    bench_test: BenchTest | None = None


class Limits(Record):
    """A range in SI units with the reason for it and its source; an open end is None."""

    low: float | None = None
    high: float | None = None
    because: str = ""
    source: str = ""


class SettingWindow(Limits):
    """A recommended range that holds when the facts in `holds_for` have one of the given answers."""

    holds_for: Mapping[str, tuple[str, ...]] = {}


class SafeLimits(Limits):
    """A range that no advice leaves; with `holds_for` it holds unless the material is known to be another one."""

    holds_for: Mapping[str, tuple[str, ...]] = {}

    def hold(self, facts: Mapping[str, object]) -> bool:
        """Say whether the limits hold: what is not known does not lift them."""
        return all(facts.get(fact, answers[0]) in answers for fact, answers in self.holds_for.items())


class Assumption(Record):
    """What a calculator may take when it was not told, with bounds (SI)."""

    value: float
    low: float
    high: float
    source: str


class Quantity(Record):
    """A number with a dimension and the units each system prefers: a setting or a derived fact."""

    name: str
    stage: str
    says: str
    dimension: str
    unit_us: str
    unit_metric: str
    about: str


class Setting(Quantity):
    """A recorded quantity."""

    ask: str
    plausible_low: float
    plausible_high: float
    usual_step: float | None = None
    safe: SafeLimits | None = None
    windows: tuple[SettingWindow, ...] = ()
    assume: Assumption | None = None
    many: bool = False
    effort: float = 90.0  # [s] looking it up
    words: tuple[str, ...] = ()
    stands_for: Mapping[str, str] = {}

    def in_numbers(self, typed: str) -> str:
        """Return the quantity that a word of the trade stands for here; anything else as it was typed."""
        said = re.sub(r"^(?:at|the) ", "", " ".join(typed.casefold().split()))
        return self.stands_for.get(said, typed)


class Derived(Quantity):
    """A quantity (or, with dimension `answer`, a word) that a calculator finds."""

    answers: tuple[str, ...] = ()


class Property(Record):
    """A property that the materials of a slot have."""

    name: str
    says: str
    dimension: str
    unit_us: str
    unit_metric: str


class PropertyValue(Record):
    """One material's value of a property (SI), with bounds and source."""

    value: float
    low: float
    high: float
    source: str


class Material(Record):
    """One material of a slot: its kind and what is known of it."""

    name: str
    kind: str
    words: tuple[str, ...] = ()
    says: str = ""
    properties: Mapping[str, PropertyValue] = {}


class Slot(Record):
    """A place for a material in a case: the rubber, the wax, the investment, the metal ..."""

    name: str
    ask: str
    words: tuple[str, ...] = ()
    properties: Mapping[str, Property]
    materials: Mapping[str, Material]

    def span(self, prop: str) -> tuple[float, float] | None:
        """Return the lowest and highest value (SI) that any material here may have of a property."""
        found = [m.properties[prop] for m in self.materials.values() if prop in m.properties]
        return (min(p.low for p in found), max(p.high for p in found)) if found else None

    def kinds(self) -> tuple[str, ...]:
        """Return the kinds of material of this slot, each once."""
        return tuple(dict.fromkeys(m.kind for m in self.materials.values()))
