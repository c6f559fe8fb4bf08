"""`diagnose library similar CASE|FILE`: the kept cases that are like one at hand."""

from __future__ import annotations

from pathlib import Path

import click


@click.command("similar")
@click.argument("which", metavar="CASE|FILE")
@click.option("--most", type=click.IntRange(1, 500), default=10, show_default=True, help="How many at most.")
@click.option("--whole-stage", is_flag=True, help="Look among all defects of the stage, not only the same one.")
@click.option("--least", type=click.IntRange(1, 100), default=80, show_default=True, help="Least likeness, in percent.")
@click.option("--all", "every", is_flag=True, help="Look at all, not only the newest 30,000 of a defect.")
@click.option("--json", "as_json", is_flag=True, help="Write them as JSON.")
@click.pass_obj
def similar_command(
    given: dict[str, str], which: str, most: int, whole_stage: bool, least: int, every: bool, as_json: bool
) -> int:  # fmt: skip
    """Show kept cases like a kept one (by name or number) or a recorded one (a file)."""
    from diagnose.cli.screen import put
    from diagnose.cli.setup import consultant
    from diagnose.cli.shop import open_library
    from diagnose.cli.taught import stage_of
    from diagnose.errors import BadInput
    from diagnose.library.similar import NEWEST, similar
    from diagnose.report.alike import alike_lines
    from diagnose.rulebase.cases import read_case

    of, library = consultant(given.get("--rules"), given["--units"]), open_library(given)
    is_file = Path(which).suffix in (".yaml", ".yml") or Path(which).is_file()
    case = read_case(Path(which), of.base) if is_file else library.get(which, of.base)
    if not case.defect:
        raise BadInput("the case does not say what is wrong.", where=which, next_step="Add `defect:` to it.")
    likes = similar(
        library.database, case, stage_of(of, case.defect), whole_stage=whole_stage, least=least / 100.0, most=most,
        apart_from="" if is_file else library.kept(which).name, newest=None if every else NEWEST,
    )  # fmt: skip
    if as_json:
        click.echo(likes.model_dump_json())
    else:
        put(lambda width: alike_lines(of.base, likes, width))
    return 0
