"""`diagnose library export`: cases out, as JSON Lines, case files or a spreadsheet."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from diagnose.cli.library.look import filters

if TYPE_CHECKING:
    from collections.abc import Iterator

    from diagnose.library.kept import Kept

FORMS = ("jsonl", "yaml", "csv")


@click.command("export")
@click.argument("to", type=click.Path())
@click.option("--as", "form", type=click.Choice(FORMS), help="Else by the ending of TO; a folder holds case files.")
@click.option("--anonymous", is_flag=True, help="Without initials, part names, free text, photos, cost and days.")
@click.argument("words", nargs=-1)
@filters
@click.pass_obj
def export_command(
    given: dict[str, str], /, to: str, form: str | None, anonymous: bool, words: tuple[str, ...], **options: Any
) -> int:
    """Write cases into TO: FILE.jsonl, FILE.csv, a folder of case files, or - for JSON Lines on standard output.

    The same words and options as for find say which cases; all of them when nothing is said.
    """
    from diagnose.cli.library.look import wanted
    from diagnose.cli.shop import open_library, rules_base, tell
    from diagnose.library.anonymise import anonymised
    from diagnose.library.exchange_csv import write_rows
    from diagnose.library.exchange_yaml import write_folder
    from diagnose.library.files import write_lines

    library, base = open_library(given), rules_base(given)
    what = wanted(words, given, options)

    def cases() -> Iterator[Kept]:
        chosen = library.chosen(what)
        return (anonymised(k, base) for k in chosen) if anonymous else chosen

    form = form or {".jsonl": "jsonl", ".csv": "csv"}.get(Path(to).suffix.lower(), "jsonl" if to == "-" else "yaml")
    if to == "-":
        for line in write_rows(cases, base) if form == "csv" else (f"{k.to_json()}\n" for k in cases()):
            click.echo(line, nl=False)
        return 0
    if form == "yaml":
        count = write_folder(cases(), Path(to), base)
    elif form == "csv":
        count = write_lines(Path(to), write_rows(cases, base)) - 1
    else:
        count = write_lines(Path(to), (f"{k.to_json()}\n" for k in cases()))
    tell(f"{count} cases written to {to}.")
    return 0
