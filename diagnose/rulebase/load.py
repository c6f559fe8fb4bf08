"""The rules folder as one RuleBase: everything in it is read when it is asked for."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property
from pathlib import Path
from typing import Any

from diagnose.errors import BadInput, RulesError
from diagnose.model.glossary import Word
from diagnose.model.knowledge import Cause, Defect, Hazard, Source
from diagnose.model.vocabulary import STAGES
from diagnose.rulebase.conditions import ConditionReader
from diagnose.rulebase.cursor import Cursor, suggest
from diagnose.rulebase.drawers import VOCABULARY, Drawer, Table, data_of, drawers_in, places_by_name, yaml_files
from diagnose.rulebase.files import Located, parse, read_text, text_of
from diagnose.rulebase.glossary import read_words
from diagnose.rulebase.issue import Issue
from diagnose.rulebase.knowledge import DefectReader
from diagnose.rulebase.shared import KIND_OF, Contents, read_contents
from diagnose.rulebase.shelf import Shelf, digest, program, shelf_for
from diagnose.rulebase.undisturbed import undisturbed
from diagnose.rulebase.vocabulary import Vocabulary

VOCABULARY_KINDS = ("materials", *VOCABULARY)


def shipped_folder(name: str = "rules") -> Path:
    """Return the folder of that name from the wheel, or from the checkout around an editable install."""
    here = Path(__file__).resolve().parent.parent
    for folder in (here / "_data" / name, here.parent / name):
        if folder.is_dir():
            return folder
    raise RulesError(f"the folder '{name}' that belongs to the program was not found.", next_step="Install again.")


class RuleBase:
    """All that the rules folder holds; every fault in it is collected in `issues`.

    What all defects share is read when something in it is asked for. What was read without a fault is put by below
    the `cache` folder, if there is one, and taken from there next time.
    """

    def __init__(self, folder: Path | None = None, cache: Path | None = None) -> None:
        self.folder = folder or shipped_folder()
        if not self.folder.is_dir():
            raise RulesError("is not a folder.", where=str(self.folder), next_step="Name a rules folder.")
        self._issues: list[Issue] = []
        self._refusing = False
        self._refused: RulesError | None = None
        self._defects: dict[str, Defect] = {}
        self._first_seen: dict[str, str] = {}
        self._shelf = shelf_for(cache, self.folder) if cache else Shelf(None)
        self._drawers = drawers_in(self.folder)
        where = places_by_name(self._drawers)
        self._tables: dict[str, Table[Any]] = {s: Table(self._open, where[s] if where else {}) for s in KIND_OF}
        t = self._tables
        self.words = Vocabulary(t["settings"], t["derived"], t["observations"], t["slots"])
        self.sources: Table[Source] = t["sources"]
        self.hazards: Table[Hazard] = t["hazards"]
        self.causes: Table[Cause] = t["causes"]
        self.conditions = ConditionReader(self.words)
        self._reader = DefectReader(self.words)
        self._key = self._key_of(d for d in self._drawers if d.kind in VOCABULARY_KINDS) if cache else ""
        if where is None:
            self._open_all()

    @property
    def issues(self) -> list[Issue]:
        """Return every fault of the shared files, and of the defects read so far."""
        refusing, self._refusing = self._refusing, False
        self._open_all()
        self._refusing = refusing
        return self._issues

    def issues_everywhere(self) -> list[Issue]:
        """Return every fault of every file: of the shared ones, of every defect and of the glossary."""
        self.all_defects()
        self.glossary  # noqa: B018 - reading it notes its faults
        return list(self.issues)

    def refuse_faults(self) -> None:
        """Raise RulesError with every fault from now on, as soon as one is met in what all defects share."""
        self._refusing = True
        if self._issues:
            raise self._refusal()

    def _refusal(self) -> RulesError:
        self._refused = RulesError(
            "the rules base has errors:", [i.text() for i in self.issues], where=str(self.folder),
            next_step="`diagnose rules check` lists them all.",
        )  # fmt: skip
        return self._refused

    def _key_of(self, drawers: Iterable[Drawer], before: str = "") -> str:
        """Return the hash of some drawers' files with their names, of the program, and of what was there before."""
        parts = [program(), before.encode()]
        for drawer in drawers:
            for path, data in drawer.files.items():
                parts += [path.relative_to(self.folder).as_posix().encode(), b"unreadable" if data is None else data]
        return digest(parts)

    def _open_all(self) -> None:
        for drawer in self._drawers:
            self._open(drawer)

    def _open(self, drawer: Drawer) -> None:
        """Read a drawer, the first time; one whose names are not those seen from outside opens all the others."""
        if drawer.opened:
            return
        drawer.opened = True
        before = len(self._issues)
        held = self._contents(drawer)
        for section, kind in KIND_OF.items():
            for name, entry in getattr(held, section).items():
                if self._once(kind, name, *_place_of(held.places[f"{kind} {name}"])):
                    self._tables[section].put(name, entry)
        for key, at in held.places.items():
            self._first_seen.setdefault(key, at)
        if self._refusing and len(self._issues) > before:
            raise self._refusal()
        seen = {name for names in (drawer.names or {}).values() for name in names}
        if drawer.names is not None and any(k.split(" ", 1)[1] not in seen for k in held.places if k[0] != "m"):
            self._open_all()

    def _contents(self, drawer: Drawer) -> Contents:
        key = ""
        if self._key:
            key = self._key_of([drawer], before="" if drawer.kind in VOCABULARY_KINDS else self._key)
            if (kept := self._shelf.take(drawer.label(), key, Contents)) is not None:
                return kept
        before = len(self._issues)
        with undisturbed():
            files = [self._file(path, data) for path, data in drawer.files.items()]
            found = read_contents(drawer.kind, drawer.stage, files, self.conditions)
        if key and len(self._issues) == before:
            self._shelf.put(drawer.label(), key, found)
        return found

    def _file(self, path: Path, data: bytes | None = None) -> Cursor:
        name = str(path.relative_to(self.folder.parent))
        try:
            tree = parse(read_text(path) if data is None else text_of(data, str(path)), name)
        except BadInput as error:
            where, _, line = error.where.partition(":")
            self._issues.append(Issue(where or name, int(line.split(":")[0] or 0), "", error.what, error.next_step))
            tree = Located()
        return Cursor(tree, name, path.stem, self._issues, 1)

    def _once(self, kind: str, name: str, file: str, line: int) -> bool:
        first = self._first_seen.setdefault(f"{kind} {name}", f"{file}:{line}")
        if first == f"{file}:{line}":
            return True
        if kind != "source":
            what = f"'{name}' is already defined in {first}."
            self._issues.append(Issue(file, line, name, what, "Keep one, or rename."))
        return False

    def place(self, kind: str, name: str) -> tuple[str, int]:
        """Return the file and the line where a `fact`, `material`, `cause`, `hazard` or `source` is defined."""
        return _place_of(self._first_seen.get(f"{kind} {name}", "rules:1"))

    @cached_property
    def defect_files(self) -> dict[str, Path]:
        """Return the file of each defect by id; the id is the path."""
        found = {}
        for stage in STAGES:
            for path in yaml_files(self.folder / stage):
                if not path.name.startswith("_"):
                    found[f"{stage}.{path.stem}"] = path
        return found

    def defect(self, ident: str) -> Defect:
        """Return a defect by id, reading its file the first time; raise BadInput for an unknown one."""
        if self._refused is not None:
            raise self._refused
        if ident not in self._defects:
            path = self.defect_files.get(ident)
            if path is None:
                hint = suggest(ident, self.defect_files)
                raise BadInput(f"unknown defect '{ident}'.", next_step=hint or "`diagnose rules list` shows all.")
            data = data_of(path)
            key = self._key_of([Drawer("defect", "", {path: data})], before=self._key) if self._key else ""
            kept = self._shelf.take(ident, key, Defect) if key else None
            self._defects[ident] = kept or self._read_defect(path, data, ident, key)
        return self._defects[ident]

    def _read_defect(self, path: Path, data: bytes | None, ident: str, key: str) -> Defect:
        before = len(self._issues)
        with undisturbed():
            found = self._reader.read(self._file(path, data), ident)
        if found is None:
            raise RulesError("the defect cannot be read.", [i.text() for i in self._issues], where=str(path))
        if key and len(self._issues) == before:
            self._shelf.put(ident, key, found)
        return found

    def all_defects(self) -> list[Defect]:
        """Return every defect that can be read."""
        found = []
        with undisturbed():
            for ident in self.defect_files:
                try:
                    found.append(self.defect(ident))
                except RulesError as error:
                    if error is self._refused:
                        raise
        return found

    @cached_property
    def glossary(self) -> list[Word]:
        """Return the words of the trade that are explained, by stage."""
        found = []
        for stage in STAGES:
            for path in (p for p in yaml_files(self.folder / stage) if p.name.startswith("_glossary")):
                c = self._file(path)
                words = read_words(c, stage)
                found += [word for word, line in words if self._once("glossary word", word.name, c.file, line)]
        return found

    def is_cause(self, ident: str) -> bool:
        """Say whether a case can turn out to be this: a cause, or a defect that is handed over to."""
        return ident in self.causes or ident in self.defect_files

    def cause_name(self, ident: str) -> str:
        """Return the plain name of a cause, or of the defect it hands over to."""
        if ident in self.causes:
            return self.causes[ident].name
        if ident in self.defect_files:
            return f"{self.defect(ident).name} (a fault of its own)"
        return ident


def _place_of(text: str) -> tuple[str, int]:
    file, _, line = text.rpartition(":")
    return file, int(line)
