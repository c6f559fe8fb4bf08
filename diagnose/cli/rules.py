"""`diagnose rules`: check, list, show, play and account for the rules base."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from diagnose.model.coverage import Coverage


def _base(given: dict[str, str]) -> Any:
    from diagnose.cli.base import rules_base

    return rules_base(given.get("--rules"))


@click.group("rules")
def rules_command() -> None:
    """Check, list and show what the rules base knows."""


@rules_command.command("check")
@click.option(
    "--deep",
    is_flag=True,
    help="Also ask whether every cause can come out first and be told from every other; run the examples.",
)
@click.pass_obj
def check_command(given: dict[str, str], deep: bool) -> int:
    """List every fault in the rules base at once: file, line, what, remedy."""
    from diagnose.derive.all import all_calculators
    from diagnose.rulebase.checks import check, counts

    base = _base(given)
    issues = check(base, all_calculators())
    if deep and not base.issues:
        from diagnose.cli.setup import on
        from diagnose.consult.proof import prove

        issues = [*issues, *prove(on(base, given["--units"]))]
    for issue in issues:
        click.echo(issue.text())
    click.echo("; ".join(f"{n} {what}" for what, n in counts(base).items()))
    click.echo(f"{len(issues)} problems." if issues else "No problems.")
    return 2 if issues else 0


@rules_command.command("list")
@click.argument("stages", nargs=-1, metavar="[STAGE...]")
@click.option(
    "--kind",
    default="defects",
    metavar="KIND",
    help="What to list: defects, causes, observations, bench-tests, settings, computed, materials, cautions or words.",
)
@click.pass_obj
def list_command(given: dict[str, str], stages: tuple[str, ...], kind: str) -> int:
    """List the defects, or what else there is, of some stages or of all."""
    from diagnose.cli.names import one_of
    from diagnose.cli.screen import put
    from diagnose.model.vocabulary import STAGES
    from diagnose.report.listing import KINDS, listing_lines

    meant = {one_of("stage", stage, STAGES) for stage in stages}
    what = one_of("kind", kind.replace(" ", "-"), list(KINDS))
    base = _base(given)
    put(lambda width: listing_lines(base, what, meant, width, given["--units"]))
    return 0


@rules_command.command("show")
@click.argument("name")
@click.pass_obj
def show_command(given: dict[str, str], name: str) -> int:
    """Show a defect, cause, rule, observation, bench test, setting, material, caution or source on one page."""
    from diagnose.cli.screen import put
    from diagnose.report.knowledge import knowledge_lines

    base = _base(given)
    put(lambda width: knowledge_lines(base, name, width, given["--units"]))
    return 0


@rules_command.command("sources")
@click.pass_obj
def sources_command(given: dict[str, str]) -> int:
    """Count what rests on published work read, on memory, and on common practice."""
    from diagnose.rulebase.checks import provenance

    for kind, (count, works) in provenance(_base(given)).items():
        click.echo(f"{count:6}  {kind}" + (f" ({len(works)} works)" if works else ""))
        for work in works:
            click.echo(f"          {work}")
    return 0


@rules_command.command("simulate")
@click.argument("names", nargs=-1, metavar="[DEFECT...]")
@click.option("--stage", multiple=True, help="Play only the defects of this stage; can be repeated.")
@click.option("--noise", default="0", metavar="10%", help="Share of the answers that is flipped to another one.")
@click.option("--seed", default=1, help="The same number gives the same plays.")
@click.option("--plays", default=5, type=click.IntRange(1, 1000), help="Plays of each cause.")
@click.option("--file-order", is_flag=True, help="Also count the questions that asking in file order takes.")
@click.option("--every", is_flag=True, help="List every cause, not only the weakest.")
@click.option("--json", "as_json", is_flag=True, help="Write the figures as JSON.")
@click.pass_obj
def simulate_command(
    given: dict[str, str], names: tuple[str, ...], stage: tuple[str, ...], noise: str, seed: int, plays: int,
    file_order: bool, every: bool, as_json: bool,
) -> int:  # fmt: skip
    """Play every cause through the interview with truthful (or partly wrong) answers, and see how often it is found."""
    from diagnose.cli.screen import put
    from diagnose.cli.setup import consultant
    from diagnose.cli.simulate import Plan, defects_meant, simulate
    from diagnose.consult.tally import tally
    from diagnose.report.simulation import simulation_lines

    of = consultant(given.get("--rules"), given["--units"])
    plan = Plan(given.get("--rules"), given["--units"], plays, _share(noise), seed, file_order)
    found = tally(simulate(of, plan, defects_meant(of.base, (*names, *stage))), plan.noise, seed)
    if as_json:
        click.echo(found.model_dump_json(indent=1))
    else:
        put(lambda width: simulation_lines(found, width, every))
    return 0


@rules_command.command("coverage")
@click.argument("names", nargs=-1, metavar="[STAGE|DEFECT...]")
@click.option("--plays", default=5, type=click.IntRange(1, 1000), help="Truthful plays of each cause.")
@click.option("--seed", default=1, help="The same number gives the same plays.")
@click.option("--json", "as_json", is_flag=True, help="Write the table as JSON.")
@click.option("--plot", type=click.Path(path_type=Path), help="Draw it into a file that ends in .svg, .png or .html.")
@click.pass_obj
def coverage_command(
    given: dict[str, str], names: tuple[str, ...], plays: int, seed: int, as_json: bool, plot: Path | None
) -> int:
    """Show how well the causes of each defect are told apart, and how many questions it takes."""
    from diagnose.cli.screen import put
    from diagnose.cli.setup import consultant
    from diagnose.cli.simulate import Plan, defects_meant, simulate
    from diagnose.consult.cover import covered
    from diagnose.model.coverage import Coverage
    from diagnose.report.coverage import coverage_lines

    if plot is not None:
        from diagnose.report.pictures.files import ending_of

        ending_of(plot)  # before a minute of playing
    of = consultant(given.get("--rules"), given["--units"])
    defects = defects_meant(of.base, names)
    played = simulate(of, Plan(given.get("--rules"), given["--units"], plays, 0.0, seed, False), defects)
    rows = tuple(covered(of.desk(d), [p for p in played if p.defect == d]) for d in defects)
    found = Coverage(plays=plays, seed=seed, defects=rows)
    written = _drawn(found, plot) if plot is not None else ""
    if as_json:
        click.echo(found.model_dump_json(indent=1))
    else:
        put(lambda width: coverage_lines(found, width))
        if written:
            click.echo(written)
    return 0


def _drawn(found: Coverage, path: Path) -> str:
    from diagnose.report.pictures.coverage import ROWS, coverage_picture
    from diagnose.report.pictures.files import write_picture

    write_picture(coverage_picture(found), path)
    every = len(found.defects)
    part = f" (the {ROWS} weakest of {every} defects; name a stage or a defect to see others)" if every > ROWS else ""
    return f"Picture written to {path}{part}."


def _share(text: str) -> float:
    """Return a share written as `10%`, `10 %` or `0.1`."""
    from diagnose.errors import BadInput

    number = text.strip().removesuffix("%").strip()
    try:
        share = float(number) / (100.0 if "%" in text else 1.0)
    except ValueError:
        share = -1.0
    if not 0.0 <= share <= 1.0:
        raise BadInput(f"'{text}' is no share of answers.", where="--noise", next_step="Write one like 10%.")
    return share
