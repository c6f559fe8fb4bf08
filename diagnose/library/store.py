"""A first case library: one YAML case file each, in a folder."""

from __future__ import annotations

import re
from collections.abc import Container, Iterator
from pathlib import Path

from platformdirs import user_data_path

from diagnose.errors import BadInput
from diagnose.library.files import write_whole
from diagnose.model.case import Case
from diagnose.rulebase.cases import case_to_text, read_case
from diagnose.rulebase.load import RuleBase


def default_folder() -> Path:
    """Return the folder in the user's data directory where cases are kept."""
    return user_data_path("second-pour", appauthor=False) / "cases"


class Library:
    """Cases in a folder, named by date, defect and a running number."""

    def __init__(self, folder: Path | None = None) -> None:
        self.folder = folder or default_folder()

    def save(self, case: Case, name: str = "", settings: Container[str] = ()) -> str:
        """Write a case and return its name; an empty name takes the next free one."""
        name = name or self._free_name(case)
        write_whole(self.folder / f"{name}.yaml", case_to_text(case, settings))
        return name

    def _free_name(self, case: Case) -> str:
        stem = "-".join(p for p in (case.date, re.sub(r"[^a-z0-9]+", "-", case.defect) or "case") if p)
        taken = set(self.names())
        number = 1
        while f"{stem}-{number:02d}" in taken:
            number += 1
        return f"{stem}-{number:02d}"

    def names(self) -> list[str]:
        """Return the names of all cases, in order."""
        return sorted(p.stem for p in self.folder.glob("*.yaml")) if self.folder.is_dir() else []

    def get(self, name: str, base: RuleBase) -> Case:
        """Return a case by name; raise BadInput for an unknown one."""
        path = self.folder / f"{Path(name).name}.yaml"
        if not path.is_file():
            raise BadInput(
                f"there is no case '{name}'.", where=str(self.folder), next_step="`diagnose library list` shows all."
            )
        return read_case(path, base)

    def all(self, base: RuleBase) -> Iterator[tuple[str, Case | BadInput]]:
        """Yield every case by name; one that cannot be read comes as its error."""
        for name in self.names():
            try:
                yield name, self.get(name, base)
            except BadInput as error:
                yield name, error
