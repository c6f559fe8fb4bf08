"""What a person would have to tell before a calculator can run, in terms of what a person knows."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from diagnose.derive.calculator import Calculator, Value
from diagnose.errors import BadInput

FEW, MANY = 3, 6  # missing properties and fitting materials that are named one by one

if TYPE_CHECKING:
    from diagnose.derive.resolve import Resolved, Resolver


def missing_input(resolver: Resolver, calculator: Calculator, out: Resolved, told: Mapping[str, Value]) -> BadInput:
    """Return the error that says what a calculator still needs: settings and materials, not intermediate results.

    Where something it needs could not be computed because a value was refused, that refusal is returned instead.
    """
    absent = _absent(resolver, calculator, out, told)
    for name in absent:
        for other in resolver.calculators:
            if name in other.gives and other.name in out.refused:
                return out.refused[other.name].placed(other.name)
    settings, lacking = _told_by_people(resolver, absent, out, told)
    unnamed = [slot for slot in lacking if slot not in told]
    another = [slot for slot, properties in lacking.items() if slot in told and len(properties) > FEW]
    told_by_hand = [f"{s} {p}" for s, lacks in lacking.items() if s in told and s not in another for p in lacks]
    parts = [*settings, *told_by_hand, *(f"the {slot}" for slot in unnamed), *(f"another {slot}" for slot in another)]
    notes = [_lacks(resolver, slot, str(told[slot]), p) for slot, p in lacking.items() if slot in told]
    examples = [f"{name.replace(' ', '-')}=..." for name in (*settings, *told_by_hand)]
    examples += [f"'{slot}={_fitting(resolver, slot, lacking[slot])[0]}'" for slot in (*unnamed, *another)]
    return BadInput(
        " ".join([f"needs {_listed(parts)}.", *notes]), where=f"calc {calculator.name}",
        next_step="Write each as name=value, numbers with their unit: " + " ".join(examples),
    )  # fmt: skip


def _lacks(resolver: Resolver, slot: str, material: str, properties: list[str]) -> str:
    """Return what a named material lacks, and which others would do."""
    what = " and no ".join(properties) if len(properties) <= FEW else f"{properties[0]} and {len(properties) - 1} more"
    others = [name for name in _fitting(resolver, slot, properties) if name != material]
    these = f" These have: {', '.join(others[:MANY])}." if others else ""
    return f"{material} has no {what} in the rules base.{these}"


def _fitting(resolver: Resolver, slot: str, properties: list[str]) -> list[str]:
    """Return the materials of a slot that have all of some properties; any, when none has."""
    materials = resolver.slots[slot].materials
    return [n for n, m in materials.items() if set(properties) <= set(m.properties)] or list(materials)


def _absent(resolver: Resolver, c: Calculator, out: Resolved, told: Mapping[str, Value]) -> list[str]:
    materials = resolver.material_facts(told)
    return [n for n in c.needs if n not in out.facts and resolver.assumption(n, materials) is None]


def _told_by_people(
    resolver: Resolver, absent: Iterable[str], out: Resolved, told: Mapping[str, Value]
) -> tuple[list[str], dict[str, list[str]]]:
    """Return the settings to tell, and the slots whose material (or whose properties) would have to be known."""
    settings: dict[str, None] = {}
    lacking: dict[str, list[str]] = {}
    waiting, seen = list(absent), set[str]()
    while waiting:
        name = waiting.pop(0)
        if name in seen:
            continue
        seen.add(name)
        slot = next((s for s in resolver.slots if name.startswith(f"{s} ") and name not in resolver.settings), None)
        makers = [c for c in resolver.calculators if name in c.gives and name not in resolver.settings]
        if slot is not None and name[len(slot) + 1 :] in resolver.slots[slot].properties:
            lacking.setdefault(slot, []).append(name[len(slot) + 1 :])
        elif makers:
            fewest = min(makers, key=lambda c: len(_absent(resolver, c, out, told)))
            waiting = _absent(resolver, fewest, out, told) + waiting
        else:
            settings[name] = None
    return list(settings), lacking


def _listed(parts: list[str]) -> str:
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}"
