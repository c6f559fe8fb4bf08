"""`diagnose library` and `diagnose where`: one file for a few commands each, imported when they run."""

from __future__ import annotations

import importlib
from importlib.util import find_spec
from types import MappingProxyType

import click

from diagnose.cli.commands import Lazy

HOMES = MappingProxyType(
    {
        "add": "keep", "list": "look", "find": "look", "show": "look",
        "trial": "life", "confirm": "life", "close": "life", "reopen": "life", "photo": "life",
        "undo": "back", "forget": "back",
        "export": "give", "import": "take", "merge": "take",
        "backup": "care", "restore": "care", "recover": "care", "where": "care",
        "similar": "similar", "summary": "summary", "learn": "learn",
    }
)  # fmt: skip
"""Which file holds which command, as `NAME_command`."""


class LibraryGroup(Lazy):
    """The commands of the library."""

    homes = MappingProxyType({n: m for n, m in HOMES.items() if find_spec(f"{__name__}.{m}")})

    def get_command(self, ctx: click.Context, name: str) -> click.Command | None:
        """Return a command by name, importing its file."""
        if name not in self.homes:
            return None
        module = importlib.import_module(f"{__name__}.{self.homes[name]}")
        command: click.Command = getattr(module, f"{name}_command")
        return command


@click.group("library", cls=LibraryGroup)
@click.option("--library", "named", metavar="PATH|URL", help="A folder, a file, or postgresql://USER@HOST/DATABASE.")
@click.option("--by", metavar="INITIALS", help="Whose changes these are; else DIAGNOSE_BY.")
@click.pass_obj
def library_command(given: dict[str, str], named: str | None, by: str | None) -> None:
    """Keep cases, say what came of them, find them again, exchange them."""
    if named:
        given["--library"] = named
    if by:
        given["--by"] = by


def __getattr__(name: str) -> object:
    if name == "where_command":
        from diagnose.cli.library.where import where_command

        return where_command
    raise AttributeError(name)
