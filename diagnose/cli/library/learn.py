"""`diagnose library learn`: let the ranking learn from confirmed cases that it has not heard of yet."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from diagnose.cli.taught import Shop
    from diagnose.library.store import Library


@click.command("learn")
@click.option("--again", is_flag=True, help="Forget what was learned and learn from all cases anew.")
@click.pass_obj
def learn_command(given: dict[str, str], again: bool) -> int:
    """Learn from this shop's confirmed cases. Single ones are learned from on the way; after an import, run this."""
    from diagnose.cli.shop import open_library
    from diagnose.cli.taught import taught
    from diagnose.library import learning

    library = open_library(given)
    if again:
        learning.again(library.database)
    count = learn_all(library, taught(given))
    click.echo(f"Learned from {count} confirmed case{'s' if count != 1 else ''}.")
    return 0


def learn_all(library: Library, shop: Shop) -> int:
    """Learn from every case that waits, with a bar on a terminal, and return from how many."""
    from diagnose.cli.progress import progress
    from diagnose.library import learning

    with progress("Learning from confirmed cases", learning.waiting(library.database)) as more:
        return learning.learn(library.database, shop.hear, progress=more)
