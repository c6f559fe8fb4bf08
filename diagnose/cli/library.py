"""`diagnose library` and `diagnose where`: the cases kept so far, and where everything lies."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click


def _library(given: dict[str, str]) -> Any:
    from diagnose.library import Library

    return Library(Path(given["--library"]) if "--library" in given else None)


@click.group("library")
@click.option("--library", "folder", type=click.Path(), help="The folder where cases are kept.")
@click.pass_obj
def library_command(given: dict[str, str], folder: str | None) -> None:
    """Keep, list and show cases."""
    if folder:
        given["--library"] = folder


@library_command.command("list")
@click.pass_obj
def list_command(given: dict[str, str]) -> int:
    """List the cases: name, defect, part, confirmed cause."""
    from diagnose.cli.setup import consultant
    from diagnose.errors import BadInput
    from diagnose.model.clean import clean

    library, of = _library(given), consultant(given.get("--rules"), given["--units"])
    click.echo(f"Cases in {library.folder}:")
    empty = True
    for name, case in library.all(of.base):
        empty = False
        if isinstance(case, BadInput):
            click.echo(f"{name}: cannot be read: {clean(case.message())}")
            continue
        cause = ", ".join(of.base.cause_name(c) for c in case.confirmed) or "not confirmed yet"
        click.echo(
            clean(f"{name}: {of.base.defect(case.defect).name if case.defect else '?'}; {case.part or '-'}; {cause}")
        )
    if empty:
        click.echo("None yet. `diagnose` keeps one at the end; `diagnose library add FILE` takes a recorded one.")
    return 0


@library_command.command("show")
@click.argument("name")
@click.pass_obj
def show_command(given: dict[str, str], name: str) -> int:
    """Show a case and its diagnosis again."""
    from diagnose.cli.screen import put
    from diagnose.cli.setup import consultant
    from diagnose.model.clean import clean
    from diagnose.report.text import diagnosis_lines
    from diagnose.rulebase.cases import case_to_text

    of = consultant(given.get("--rules"), given["--units"])
    case = _library(given).get(name, of.base)
    click.echo(clean(case_to_text(case, of.base.words.settings), keep_lines=True))
    put(lambda width: diagnosis_lines(of.diagnose(case), width, case.part))
    return 0


@library_command.command("add")
@click.argument("files", nargs=-1, required=True, type=click.Path())
@click.pass_obj
def add_command(given: dict[str, str], files: tuple[str, ...]) -> int:
    """Take recorded cases into the library."""
    from diagnose.cli.setup import consultant
    from diagnose.rulebase.cases import read_case

    of, library = consultant(given.get("--rules"), given["--units"]), _library(given)
    for file in files:
        click.echo(f"{file}: kept as {library.save(read_case(Path(file), of.base), settings=of.base.words.settings)}")
    return 0


@click.command("where")
@click.pass_obj
def where_command(given: dict[str, str]) -> int:
    """Say where rules, cases, the unfinished interview and the log lie."""
    from platformdirs import user_log_path

    from diagnose.library import Draft
    from diagnose.rulebase.load import shipped_folder

    for what, path in (
        ("rules", Path(given["--rules"]) if "--rules" in given else shipped_folder()),
        ("cases", _library(given).folder),
        ("unfinished interview", Draft().path),
        ("log of troubles", user_log_path("second-pour", appauthor=False)),
    ):
        click.echo(f"{what}: {path}" + ("" if path.exists() else "   (not there yet)"))
    return 0
