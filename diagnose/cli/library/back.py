"""`diagnose library undo` and `forget`."""

from __future__ import annotations

import click

from diagnose.cli.wrap import say


@click.command("undo")
@click.option("--back", is_flag=True, help="Take your last undo back: what it took back is there again.")
@click.pass_obj
def undo_command(given: dict[str, str], back: bool) -> int:
    """Take back your last change; again and again goes further back."""
    from diagnose.cli.shop import open_library

    done = open_library(given).undo(back)
    which = ", ".join(done.names[:5]) + (f" and {len(done.names) - 5} more" if len(done.names) > 5 else "")
    if back:
        say(f"Brought again: {done.what} of {which}. `diagnose library undo` takes it back.")
    else:
        say(f"Taken back: {done.what} of {which}, {done.at}. `diagnose library undo --back` brings it again.")
    return 0


@click.command("forget")
@click.argument("name")
@click.option("--for-good", is_flag=True, help="With its history and pictures; nothing brings it back.")
@click.pass_obj
def forget_command(given: dict[str, str], name: str, for_good: bool) -> int:
    """Take a case out of the library; undo brings it back unless it is forgotten for good."""
    from diagnose.cli.shop import open_library

    kept = open_library(given).forget(name, for_good)
    say(f"{kept.name}: forgotten{' for good' if for_good else ' (undo brings it back)'}")
    return 0
