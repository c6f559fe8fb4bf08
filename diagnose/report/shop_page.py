"""The shop picture as a page of its own: pictures with their words and tables, nothing fetched from anywhere."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from diagnose.model.clean import clean
from diagnose.report.pictures.shop_checks import calibration_picture, corrections_picture
from diagnose.report.pictures.shop_counts import causes_picture, costs_picture, defects_picture, months_picture
from diagnose.report.pictures.shop_runs import runs_picture
from diagnose.report.shop_text import intro
from diagnose.report.shop_words import safe

if TYPE_CHECKING:
    from diagnose.consult.show import Shower
    from diagnose.model.shop_picture import ShopPicture
    from diagnose.report.pictures.picture import Picture

TEMPLATE = Path(__file__).with_name("shop_page.html")


def shop_pictures(show: Shower, picture: ShopPicture) -> list[Picture]:
    """Return the pictures that the cases allow, in the order of the page."""
    found: list[Picture] = []
    picture = safe(picture)
    if picture.defects:
        found.append(defects_picture(show, picture.defects))
    if picture.causes:
        found.append(causes_picture(show, picture.causes))
    if picture.months:
        found.append(months_picture(picture.months))
    found += [runs_picture(show, runs) for runs in picture.settings]
    if picture.corrections:
        found.append(corrections_picture(show, picture.corrections))
    if picture.costs:
        found.append(costs_picture(show, picture.costs))
    if picture.calibration:
        found.append(calibration_picture(picture.calibration, picture.calibration_error))
    return found


def shop_page(show: Shower, picture: ShopPicture, made: str) -> str:
    """Return the page; `made` says when and from what it was made."""
    from jinja2 import Environment, StrictUndefined
    from markupsafe import Markup

    environment = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)
    # The drawings are ours and their words are escaped where they are made.
    sections = [(one, Markup(one.svg())) for one in shop_pictures(show, picture)]
    template = environment.from_string(TEMPLATE.read_text(encoding="utf-8"))
    return template.render(intro=intro(safe(picture)), made=clean(made), sections=sections)
