"""`diagnose library backup`, `restore`, `recover` and `where`."""

from __future__ import annotations

from pathlib import Path

import click

from diagnose.cli.wrap import say


@click.command("backup")
@click.argument("to", type=click.Path(), required=False)
@click.pass_obj
def backup_command(given: dict[str, str], to: str | None) -> int:
    """Copy the library into one file, while others may go on working."""
    from datetime import date

    from diagnose.cli.shop import open_library
    from diagnose.library.backup import back_up, free

    library = open_library(given)
    wanted = Path(to) if to else free(library.place.folder / f"library-{date.today():%Y-%m-%d}.db")
    say(f"Copied to {back_up(library.database.engine(), library.place, wanted.absolute())}")
    return 0


@click.command("restore")
@click.argument("copy", type=click.Path())
@click.pass_obj
def restore_command(given: dict[str, str], copy: str) -> int:
    """Put a backup in the place of the library; the state until now is set aside first."""
    from diagnose.cli.shop import upgrading
    from diagnose.library import Library
    from diagnose.library.backup import restore

    library = Library(given.get("--library"), upgrading=upgrading)
    aside = restore(library.database.engine, library.place, Path(copy))
    library.close()
    say(f"Restored {library.shown} from {copy}: {len(library.names())} cases.")
    if aside:
        say(f"The state until now is in {aside}.")
    return 0


PARTS = {
    "cases": "cases", "facts": "materials and settings", "diagnoses": "diagnoses", "trials": "trials",
    "moves": "revised settings", "confirmed": "confirmed causes", "photos": "photos", "pictures": "copies of photos",
    "changes": "changes", "revisions": "earlier states of cases", "mappings": "kinds of spreadsheet", "words": "names",
    "shops": "shops", "meta": "notes of the library itself",
}  # fmt: skip
"""What the parts of a library hold, in words."""


@click.command("recover")
@click.argument("damaged", type=click.Path(), required=False)
@click.option("--to", required=True, type=click.Path(), help="The new file.")
@click.pass_obj
def recover_command(given: dict[str, str], damaged: str | None, to: str) -> int:
    """Save what can be read of a damaged library into a new file; the damaged one is left as it is."""
    from diagnose.cli.progress import progress
    from diagnose.errors import BadInput
    from diagnose.library.place import place
    from diagnose.library.recover import recover

    file = Path(damaged) if damaged else place(given.get("--library")).file
    if file is None:
        raise BadInput("only a file can be recovered.", next_step="For PostgreSQL restore a backup.")
    with progress("Cases recovered", None) as more:
        found = recover(file.absolute(), Path(to).absolute(), more)
    for part, what in PARTS.items():
        lost = found.unreadable.get(part, 0)
        say(f"{what}: {found.rows[part]} saved" + (f"; {lost} places could not be read" if lost else ""))
    if found.heads:
        say(f"{found.heads} cases had lost part, date, notes and what was observed; they are kept as recovered-NUMBER.")
    if found.orphans:
        say(f"{found.orphans} entries belonged to nothing that could be read, and were left out.")
    say(f"Saved into {to}. Look at it with --library {to}; then `diagnose library restore {to}`.")
    return 0


@click.command("where")
@click.pass_obj
def where_command(given: dict[str, str]) -> int:
    """Say where the library lies, how large it is, and which copies lie beside it."""
    from diagnose.cli.shop import open_library
    from diagnose.library.find import Wanted
    from diagnose.library.place import on_network_drive
    from diagnose.library.tables import SCHEMA_VERSION

    library = open_library(given)
    file = library.place.file
    say(f"library: {library.shown}")
    if file and not file.exists():
        say("not there yet; the first case that is kept makes it")
        return 0
    say(f"cases: {library.count(Wanted())}")
    say(f"form: {SCHEMA_VERSION}")
    if file:
        say(f"size: {file.stat().st_size / 1e6:.1f} MB")
        say(f"on a network drive: {on_network_drive(file) or 'no'}")
    folder = library.place.folder
    for copy in sorted(folder.glob("*.db")) if folder.is_dir() else ():
        if copy != file:
            say(f"beside it: {copy}")
    return 0
