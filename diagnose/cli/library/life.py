"""`diagnose library trial`, `confirm`, `close`, `reopen`, `photo`: what came of a case."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from diagnose.cli.wrap import say

if TYPE_CHECKING:
    from diagnose.library.kept import Kept

RESULTS = ("cured", "better", "same", "worse")


@click.command("trial")
@click.argument("name")
@click.option("--changed", default="", metavar="TEXT", help="What was changed, in words.")
@click.option("--set", "revised", multiple=True, metavar="'SETTING=VALUE'", help="A revised setting; can be repeated.")
@click.option("--result", type=click.Choice(RESULTS), default=None, help="What came out.")
@click.option("--outcome", default="", metavar="TEXT", help="What came out, in words.")
@click.option("--for", "cause", default="", metavar="CAUSE", help="The cause that this was to cure.")
@click.option("--date", default="", metavar="DATE", help="When; today unless said.")
@click.option("--number", type=int, default=None, help="Give the result of this trial, instead of adding one.")
@click.pass_obj
def trial_command(
    given: dict[str, str], name: str, changed: str, revised: tuple[str, ...], result: str | None, outcome: str,
    cause: str, date: str, number: int | None,
) -> int:  # fmt: skip
    """Note what was tried on a case and what came of it."""
    from datetime import date as day

    from diagnose.cli.names import cause_named, pairs
    from diagnose.cli.shop import open_library, rules_base
    from diagnose.errors import BadInput
    from diagnose.library import life
    from diagnose.library.differs import trial_words

    if number is not None and (changed or revised or cause or date):
        raise BadInput(
            "--number gives the result of a trial noted before; --changed, --set, --for, --date belong to a new one.",
            next_step="Give --result and --outcome with it, or leave out --number.",
        )  # fmt: skip
    library, base = open_library(given), rules_base(given)
    settings = {k.replace("-", " ") if k not in base.words.settings else k: v for k, v in pairs(revised)}
    meant = cause_named(cause, base) if cause else ""

    def how(kept: Kept) -> Kept:
        if number is not None:
            return life.with_result(kept, number, result or "", outcome)
        given = {"changed": changed, "outcome": outcome, "date": date or f"{day.today():%Y-%m-%d}"}
        more = {"result": result or "", "cause": meant, "author": library.author}
        return life.with_trial(kept, {**given, **more}, life.moved(kept, settings, base))

    kept = library.change(name, "trial", how)
    number = number or len(kept.trials)
    say(f"{kept.name}: trial {number}: {trial_words(kept.trials[number - 1])}")
    return 0


@click.command("confirm")
@click.argument("name")
@click.argument("causes", nargs=-1)
@click.option("--none-of-these", "other", default="", metavar="TEXT", help="It was none of the listed: what it was.")
@click.option("--cost", default="", metavar="AMOUNT", help="What the scrap cost.")
@click.option("--currency", default="", help="Of the cost.")
@click.option("--close", "closing", is_flag=True, help="Close the case too.")
@click.pass_obj
def confirm_command(
    given: dict[str, str], name: str, causes: tuple[str, ...], other: str, cost: str, currency: str, closing: bool
) -> int:
    """Say what it turned out to be: one cause or several, or in your own words."""
    from diagnose.cli.names import cause_named
    from diagnose.cli.shop import open_library, rules_base
    from diagnose.library import life
    from diagnose.library.amounts import amount

    library, base = open_library(given), rules_base(given)
    meant = [cause_named(c, base) for c in causes]
    hundredths = amount(cost) if cost else None

    def how(kept: Kept) -> Kept:
        after = life.with_cost(life.confirmed(kept, meant, other), hundredths, currency or kept.currency)
        return life.closed(after, library.now()) if closing else after

    _said(library.change(name, "confirm", how))
    return 0


@click.command("close")
@click.argument("name")
@click.option("--cost", default="", metavar="AMOUNT", help="What the scrap cost.")
@click.option("--currency", default="", help="Of the cost.")
@click.pass_obj
def close_command(given: dict[str, str], name: str, cost: str, currency: str) -> int:
    """Close a case, confirmed or not."""
    from diagnose.cli.shop import open_library
    from diagnose.library import life
    from diagnose.library.amounts import amount

    library = open_library(given)
    hundredths = amount(cost) if cost else None
    how = lambda k: life.closed(life.with_cost(k, hundredths, currency or k.currency), library.now())  # noqa: E731
    _said(library.change(name, "close", how))
    return 0


@click.command("reopen")
@click.argument("name")
@click.pass_obj
def reopen_command(given: dict[str, str], name: str) -> int:
    """Open a closed case again."""
    from diagnose.cli.shop import open_library
    from diagnose.library import life

    _said(open_library(given).change(name, "reopen", life.reopened))
    return 0


@click.command("photo")
@click.argument("name")
@click.argument("pictures", nargs=-1, type=click.Path())
@click.option("--copy", is_flag=True, help="Copy the pictures into the library, not only their paths.")
@click.option("--to", type=click.Path(), help="Write the copied pictures of the case into this folder.")
@click.pass_obj
def photo_command(given: dict[str, str], name: str, pictures: tuple[str, ...], copy: bool, to: str | None) -> int:
    """Add pictures to a case, or write those it has into a folder."""
    from diagnose.cli.shop import open_library
    from diagnose.errors import BadInput
    from diagnose.library.photos import add_photo, photos_out

    if not pictures and not to:
        raise BadInput("which pictures?", where=name, next_step="Name them, or --to FOLDER for those it has.")
    library = open_library(given)
    for picture in pictures:
        kept = add_photo(library, name, Path(picture), copy)
        say(f"{kept.name}: {picture} {'copied' if copy else 'noted'}")
    written = photos_out(library, name, Path(to)) if to else []
    for file in written:
        say(str(file))
    if to and not written:
        say(f"{name}: no picture of it was copied into the library.")
    return 0


def _said(kept: Kept) -> None:
    causes = ", ".join((*kept.confirmed, *([kept.other_cause] if kept.other_cause else [])))
    say(f"{kept.name}: {kept.state}{f' ({causes})' if causes else ''}")
