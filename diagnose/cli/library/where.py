"""`diagnose where`: where rules, cases, the unfinished interview and the log lie."""

from __future__ import annotations

from pathlib import Path

import click


@click.command("where")
@click.pass_obj
def where_command(given: dict[str, str]) -> int:
    """Say where rules, cases, the unfinished interview and the log lie."""
    from platformdirs import user_log_path

    from diagnose.cli.base import cache_folder
    from diagnose.library import Draft
    from diagnose.library.place import on_network_drive, place
    from diagnose.rulebase.load import shipped_folder

    library = place(given.get("--library"))
    for what, path in (
        ("rules", Path(given["--rules"]) if "--rules" in given else shipped_folder()),
        ("cases", library.file),
        ("unfinished interview", Draft().path),
        ("rules as read before", cache_folder()),
        ("log of troubles", user_log_path("second-pour", appauthor=False)),
    ):
        shown = path if path is not None else library.shown
        there = "" if path is None or path.exists() else "   (not there yet)"
        network = f"   (network drive: {kind})" if path and (kind := on_network_drive(path)) else ""
        click.echo(f"{what}: {shown}{there}{network}")
    return 0
