"""`diagnose rules`: check, list, show and account for the rules base."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click


def _base(given: dict[str, str]) -> Any:
    from diagnose.rulebase.load import RuleBase

    return RuleBase(Path(given["--rules"]) if "--rules" in given else None)


@click.group("rules")
def rules_command() -> None:
    """Check, list and show what the rules base knows."""


@rules_command.command("check")
@click.option(
    "--deep", is_flag=True, help="Also ask of every cause whether it can come out first, and run the examples."
)
@click.pass_obj
def check_command(given: dict[str, str], deep: bool) -> int:
    """List every fault in the rules base at once: file, line, what, remedy."""
    from diagnose.derive.all import all_calculators
    from diagnose.rulebase.checks import check, counts

    base = _base(given)
    issues = check(base, all_calculators())
    if deep and not issues:
        from diagnose.cli.setup import consultant
        from diagnose.consult.proof import prove

        issues = prove(consultant(given.get("--rules"), given["--units"]))
    for issue in issues:
        click.echo(issue.text())
    click.echo("; ".join(f"{n} {what}" for what, n in counts(base).items()))
    click.echo(f"{len(issues)} problems." if issues else "No problems.")
    return 2 if issues else 0


@rules_command.command("list")
@click.pass_obj
def list_command(given: dict[str, str]) -> int:
    """List the defects by stage."""
    for defect in _base(given).all_defects():
        click.echo(f"{defect.id:34} {defect.name} ({len(defect.candidates)} causes, {len(defect.rules())} rules)")
    return 0


@rules_command.command("show")
@click.argument("name")
@click.pass_obj
def show_command(given: dict[str, str], name: str) -> int:
    """Show a defect or a cause on one page."""
    from diagnose.cli.screen import put
    from diagnose.report.knowledge import knowledge_lines

    base = _base(given)
    put(lambda width: knowledge_lines(base, name, width))
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
