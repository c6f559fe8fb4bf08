"""The files that all defects share, as drawers that are opened when something in them is asked for.

The names of a file's entries are found without reading it as YAML: they are the lines indented by two. That is only
believed of a file laid out in that way throughout, and compared with what is found when the file is read; where
anything is unusual, every drawer is opened at once, and nothing is found by its outside.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Generic, TypeVar

from diagnose.errors import BadInput
from diagnose.model.vocabulary import STAGES
from diagnose.rulebase.files import read_data

T = TypeVar("T")
VOCABULARY = ("sources", "settings", "observations")  # kinds of files that need no other
ON_VOCABULARY = ("hazards", "causes")  # kinds of files whose conditions look at the vocabulary
FACTS = ("settings", "derived", "observations", "slots")
SECTIONS: Mapping[str, Sequence[str]] = {
    "materials": ("slots",), "settings": ("settings", "derived"), "observations": ("observations",),
    "sources": ("sources",), "hazards": ("hazards",), "causes": ("causes",),
}  # fmt: skip
OUTER = re.compile(rb"\n( {0,2})([^ #\r\n][^\r\n]*)")
SECTION = re.compile(rb"([a-z]+):\s*(?:#.*)?\Z")
ENTRY = re.compile(rb"([A-Za-z0-9][^:#]*):(?:\s|\Z)")
ONE_SLOT = re.compile(rb"\n(slot|more of): ([a-z][a-z -]*[a-z])[ \r]*(?=\n|\Z)")
ODD_BREAKS = (b"\t", b"\xc2\x85", b"\xe2\x80\xa8", b"\xe2\x80\xa9")


@dataclass(eq=False)
class Drawer:
    """Some files that belong together: their kind, their stage, what is in them, and the names seen from outside."""

    kind: str
    stage: str
    files: dict[Path, bytes | None]  # None where a file cannot be read
    names: Mapping[str, Sequence[str]] | None = None  # by section; None where they cannot be told from outside
    opened: bool = field(default=False)

    def label(self) -> str:
        """Return a name for it, unlike any other's."""
        first = next(iter(self.files))
        return f"{first.parent.name}.{first.stem}"


class Table(Mapping[str, T], Generic[T]):
    """Entries by name, read when they are asked for; going over all of them opens every drawer they are in."""

    def __init__(self, opens: Callable[[Drawer], None], where: Mapping[str, Drawer]) -> None:
        self._opens, self._where = opens, where
        self._found: dict[str, T] = {}
        self._in_order = False

    def put(self, name: str, entry: T) -> None:
        """Take an entry that was read."""
        self._found[name] = entry
        self._in_order = False

    def get(self, name: str, default: T | None = None) -> T | None:  # type: ignore[override]
        """Return an entry, or the default when there is none of that name."""
        found = self._found.get(name)
        if found is None and (drawer := self._where.get(name)) is not None and not drawer.opened:
            self._opens(drawer)
            found = self._found.get(name)
        return default if found is None else found

    def __getitem__(self, name: str) -> T:
        found = self.get(name)
        if found is None:
            raise KeyError(name)
        return found

    def __contains__(self, name: object) -> bool:
        return isinstance(name, str) and self.get(name) is not None

    def __iter__(self) -> Iterator[str]:
        return iter(self._all())

    def __len__(self) -> int:
        return len(self._all())

    def names(self) -> list[str]:
        """Return every name without opening anything."""
        return list(dict.fromkeys((*self._where, *self._found)))

    def of_stages(self, stages: set[str]) -> list[T]:
        """Return the entries of some stages, in order, opening only their drawers."""
        near = (d for d in dict.fromkeys(self._where.values()) if d.stage in stages)
        for drawer in near:
            self._opens(drawer)
        return [e for n in self.names() if (e := self._found.get(n)) and getattr(e, "stage", "") in stages]

    def _all(self) -> dict[str, T]:
        for drawer in dict.fromkeys(self._where.values()):
            self._opens(drawer)
        if not self._in_order:
            self._found = {n: self._found[n] for n in self.names() if n in self._found}
            self._in_order = True
        return self._found


