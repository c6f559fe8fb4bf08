"""Facts, amounts and efforts in the words and units a person would use."""

from __future__ import annotations

import re
from collections.abc import Mapping
from math import isfinite
from types import MappingProxyType

from diagnose import units
from diagnose.consult.rank import UNLISTED
from diagnose.errors import OutOfRange, in_si
from diagnose.model.case import Case, Value
from diagnose.rulebase.load import RuleBase

NOT_LISTED = "something this rules base does not list"

_UNIT = re.compile(r"[a-zA-Z°\"']")
DIGITS_OF_A_BOUND = 4  # so that a value just outside is not written like the bound
NO_DIGITS: Mapping[str, int] = MappingProxyType({})


def digits_known(low: float, high: float) -> int:
    """Return how many digits of a number between two bounds mean something: three when they are close, else two."""
    return 3 if high - low <= 0.1 * max(abs(low), abs(high)) else 2


class Shower:
    """Shows facts in one system of units, `us` or `metric`; with none named, in that in which facts were told."""

    def __init__(self, base: RuleBase, system: str = "us") -> None:
        self.base, self.system, self.named = base, system or "us", bool(system)

    def follow(self, case: Case) -> None:
        """Show from now on in the units in which most of a case's settings were written, unless a system was named."""
        votes = [vote for name, told in case.settings.items() if (vote := self._system_of(name, told.typed))]
        if not self.named and 2 * votes.count("metric") != len(votes):
            self.system = "metric" if 2 * votes.count("metric") > len(votes) else "us"

    def _system_of(self, name: str, typed: str) -> str:
        """Return the system that the unit in a typed text belongs to; nothing where it tells none."""
        setting = self.base.words.settings.get(name)
        if setting is None or setting.unit_us == setting.unit_metric or not _UNIT.search(typed):
            return ""
        found = units.read(typed, setting.dimension, None)
        own = {setting.unit_metric: "metric", setting.unit_us: "us"}
        systems = {units.unit_named(unit, setting.dimension).symbol: system for unit, system in own.items()}
        return systems.get(found.unit, "") if isinstance(found, units.Value) else ""

    def unit(self, fact: str) -> tuple[str, str]:
        """Return dimension and unit of a numeric fact."""
        words = self.base.words
        thing = words.settings.get(fact) or words.derived.get(fact) or words.property_of(fact)
        if thing is None:
            return "number", ""
        return thing.dimension, thing.unit_us if self.system == "us" else thing.unit_metric

    def value(self, fact: str, value: Value, digits: int = 3) -> str:
        """Return a fact's value as text with its unit."""
        if isinstance(value, str):
            return value
        dimension, unit = self.unit(fact)
        if isinstance(value, tuple):
            return "; ".join(units.show(v, dimension, unit, digits) for v in value)
        return units.show(value, dimension, unit, digits)

    def filled(self, text: str, facts: Mapping[str, Value], digits: Mapping[str, int] = NO_DIGITS) -> str:
        """Return a sentence with each fact's name in braces replaced by its value with unit.

        {name|size} leaves the sign out, where the words around it say which way; {name|about} rounds to two digits.
        `digits` says of which facts fewer digits are known than usual.
        """

        def put_in(m: re.Match[str]) -> str:
            name, _, how = m[1].partition("|")
            value = facts.get(name, name)
            value = abs(value) if how == "size" and isinstance(value, float) else value
            return self.value(name, value, 2 if how == "about" else digits.get(name, 3))

        return re.sub(r"\{([^{}]+)\}", put_in, text)

    def says(self, text: str) -> str:
        """Return a sentence of the rules base with its quantities in the units that the reader writes in."""
        return units.prose(text, self.system)

    def refusal(self, error: OutOfRange) -> OutOfRange:
        """Return why a calculator refused, with its quantities in the person's units."""
        return error.written(self._quantity)

    def _quantity(self, name: str, value: float, si_unit: str) -> str:
        """Return a quantity in the units of the fact that the last words of its name are, or in those usual for it."""
        if not isfinite(value):
            return in_si(name, value, si_unit)
        usual = units.usual(si_unit)
        if usual is None:
            return units.show_time(value) if si_unit == "s" else in_si(name, value, si_unit)
        dimensions = (usual.dimension,) if si_unit else (usual.dimension, "percent")
        unknown = usual.dimension, usual.us if self.system == "us" else usual.metric
        dimension, unit = self._fact_in(name, dimensions) or unknown
        return units.show(value, dimension, unit, DIGITS_OF_A_BOUND)

    def _fact_in(self, name: str, dimensions: tuple[str, ...]) -> tuple[str, str] | None:
        """Return dimension and unit of the fact that the last words of a name are, where it is one of a dimension."""
        words = name.split()
        named = (self.unit(" ".join(words[n:])) for n in range(len(words)))
        return next((one for one in named if one[1] and one[0] in dimensions), None)

    def cause(self, ident: str) -> str:
        """Return the plain name of a cause, of the defect it hands over to, or of whatever is not listed."""
        return NOT_LISTED if ident == UNLISTED else self.base.cause_name(ident)

    def change(self, fact: str, amount: float) -> str:
        """Return a difference of a fact's value as text."""
        dimension, unit = self.unit(fact)
        if dimension == "temperature":
            return units.show(amount, "temperature change", unit)
        return units.show(amount, dimension, unit)


def effort(seconds: float) -> str:
    """Return how long something takes, in round words."""
    minutes = seconds / 60.0
    if minutes < 1.5:
        return "a minute"
    if minutes < 60.0:
        return f"{round(minutes)} min"
    return f"{round(minutes / 60.0, 1):g} h"
