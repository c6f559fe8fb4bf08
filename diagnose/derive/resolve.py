"""Computes derived facts from what is known, in order, and says which inputs were assumed."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches
from functools import cached_property
from typing import NamedTuple

from diagnose.derive.calculator import Calculator, Value
from diagnose.derive.missing import missing_input
from diagnose.errors import BadInput, OutOfRange
from diagnose.model.vocabulary import Setting, Slot

REMEMBERED = 4000  # runs of calculators kept, so that an answer recomputes only what it touches
CORNERS = 5  # assumed inputs varied together; 2**5 evaluations at most


class Assumed(NamedTuple):
    """An input that nobody told: its value, bounds and where they come from."""

    value: float
    low: float
    high: float
    source: str


@dataclass(frozen=True)
class Computed:
    """One run of a calculator: what went in (told and assumed) and what came out."""

    calculator: Calculator
    inputs: dict[str, Value]
    assumed: dict[str, Assumed]
    results: dict[str, Value]

    @cached_property
    def spread(self) -> dict[str, tuple[float, float]]:
        """Return the range of each numeric result that the bounds of the assumed inputs imply."""
        return result_range(self)


@dataclass
class Resolved:
    """All facts, told and computed, with where each computed one comes from and what could not be computed."""

    facts: dict[str, Value]
    computed: dict[str, Computed] = field(default_factory=dict)
    materials: set[str] = field(default_factory=set)
    refused: dict[str, OutOfRange] = field(default_factory=dict)
    done: dict[str, Computed] = field(default_factory=dict)


class Resolver:
    """Knows the calculators and what may be assumed."""

    def __init__(
        self, calculators: Iterable[Calculator], settings: Mapping[str, Setting], slots: Mapping[str, Slot]
    ) -> None:
        self.calculators = _producers_first(tuple(calculators))
        self.settings, self.slots = settings, slots
        self.shared = _alike(slots.values())
        self._found: dict[tuple[str, tuple[tuple[str, Value], ...]], dict[str, Value] | OutOfRange] = {}

    @cached_property
    def makers(self) -> dict[str, tuple[Calculator, ...]]:
        """Return, for each derived fact, the calculators that can give it."""
        found: dict[str, tuple[Calculator, ...]] = {}
        for calculator in self.calculators:
            for fact in calculator.gives:
                found[fact] = (*found.get(fact, ()), calculator)
        return found

    def with_more(self, done: Computed, name: str, value: Value) -> Mapping[str, Value]:
        """Return what a calculator that has run would find with one more input; nothing where it would refuse."""
        found = self._run(done.calculator, {**done.inputs, name: value})
        return {} if isinstance(found, OutOfRange) else found

    def by_name(self, name: str) -> Calculator:
        """Return a calculator by name."""
        for calculator in self.calculators:
            if calculator.name == name:
                return calculator
        near = get_close_matches(name, (c.name for c in self.calculators), 3)
        hint = f"Did you mean {' or '.join(repr(n) for n in near)}? " if near else ""
        raise BadInput(f"there is no calculator '{name}'.", next_step=f"{hint}`diagnose calc` lists them all.")

    def material_facts(self, told: Mapping[str, Value]) -> dict[str, Assumed | str]:
        """Return the facts that follow from the materials named: kinds, and property values with bounds."""
        found: dict[str, Assumed | str] = {}
        for name, value in told.items():
            slot = self.slots.get(name) if isinstance(value, str) else None
            material = slot.materials.get(str(value)) if slot is not None else None
            if slot is None or material is None:
                continue
            found[f"{slot.name} kind"] = material.kind
            for prop, p in material.properties.items():
                found[f"{slot.name} {prop}"] = Assumed(p.value, p.low, p.high, p.source)
        return found

    def assumption(self, name: str, materials: Mapping[str, Assumed | str]) -> Assumed | None:
        """Return what may be assumed for an input: the material's value, or the setting's default.

        A value that all materials of a slot have alike needs no name of the material.
        """
        value = materials.get(name, self.shared.get(name))
        if isinstance(value, Assumed):
            return value
        setting = self.settings.get(name)
        if setting and setting.assume:
            a = setting.assume
            return Assumed(a.value, a.low, a.high, a.source)
        return None

    def resolve(self, told: Mapping[str, Value]) -> Resolved:
        """Return every fact that follows from those told; calculators run until nothing new comes out."""
        materials = self.material_facts(told)
        out = Resolved(dict(told))
        for name, value in materials.items():
            out.materials.add(name)
            out.facts.setdefault(name, value if isinstance(value, str) else value.value)
        waiting = list(self.calculators)
        for _ in range(len(waiting) + 1):
            left = [c for c in waiting if not self._try(c, out, told, materials)]
            if len(left) == len(waiting):
                break
            waiting = left
        return out

    def _inputs(
        self,
        c: Calculator,
        facts: Mapping[str, Value],
        told: Mapping[str, Value],
        materials: Mapping[str, Assumed | str],
    ) -> tuple[dict[str, Value], dict[str, Assumed]] | None:
        inputs: dict[str, Value] = {}
        assumed: dict[str, Assumed] = {}
        for name in (*c.needs, *c.takes):
            if name in c.only_with and facts.get(c.only_with[name][0]) != c.only_with[name][1]:
                continue
            known = facts.get(name)
            guess = None if name in told else self.assumption(name, materials)
            if guess is not None and (known is None or name in materials):
                inputs[name], assumed[name] = guess.value, guess
            elif known is not None:
                inputs[name] = known
            elif name in c.needs:
                return None
        return inputs, assumed

    def _try(
        self, c: Calculator, out: Resolved, told: Mapping[str, Value], materials: Mapping[str, Assumed | str]
    ) -> bool:
        # A calculator for which everything would be assumed says nothing about this case.
        if not any((n in told or n in out.computed) and n not in self.slots for n in c.needs):
            return False
        prepared = self._inputs(c, out.facts, told, materials)
        if prepared is None:
            return False
        inputs, assumed = prepared
        results = self._run(c, inputs)
        if isinstance(results, OutOfRange):
            out.refused[c.name] = results
            return True
        done = out.done[c.name] = Computed(c, inputs, assumed, results)
        for name, value in results.items():
            if name not in out.facts:
                out.facts[name] = value
                out.computed[name] = done
        return True

    def _run(self, c: Calculator, inputs: dict[str, Value]) -> dict[str, Value] | OutOfRange:
        """Return what a calculator finds or why it refuses; the same inputs are computed once."""
        key = (c.name, tuple(sorted(inputs.items())))
        if key not in self._found:
            if len(self._found) >= REMEMBERED:
                self._found.clear()
            try:
                self._found[key] = c.compute(inputs)
            except OutOfRange as error:
                self._found[key] = error
        return self._found[key]

    def run_together(
        self, names: Sequence[str], told: Mapping[str, Value]
    ) -> tuple[list[Computed], dict[str, OutOfRange]]:
        """Run those of some calculators that the facts allow; raise BadInput when none can be.

        Returns what was computed, in the order named, and why others refused.
        """
        out = self.resolve(told)
        done = [c for n in names if (c := out.done.get(n)) is not None]
        refused = {n: out.refused[n] for n in names if n in out.refused}
        if done or refused:
            return done, refused
        return [self.run_one(names[0], told)], {}

    def run_one(self, name: str, told: Mapping[str, Value]) -> Computed:
        """Run one calculator (and those it builds on); raise BadInput that names what is missing or absurd."""
        calculator = self.by_name(name)
        out = self.resolve(told)
        if name in out.refused:
            raise out.refused[name].placed(name)
        prepared = self._inputs(calculator, out.facts, told, self.material_facts(told))
        if prepared is None:
            raise missing_input(self, calculator, out, told)
        inputs, assumed = prepared
        return Computed(calculator, inputs, assumed, calculator.compute(inputs))


def _alike(slots: Iterable[Slot]) -> dict[str, Assumed]:
    """Return the properties that every material of a slot has with the same value and bounds."""
    found: dict[str, Assumed] = {}
    for slot in slots:
        for name in slot.properties:
            values = {(p.value, p.low, p.high) for m in slot.materials.values() if (p := m.properties.get(name))}
            have = [m.properties[name] for m in slot.materials.values() if name in m.properties]
            if len(values) == 1 and len(have) == len(slot.materials) > 1:
                found[f"{slot.name} {name}"] = Assumed(*values.pop(), have[0].source)
    return found


def result_range(done: Computed) -> dict[str, tuple[float, float]]:
    """Return, for each numeric result, the lowest and highest value that the bounds of the assumed inputs imply.

    Every corner of the box of bounds is computed for up to five assumed inputs; beyond that, inputs are moved
    one at a time. Corners outside the calculator's validity are left out.
    """
    loose = [(n, a) for n, a in done.assumed.items() if a.low < a.high]
    if len(loose) <= CORNERS:
        corners: Iterable[dict[str, Value]] = (
            dict(zip((n for n, _ in loose), ends, strict=True))
            for ends in itertools.product(*((a.low, a.high) for _, a in loose))
        )
    else:
        corners = ({n: end} for n, a in loose for end in (a.low, a.high))
    lows = {k: v for k, v in done.results.items() if isinstance(v, float)}
    highs = dict(lows)
    for corner in corners:
        try:
            found = done.calculator.compute({**done.inputs, **corner})
        except OutOfRange:
            continue
        for name, value in found.items():
            if name in lows and isinstance(value, float):
                lows[name], highs[name] = min(lows[name], value), max(highs[name], value)
    return {n: (lows[n], highs[n]) for n in lows}


def _producers_first(calculators: tuple[Calculator, ...]) -> tuple[Calculator, ...]:
    """Return the calculators so that one comes after those whose results it uses, where that is possible."""
    ordered: list[Calculator] = []
    waiting = list(calculators)
    while waiting:
        promised = {n: c for c in waiting for n in c.gives}
        free = [c for c in waiting if not any(promised.get(n, c) is not c for n in (*c.needs, *c.takes))]
        ordered += free or waiting[:1]
        waiting = [c for c in waiting if c not in (free or waiting[:1])]
    return tuple(ordered)
