"""`diagnose library summary`: the shop's cases together."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from diagnose.consult import Consultant
    from diagnose.library.summary_slice import Asked
    from diagnose.model.shop_picture import ShopPicture


@click.command("summary")
@click.option("--html", type=click.Path(dir_okay=False), help="Write a page with pictures to this file.")
@click.option("--since", default="", metavar="MONTH", help="The first month or year that counts: 2026-11 or 2026.")
@click.option("--until", default="", metavar="MONTH", help="The last one.")
@click.option("--stage", default="", help="model, mold, wax, tree, investment, burnout or casting.")
@click.option("--defect", default="", metavar="ID|NAME", help="Only this fault.")
@click.option("--from-shop", "shop", default="", help="The cases that came from another shop.")
@click.option("--every-shop", is_flag=True, help="The cases of all shops in the library together.")
@click.option("--json", "as_json", is_flag=True, help="Write it as JSON, numbers in SI.")
@click.pass_obj
def summary_command(
    given: dict[str, str], html: str | None, since: str, until: str, stage: str, defect: str, shop: str,
    every_shop: bool, as_json: bool,
) -> int:  # fmt: skip
    """Show faults and causes by frequency, months, settings of bad and good runs, what worked, cost, calibration."""
    from diagnose.cli.names import defect_named, one_of
    from diagnose.cli.progress import progress
    from diagnose.cli.setup import consultant
    from diagnose.cli.shop import open_library
    from diagnose.consult.in_window import with_windows
    from diagnose.library.summary import STEPS, shop_picture
    from diagnose.library.summary_slice import Asked
    from diagnose.model.vocabulary import STAGES

    of, library = consultant(given.get("--rules"), given["--units"]), open_library(given)
    asked = Asked(
        since=since, until=until, stage=one_of("stage", stage, STAGES) if stage else "",
        defect=defect_named(defect, of.base) if defect else "", shop=shop, every_shop=every_shop,
    )  # fmt: skip
    with progress("Counting cases", STEPS) as more:
        found = shop_picture(library.database, list(of.base.words.slots), asked, more)
    found = with_windows(of, found.model_copy(update={"about": _about(asked)}))
    if as_json:
        click.echo(found.model_dump_json(indent=1))
    elif html is None:
        _on_screen(of, found)
    if html is not None:
        _as_page(of, found, Path(html), library.shown)
        click.echo(f"Written to {html}.", err=as_json)
    return 0


def _about(asked: Asked) -> str:
    words = [f"of the stage {asked.stage}"] if asked.stage else []
    words += [f"of {asked.defect}"] if asked.defect else []
    words += [f"from {asked.shop}"] if asked.shop else ["of all shops"] if asked.every_shop else []
    words += [f"since {asked.since}"] if asked.since else []
    words += [f"until {asked.until}"] if asked.until else []
    return " ".join(words)


def _on_screen(of: Consultant, found: ShopPicture) -> None:
    from diagnose.cli.screen import put
    from diagnose.report.shop_text import shop_lines

    put(lambda width: shop_lines(of.show, found, width))


def _as_page(of: Consultant, found: ShopPicture, path: Path, shown: str) -> None:
    from datetime import date

    from diagnose.cli.progress import progress
    from diagnose.library.files import write_whole
    from diagnose.report.pictures.files import plain_mode
    from diagnose.report.shop_page import shop_page

    with progress("Drawing", None):
        text = shop_page(of.show, found, f"Made on {date.today():%Y-%m-%d} from {shown}.")
    write_whole(path, text)
    path.chmod(plain_mode())
