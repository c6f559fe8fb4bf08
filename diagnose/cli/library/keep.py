"""`diagnose library add`: recorded cases into the library."""

from __future__ import annotations

from pathlib import Path

import click

from diagnose.cli.wrap import say, tell


@click.command("add")
@click.argument("files", nargs=-1, required=True, type=click.Path())
@click.option("--again", is_flag=True, help="Keep a case even when the same one is there already.")
@click.pass_obj
def add_command(given: dict[str, str], files: tuple[str, ...], again: bool) -> int:
    """Diagnose recorded cases and take them into the library."""
    from diagnose.cli.shop import open_library
    from diagnose.cli.taught import taught
    from diagnose.errors import BadInput
    from diagnose.rulebase.cases import read_case

    of, library = taught(given).of, open_library(given)
    code = 0
    for file in files:
        try:
            case = read_case(Path(file), of.base)
        except BadInput as error:
            tell(error.message())
            code = 2
            continue
        same = None if again else library.same_as(case)
        if same:
            say(f"{file}: is there already as {same} (--again keeps it twice)")
        else:
            name = library.save(case, diagnosis=of.diagnose(case) if case.defect else None)
            say(f"{file}: kept as {name}")
    return code