def drawers_in(folder: Path) -> list[Drawer]:
    """Return the drawers of a rules folder in the order in which they are read."""
    listed = {name: yaml_files(folder / name) for name in ("materials", *STAGES)}
    found = list(_materials(listed["materials"]))
    for kinds in (VOCABULARY, ON_VOCABULARY):
        for stage in STAGES:
            paths = [p for p in listed[stage] if p.name.startswith("_")]
            for kind in kinds:
                for path in (p for p in paths if p.name.startswith(f"_{kind}")):
                    data = data_of(path)
                    names = names_outside(data, SECTIONS[kind]) if data is not None else None
                    found.append(Drawer(kind, stage, {path: data}, names))
    return found


def yaml_files(folder: Path) -> list[Path]:
    """Return the YAML files of a folder in order; none where there is no such folder."""
    try:
        return [folder / name for name in sorted(os.listdir(folder)) if name.endswith(".yaml")]
    except OSError:
        return []


def data_of(path: Path) -> bytes | None:
    """Return what is in a file, or None where it cannot be read: the reading will say why."""
    try:
        return read_data(path)
    except BadInput:
        return None


def _materials(paths: Sequence[Path]) -> Iterator[Drawer]:
    """Yield a drawer for each slot, with all its files; one for everything where that cannot be told."""
    data = {path: data_of(path) for path in paths}
    outside = {path: slot_outside(content or b"") for path, content in data.items()}
    slots = {path: slot for path, (_, slot) in outside.items()}
    begun = {slot for word, slot in outside.values() if word == "slot"}
    if not begun.issuperset(slots.values()):
        yield Drawer("materials", "", data)
        return
    for slot in dict.fromkeys(slots.values()):
        yield Drawer("materials", "", {p: data[p] for p in paths if slots[p] == slot}, {"slots": (slot,)})


def places_by_name(drawers: Sequence[Drawer]) -> dict[str, dict[str, Drawer]] | None:
    """Return the drawer of each name by section, or None where the outside of the drawers does not tell."""
    found: dict[str, dict[str, Drawer]] = {section: {} for sections in SECTIONS.values() for section in sections}
    facts: set[str] = set()
    for drawer in drawers:
        if drawer.names is None:
            return None
        for section, names in drawer.names.items():
            for name in names:
                if (name in found[section] or name in facts) and section != "sources":
                    return None  # twice: that is for the reading to say
                found[section].setdefault(name, drawer)
                if section in FACTS:
                    facts.add(name)
    return found


def names_in(table: Mapping[str, T]) -> Iterable[str]:
    """Return every name of a table, opening no drawer for it."""
    return table.names() if isinstance(table, Table) else table


def names_outside(data: bytes, sections: Sequence[str]) -> dict[str, list[str]] | None:
    """Return the names of the entries below each section of a file, or None where its layout is not the plain one."""
    if _odd(data):
        return None
    found: dict[str, list[str]] = {}
    section: list[str] | None = None
    for indent, line in OUTER.findall(b"\n" + data):
        if not indent:
            word = m[1].decode() if (m := SECTION.match(line)) else ""
            if word not in sections or word in found:
                return None
            section = found.setdefault(word, [])
        elif len(indent) == 1 or section is None or (m := ENTRY.match(line)) is None:
            return None
        else:
            section.append(m[1].decode(errors="replace"))
    return found if all(found.values()) else None


def slot_outside(data: bytes) -> tuple[str, str]:
    """Return `slot` or `more of` and the slot of a file of materials; nothing where its outside does not tell."""
    found = ONE_SLOT.findall(b"\n" + data)
    return (found[0][0].decode(), found[0][1].decode()) if len(found) == 1 and not _odd(data) else ("", "")


def _odd(data: bytes) -> bool:
    """Say whether a file has line breaks or spaces that only a reader of YAML sees as such."""
    return any(sign in data for sign in ODD_BREAKS) or data.count(b"\r") != data.count(b"\r\n")
