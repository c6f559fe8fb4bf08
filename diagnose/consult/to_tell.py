"""What a person would still have to tell before a fact is known, through as many calculators as it takes."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from math import sqrt

from diagnose.derive.calculator import Calculator
from diagnose.derive.resolve import Assumed, Resolved, Resolver
from diagnose.model.vocabulary import Setting
from diagnose.rulebase.vocabulary import Vocabulary


class ToTell:
    """Answers for one state of the facts; names in `asked` cannot be had any more."""

    def __init__(self, resolved: Resolved, resolver: Resolver, words: Vocabulary, asked: Collection[str]) -> None:
        self.resolved, self.resolver, self.words, self.asked = resolved, resolver, words, asked
        self.materials: Mapping[str, Assumed | str] = resolver.material_facts(resolved.facts)

    def for_fact(self, fact: str) -> list[str] | None:
        """Return the settings, materials and observations still to tell, the first to ask for first.

        None when telling cannot make the fact known.
        """
        return self._for_fact(fact, frozenset())

    def _for_fact(self, fact: str, above: frozenset[str]) -> list[str] | None:
        if fact in self.resolved.facts or self.resolver.assumption(fact, self.materials) is not None:
            return []
        words = self.words
        makers = () if fact in words.settings else self.resolver.makers.get(fact, ())
        slot = next((s for s in words.slots if fact == s or fact.startswith(f"{s} ")), None)
        if fact in words.settings or fact in words.observations:
            return None if fact in self.asked else [fact]
        if slot is not None and not makers:
            # A material that is named and lacks the property will not get it by being named again.
            return None if slot in self.asked or slot in self.resolved.facts else [slot]
        if fact in above:
            return None
        found = [m for c in makers if (m := self._for_calculator(c, fact, above | {fact}))]
        return min(found, key=len, default=None)

    def _for_calculator(self, c: Calculator, fact: str, above: frozenset[str]) -> list[str] | None:
        if c.name in self.resolved.refused:
            return None
        if c.name in self.resolved.done:
            return self._more(c, fact)
        missing: dict[str, None] = {}
        for name in c.needs:
            part = self._for_fact(name, above)
            if part is None:
                return None
            missing.update(dict.fromkeys(part))
        # Where all could be assumed, one thing told is what makes it a computation about this case.
        return list(missing) or next(([n] for n in c.needs if n in self.words.settings and n not in self.asked), None)

    def _more(self, c: Calculator, fact: str) -> list[str] | None:
        """Return the setting with which a calculator that left a fact out would give it."""
        for name in c.takes:
            setting = self.words.settings.get(name)
            if setting is None or setting.many or name in self.asked or name in self.resolved.facts:
                continue
            if fact in self.resolver.with_more(self.resolved.done[c.name], name, _middle(setting)):
                return [name]
        return None


def _middle(setting: Setting) -> float:
    if setting.assume is not None:
        return setting.assume.value
    low, high = setting.plausible_low, setting.plausible_high
    return sqrt(low * high) if low > 0.0 else (low + high) / 2.0
