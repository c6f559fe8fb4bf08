"""Kept cases as case files: what `diagnose case` reads, and under `library:` what the library knows beyond that.

A case file holds what was told as a person wrote it. Where reading that again would not give the very same case (a fact
that today's rules do not know, a line break in a note), `library: told:` holds it exactly, and goes before.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from diagnose.errors import BadInput
from diagnose.library.files import write_whole
from diagnose.library.kept import Kept, Tried, checked
from diagnose.library.lines import Read
from diagnose.model.case import Case
from diagnose.model.vocabulary import NOT_KNOWN
from diagnose.rulebase.cases import case_from_text, case_to_text
from diagnose.rulebase.files import dump, parse, read_text
from diagnose.rulebase.load import RuleBase

CASE_FILES = (".yaml", ".yml")
"""How the names of case files end."""
TOLD = ("part", "defect", "date", "notes", "materials", "settings", "observations", "confirmed")


def to_text(kept: Kept, base: RuleBase) -> str:
    """Return a kept case as a case file that reads back to the very same."""
    case = _readable(kept.case(), base)
    text = case_to_text(case, base.words.settings) if case.defect else ""
    beyond = _plain(kept.model_dump(exclude_defaults=True, exclude=set(TOLD)))
    if not text or _exactly(text, base) != kept.model_copy(update=_without_told(kept)):
        beyond["told"] = _plain(kept.model_dump(include=set(TOLD)))
    return text + dump({"library": beyond})


def from_text(text: str, where: str, base: RuleBase) -> Kept:
    """Return the kept case in a case file; one that never was in a library is read just the same."""
    beyond = parse(text, where).get("library", {})
    if not isinstance(beyond, dict):
        raise BadInput("'library' must hold `name: value` lines.", where=where)
    extra = {name: value for name, value in beyond.items() if name != "told"}
    told = beyond.get("told")
    try:
        if isinstance(told, dict):
            return checked({**told, **extra})
        kept = Kept.of(case_from_text(text, where, base))
        return checked({**kept.model_dump(), **extra})
    except BadInput as error:
        if error.where or where in error.what:
            raise
        raise BadInput(error.what, where=where, next_step=error.next_step) from None


def write_folder(kepts: Iterable[Kept], folder: Path, base: RuleBase) -> int:
    """Write each case as a file of its own into a folder and return how many."""
    if folder.exists() and not folder.is_dir():
        raise BadInput("is a file, no folder.", where=str(folder), next_step="Name a folder for the case files.")
    used: set[str] = set()
    for number, kept in enumerate(kepts, 1):
        stem = re.sub(r"[^\w.-]+", "-", kept.name).strip(".-")[:120] or "case"
        name = stem if stem.casefold() not in used else f"{stem}-{number}"
        used.add(name.casefold())
        write_whole(folder / f"{name}.yaml", to_text(kept, base))
    return len(used)


def case_files(folder: Path) -> list[Path]:
    """Return the case files in a folder; raise BadInput when there is none."""
    found = sorted(p for p in folder.iterdir() if p.suffix.lower() in CASE_FILES and not p.name.startswith("."))
    if not found:
        raise BadInput(
            "holds no case files (.yaml).",
            where=str(folder),
            next_step="Name the folder that does, or the file itself.",
        )
    return found


def read_files(paths: Iterable[Path], base: RuleBase) -> Iterator[Read]:
    """Yield the case of each file, or why it holds none."""
    for path in paths:
        try:
            yield str(path), from_text(read_text(path), str(path), base)
        except BadInput as error:
            yield str(path), error


def _exactly(text: str, base: RuleBase) -> Kept | None:
    try:
        return Kept.of(case_from_text(text, "", base))
    except BadInput:
        return None


def _without_told(kept: Kept) -> dict[str, object]:
    """Return what a case has that was never in a library, for comparing what was told."""
    empty = Kept()
    fields = {name: getattr(empty, name) for name in Kept.model_fields if name not in TOLD}
    fields["trials"] = tuple(Tried(**t.model_dump()) for t in kept.case().trials)
    return fields


def _readable(case: Case, base: RuleBase) -> Case:
    """Return a case with only what today's rules can read."""
    words = base.words
    observations = {
        n: a for n, a in case.observations.items()
        if n in words.observations or (a == NOT_KNOWN and n in words.settings)
    }  # fmt: skip
    return case.model_copy(
        update={
            "defect": case.defect if case.defect in base.defect_files else "",
            "materials": {n: a for n, a in case.materials.items() if n in words.slots},
            "settings": {n: s for n, s in case.settings.items() if n in words.settings},
            "observations": observations,
            "confirmed": tuple(c for c in case.confirmed if base.is_cause(c)),
        }
    )


def _plain(data: Any) -> Any:
    """Return nested data with lists for tuples and text for everything else, as a case file holds it."""
    if isinstance(data, dict):
        return {str(k): _plain(v) for k, v in data.items() if v is not None}
    if isinstance(data, (list, tuple)):
        return [_plain(v) for v in data]
    return repr(data) if isinstance(data, float) else str(data).lower() if isinstance(data, bool) else str(data)
