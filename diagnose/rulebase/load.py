"""The rules folder as one RuleBase: vocabulary and causes at once, defects when they are asked for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property
from pathlib import Path

from diagnose.errors import BadInput, RulesError
from diagnose.model.glossary import Word
from diagnose.model.knowledge import Cause, Defect, Hazard, Source
from diagnose.model.record import Record
from diagnose.model.vocabulary import STAGES, Derived, Observation, Setting, Slot
from diagnose.rulebase import vocabulary as voc
from diagnose.rulebase.conditions import ConditionReader
from diagnose.rulebase.cursor import Cursor, suggest
from diagnose.rulebase.files import Located, parse, read_text
from diagnose.rulebase.glossary import read_words
from diagnose.rulebase.issue import Issue
from diagnose.rulebase.knowledge import DefectReader, read_cause, read_hazard, read_source
from diagnose.rulebase.shelf import Shelf, digest, program, shelf_for
from diagnose.rulebase.undisturbed import undisturbed

KINDS = ("sources", "settings", "observations", "hazards", "causes")  # of files that all defects of a stage share


def shipped_folder(name: str = "rules") -> Path:
    """Return the folder of that name from the wheel, or from the checkout around an editable install."""
    here = Path(__file__).resolve().parent.parent
    for folder in (here / "_data" / name, here.parent / name):
        if folder.is_dir():
            return folder
    raise RulesError(f"the folder '{name}' that belongs to the program was not found.", next_step="Install again.")


class Shared(Record):
    """What all defects build on, and where each part of it stands."""

    settings: Mapping[str, Setting]
    derived: Mapping[str, Derived]
    observations: Mapping[str, Observation]
    slots: Mapping[str, Slot]
    sources: Mapping[str, Source]
    hazards: Mapping[str, Hazard]
    causes: Mapping[str, Cause]
    places: Mapping[str, str]


class RuleBase:
    """All that the rules folder holds; every fault in it is collected in `issues`.

    What was read without a fault is put by below the `cache` folder, if there is one, and taken from there next time.
    """

    def __init__(self, folder: Path | None = None, cache: Path | None = None) -> None:
        self.folder = folder or shipped_folder()
        if not self.folder.is_dir():
            raise RulesError("is not a folder.", where=str(self.folder), next_step="Name a rules folder.")
        self.issues: list[Issue] = []
        self.words = voc.Vocabulary()
        self.sources: dict[str, Source] = {}
        self.hazards: dict[str, Hazard] = {}
        self.causes: dict[str, Cause] = {}
        self._defects: dict[str, Defect] = {}
        self._first_seen: dict[str, str] = {}
        self._shelf = shelf_for(cache, self.folder) if cache else Shelf(None)
        self._key = self._key_of(*self._shared_files()) if cache else ""
        self.conditions = ConditionReader(self.words)
        shared = self._shelf.take("shared", self._key, Shared) if self._key else None
        if shared is None:
            with undisturbed():
                self._read_vocabulary()
                self._read_causes()
            self._put_by()
        else:
            self._take_over(shared)
        self._reader = DefectReader(self.words)

    def _shared_files(self) -> list[Path]:
        found = sorted((self.folder / "materials").glob("*.yaml"))
        for stage in STAGES:
            for kind in KINDS:
                found += sorted((self.folder / stage).glob(f"_{kind}*.yaml"))
        return found

    def _key_of(self, *files: Path, before: str = "") -> str:
        """Return the hash of some files with their names, of the program, and of what was there before them."""
        parts = [program(), before.encode()]
        try:
            for path in files:
                parts += [path.relative_to(self.folder).as_posix().encode(), path.read_bytes()]
        except OSError:
            return ""
        return digest(parts)

    def _put_by(self) -> None:
        if self._key and not self.issues:
            w = self.words
            self._shelf.put(
                "shared", self._key,
                Shared(
                    settings=w.settings, derived=w.derived, observations=w.observations, slots=w.slots,
                    sources=self.sources, hazards=self.hazards, causes=self.causes, places=self._first_seen,
                ),
            )  # fmt: skip

    def _take_over(self, shared: Shared) -> None:
        w = self.words
        for own, found in (
            (w.settings, shared.settings), (w.derived, shared.derived), (w.observations, shared.observations),
            (w.slots, shared.slots), (self.sources, shared.sources), (self.hazards, shared.hazards),
            (self.causes, shared.causes), (self._first_seen, shared.places),
        ):  # fmt: skip
            own.update(found)  # type: ignore[arg-type]

    def _file(self, path: Path) -> Cursor:
        name = str(path.relative_to(self.folder.parent))
        try:
            tree = parse(read_text(path), name)
        except BadInput as error:
            where, _, line = error.where.partition(":")
            self.issues.append(Issue(where or name, int(line.split(":")[0] or 0), "", error.what, error.next_step))
            tree = Located()
        return Cursor(tree, name, path.stem, self.issues, 1)

    def _special(self, stage: str, kind: str) -> Iterator[Cursor]:
        for path in sorted((self.folder / stage).glob(f"_{kind}*.yaml")):
            yield self._file(path)

    def _once(self, kind: str, name: str, c: Cursor) -> bool:
        key = f"{kind} {name}"
        if key in self._first_seen:
            c.fault(f"'{name}' is already defined in {self._first_seen[key]}.", "Keep one, or rename.")
            return False
        self._first_seen[key] = f"{c.file}:{c.line}"
        return True

    def place(self, kind: str, name: str) -> tuple[str, int]:
        """Return the file and the line where a `fact`, `material`, `cause`, `hazard` or `source` is defined."""
        file, _, line = self._first_seen.get(f"{kind} {name}", "rules:1").rpartition(":")
        return file, int(line)

    def _read_vocabulary(self) -> None:
        files = [self._file(path) for path in sorted((self.folder / "materials").glob("*.yaml"))]
        for c in files:
            if not c.has("more of") and (slot := voc.read_slot(c)) and self._once("fact", slot.name, c):
                self._take_slot(slot, c)
        for c in files:
            if c.has("more of") and (slot := voc.read_more(c, self.words.slots)):
                self._take_slot(slot, c)
        for stage in STAGES:
            for c in self._special(stage, "sources"):
                c.only("sources")
                for key, s in c.children("sources"):
                    if key not in self.sources and (found := read_source(s, key)):
                        self.sources[key] = found
                        self._first_seen[f"source {key}"] = f"{s.file}:{s.line}"
            self._read_facts(stage)

    def _take_slot(self, slot: Slot, c: Cursor) -> None:
        entries = c.child("materials")
        for name in entries.tree:
            key = f"material {slot.name} {name}"
            if key in self._first_seen:
                entries.fault(f"'{name}' is already defined in {self._first_seen[key]}.", "Keep one, or rename.", name)
            self._first_seen.setdefault(key, f"{c.file}:{entries.line_of(name)}")
        self.words.slots[slot.name] = slot

    def _read_facts(self, stage: str) -> None:
        for c in self._special(stage, "settings"):
            c.only("settings", "derived")
            for name, s in c.children("settings"):
                if self._once("fact", name, s) and (setting := voc.read_setting(s, name, stage)):
                    self.words.settings[name] = setting
            for name, s in c.children("derived"):
                if self._once("fact", name, s) and (derived := voc.read_derived(s, name, stage)):
                    self.words.derived[name] = derived
        for c in self._special(stage, "observations"):
            c.only("observations")
            for name, s in c.children("observations"):
                if self._once("fact", name, s) and (seen := voc.read_observation(s, name, stage)):
                    self.words.observations[name] = seen

    def _read_causes(self) -> None:
        for stage in STAGES:
            for c in self._special(stage, "hazards"):
                c.only("hazards")
                for name, s in c.children("hazards"):
                    if self._once("hazard", name, s) and (h := read_hazard(s, name, stage, self.conditions)):
                        self.hazards[name] = h
            for c in self._special(stage, "causes"):
                c.only("causes")
                for ident, s in c.children("causes"):
                    if self._once("cause", ident, s) and (cause := read_cause(s, ident, stage, self.conditions)):
                        self.causes[ident] = cause

    @cached_property
    def defect_files(self) -> dict[str, Path]:
        """Return the file of each defect by id; the id is the path."""
        found = {}
        for stage in STAGES:
            for path in sorted((self.folder / stage).glob("*.yaml")):
                if not path.name.startswith("_"):
                    found[f"{stage}.{path.stem}"] = path
        return found

    def defect(self, ident: str) -> Defect:
        """Return a defect by id, reading its file the first time; raise BadInput for an unknown one."""
        if ident not in self._defects:
            path = self.defect_files.get(ident)
            if path is None:
                hint = suggest(ident, self.defect_files)
                raise BadInput(f"unknown defect '{ident}'.", next_step=hint or "`diagnose rules list` shows all.")
            key = self._key_of(path, before=self._key) if self._key else ""
            kept = self._shelf.take(ident, key, Defect) if key else None
            self._defects[ident] = kept or self._read_defect(path, ident, key)
        return self._defects[ident]

    def _read_defect(self, path: Path, ident: str, key: str) -> Defect:
        before = len(self.issues)
        with undisturbed():
            found = self._reader.read(self._file(path), ident)
        if found is None:
            raise RulesError("the defect cannot be read.", [i.text() for i in self.issues], where=str(path))
        if key and len(self.issues) == before:
            self._shelf.put(ident, key, found)
        return found

    def all_defects(self) -> list[Defect]:
        """Return every defect that can be read."""
        found = []
        with undisturbed():
            for ident in self.defect_files:
                try:
                    found.append(self.defect(ident))
                except RulesError:
                    continue
        return found

    @cached_property
    def glossary(self) -> list[Word]:
        """Return the words of the trade that are explained, by stage."""
        found = []
        for stage in STAGES:
            for c in self._special(stage, "glossary"):
                found += [word for word in read_words(c, stage) if self._once("glossary word", word.name, c)]
        return found

    def cause_name(self, ident: str) -> str:
        """Return the plain name of a cause, or of the defect it hands over to."""
        if ident in self.causes:
            return self.causes[ident].name
        if ident in self.defect_files:
            return f"{self.defect(ident).name} (a fault of its own)"
        return ident
