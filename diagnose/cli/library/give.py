"""`diagnose library export`: cases out, as JSON Lines, case files or a spreadsheet."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from diagnose.cli.library.look import filters
from diagnose.cli.wrap import tell

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from diagnose.library.kept import Kept
    from diagnose.rulebase.load import RuleBase

FORMS = ("jsonl", "yaml", "csv")
ENDINGS = {".jsonl": "jsonl", ".ndjson": "jsonl", ".csv": "csv", ".yaml": "yaml", ".yml": "yaml"}


@click.command("export")
@click.argument("to", type=click.Path())
@click.option("--as", "form", type=click.Choice(FORMS), help="Else by the ending of TO; JSON Lines for -.")
@click.option("--anonymous", is_flag=True, help="Without initials, part names, free text, photos, cost and days.")
@click.argument("words", nargs=-1)
@filters
@click.pass_obj
def export_command(
    given: dict[str, str], /, to: str, form: str | None, anonymous: bool, words: tuple[str, ...], **options: Any
) -> int:
    """Write cases into TO: FILE.jsonl, FILE.csv, one case into FILE.yaml, several into a folder, or - to show them.

    The same words and options as for find say which cases; all of them when nothing is said.
    """
    from diagnose.cli.library.look import wanted
    from diagnose.cli.shop import open_library, rules_base
    from diagnose.library.anonymise import anonymised
    from diagnose.library.exchange_csv import write_rows
    from diagnose.library.exchange_yaml import CASE_FILES
    from diagnose.library.files import write_whole

    library, base = open_library(given), rules_base(given)
    what = wanted(words, given, options)

    def cases() -> Iterator[Kept]:
        chosen = library.chosen(what)
        return (anonymised(k, base) for k in chosen) if anonymous else chosen

    form = form or _form(to)
    if form == "yaml" and (to == "-" or Path(to).suffix.lower() in CASE_FILES):
        text = _only(cases(), to, base)
        if to == "-":
            click.echo(text, nl=False)
            return 0
        write_whole(Path(to), text)
        count = 1
    elif to == "-":
        for line in write_rows(cases, base) if form == "csv" else (f"{k.to_json()}\n" for k in cases()):
            click.echo(line, nl=False)
        return 0
    else:
        count = _written(cases, library.count(what), form, Path(to), base)
    tell(f"{count} case{'s' if count != 1 else ''} written to {to}.")
    return 0


def _written(cases: Callable[[], Iterator[Kept]], many: int, form: str, to: Path, base: RuleBase) -> int:
    """Write the cases with a bar on a terminal, and return how many."""
    from diagnose.cli.progress import progress
    from diagnose.library.exchange_csv import write_rows
    from diagnose.library.exchange_yaml import write_folder
    from diagnose.library.files import write_lines

    # A sheet is gone through twice: its columns are known only when every case was seen.
    with progress("Writing cases", 2 * many if form == "csv" else many) as more:

        def counted() -> Iterator[Kept]:
            for kept in cases():
                yield kept
                more(1)

        if form == "yaml":
            return write_folder(counted(), to, base)
        if form == "csv":
            return write_lines(to, write_rows(counted, base)) - 1
        return write_lines(to, (f"{k.to_json()}\n" for k in counted()))


def _form(to: str) -> str:
    """Return the form that the name of a target tells; raise BadInput when it tells another one."""
    from diagnose.errors import BadInput

    ending, path = Path(to).suffix.lower(), Path(to)
    if to == "-":
        return "jsonl"
    if ending in ENDINGS:
        return ENDINGS[ending]
    if path.is_file() or (ending[1:].isalpha() and not path.is_dir()):
        raise BadInput(
            f"'{path.name}' does not tell the form.", where=to,
            next_step="End it in .jsonl, .csv or .yaml, name a folder, or say --as.",
        )  # fmt: skip
    return "yaml"


def _only(cases: Iterator[Kept], to: str, base: RuleBase) -> str:
    """Return the one case as a case file; raise BadInput when there are none or several."""
    from itertools import islice

    from diagnose.errors import BadInput
    from diagnose.library.exchange_yaml import to_text

    found = list(islice(cases, 2))
    if len(found) != 1:
        many = "several cases match" if found else "no case matches"
        raise BadInput(
            f"{many}; a case file holds one.", where=to, next_step="Name a folder for several, or say which one."
        )
    return to_text(found[0], base)
