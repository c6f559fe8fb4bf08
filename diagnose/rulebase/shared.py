"""What the files that all defects share hold: one drawer's content, read with the line of every entry."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TypeVar

from diagnose.model.knowledge import Cause, Hazard, Source
from diagnose.model.record import Record
from diagnose.model.vocabulary import Derived, Observation, Setting, Slot
from diagnose.rulebase import vocabulary as voc
from diagnose.rulebase.conditions import ConditionReader
from diagnose.rulebase.cursor import Cursor
from diagnose.rulebase.drawers import SECTIONS
from diagnose.rulebase.knowledge import read_cause, read_hazard, read_source

T = TypeVar("T")


class Contents(Record):
    """The entries of a drawer by section, and where each stands, as `file:line` by kind and name."""

    settings: Mapping[str, Setting] = {}
    derived: Mapping[str, Derived] = {}
    observations: Mapping[str, Observation] = {}
    slots: Mapping[str, Slot] = {}
    sources: Mapping[str, Source] = {}
    hazards: Mapping[str, Hazard] = {}
    causes: Mapping[str, Cause] = {}
    places: Mapping[str, str] = {}


KIND_OF = {
    "settings": "fact", "derived": "fact", "observations": "fact", "slots": "fact", "sources": "source",
    "hazards": "hazard", "causes": "cause",
}  # fmt: skip
"""The kind under which the place of an entry of each section is kept."""


def read_contents(kind: str, stage: str, files: Sequence[Cursor], conditions: ConditionReader) -> Contents:
    """Return what the files of a drawer hold; what is wrong with them is noted in their issues."""
    if kind == "materials":
        return _materials(files)
    readers: dict[str, Callable[[Cursor, str], object]] = {
        "settings": lambda c, name: voc.read_setting(c, name, stage),
        "derived": lambda c, name: voc.read_derived(c, name, stage),
        "observations": lambda c, name: voc.read_observation(c, name, stage),
        "sources": read_source,
        "hazards": lambda c, name: read_hazard(c, name, stage, conditions),
        "causes": lambda c, name: read_cause(c, name, stage, conditions),
    }
    found: dict[str, dict[str, object]] = {}
    places = {}
    for c in files:
        c.only(*SECTIONS[kind])
        for section in SECTIONS[kind]:
            table = found.setdefault(section, {})
            for name, entry in c.children(section):
                places[f"{KIND_OF[section]} {name}"] = f"{entry.file}:{entry.line}"
                if (read := readers[section](entry, name)) is not None:
                    table[name] = read
    return Contents.model_validate({**found, "places": places})


def _materials(files: Sequence[Cursor]) -> Contents:
    slots: dict[str, Slot] = {}
    places: dict[str, str] = {}
    for c in files:
        if not c.has("more of") and (slot := voc.read_slot(c)):
            if slot.name in slots:
                c.fault(f"'{slot.name}' is already defined in {places[f'fact {slot.name}']}.", "Keep one, or rename.")
                continue
            slots[slot.name] = slot
            places[f"fact {slot.name}"] = f"{c.file}:{c.line}"
            _note(slot, c, places)
    for c in files:
        if c.has("more of") and (slot := voc.read_more(c, slots)):
            slots[slot.name] = slot
            _note(slot, c, places)
    return Contents(slots=slots, places=places)


def _note(slot: Slot, c: Cursor, places: dict[str, str]) -> None:
    entries = c.child("materials")
    for name in entries.tree:
        key = f"material {slot.name} {name}"
        if key in places:
            entries.fault(f"'{name}' is already defined in {places[key]}.", "Keep one, or rename.", name)
        places.setdefault(key, f"{c.file}:{entries.line_of(name)}")
