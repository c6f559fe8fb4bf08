"""Opens the case library that the person means, and says what they should know about where it lies."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from diagnose.cli.wrap import tell

if TYPE_CHECKING:
    from diagnose.library import Library
    from diagnose.rulebase.load import RuleBase

BUSY = "The case library is busy (another bench is saving). Trying again..."
ON_A_NETWORK = (
    "The case library lies on a network drive ({kind}). One program at a time is safe there; for several benches use "
    "PostgreSQL: --library postgresql://USER@HOST/DATABASE."
)

UPGRADING = (
    "The case library was made by an earlier version of this program and is brought to today's form, which that "
    "version cannot read. Its state until now stays in {copy}."
)


def initials(given: Mapping[str, str]) -> str:
    """Return whose changes these are: --by, else DIAGNOSE_BY, else the first line of the file `initials`."""
    from platformdirs import user_config_path

    named = given.get("--by") or os.environ.get("DIAGNOSE_BY", "")
    if not named:
        try:
            path = user_config_path("second-pour", appauthor=False) / "initials"
            named = path.read_text(encoding="utf-8").split("\n")[0]
        except (OSError, UnicodeDecodeError):
            named = ""
    return named.strip()[:40]


def open_library(given: Mapping[str, str]) -> Library:
    """Return the library; cases that an earlier version kept in a folder are taken into it first."""
    from diagnose.library import Library
    from diagnose.library.place import on_network_drive
    from diagnose.library.takeover import take_over, waiting

    library = Library(
        given.get("--library"), author=initials(given), waiting=lambda: tell(BUSY), upgrading=upgrading
    )  # fmt: skip
    if library.place.file and (kind := on_network_drive(library.place.file)):
        tell(ON_A_NETWORK.format(kind=kind))
    left = waiting(library)
    if left:
        taken, faults = take_over(library, left, rules_base(given))
        if taken:
            tell(f"{len(taken)} cases from {library.place.earlier} were taken into {library.shown}; the files stay.")
        for fault in faults:
            tell(f"Not taken in: {fault}")
    return library


@contextmanager
def upgrading(copy: Path, cases: int) -> Iterator[Callable[[int], None]]:
    """Say that a library is brought to today's form and where its state until now lies; a bar while it lasts."""
    from diagnose.cli.progress import progress

    tell(UPGRADING.format(copy=copy))
    with progress("Bringing it to today's form", cases) as more:
        yield more


def rules_base(given: Mapping[str, str]) -> RuleBase:
    """Return the rules base, for names; faults in it are no matter here."""
    from diagnose.cli import base

    return base.rules_base(given.get("--rules"))
