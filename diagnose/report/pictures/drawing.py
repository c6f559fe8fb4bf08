"""Pictures drawn with matplotlib, the only place that loads it: SVG that is the same every time, and PNG."""

from __future__ import annotations

import hashlib
import io
import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from html import escape
from typing import TYPE_CHECKING, Any

from diagnose.model.clean import clean
from diagnose.report.pictures.ink import INK, NARROW, PAPER, QUIET, ROW, WIDTH
from diagnose.report.pictures.panels import Bars, Curves, Grid, Panel, Steps
from diagnose.report.pictures.picture import Picture

if TYPE_CHECKING:
    from matplotlib.figure import Figure

STYLE: Any = {
    "svg.fonttype": "none",  # text stays text: it can be searched, and takes the reader's own font
    "font.family": "sans-serif",
    "font.sans-serif": ["DejaVu Sans"],
    "font.size": 9.0,
    "axes.titlesize": 11.0,
    "text.color": INK,
    "axes.labelcolor": INK,
    "axes.edgecolor": QUIET,
    "xtick.color": INK,
    "ytick.color": INK,
    "figure.facecolor": PAPER,
    "axes.facecolor": PAPER,
    "savefig.facecolor": PAPER,
    "hatch.linewidth": 0.6,
    "axes.unicode_minus": False,
    "text.parse_math": False,
}


def as_svg(picture: Picture) -> str:
    """Return a picture as an SVG element: accessible name and description inside, ids of its own."""
    picture = _shown(picture)
    salt = hashlib.sha256(repr(picture).encode()).hexdigest()[:8]
    with drawn(picture, salt) as figure:
        out = io.StringIO()
        nothing = dict.fromkeys(("Date", "Creator", "Format", "Type"))
        figure.savefig(out, format="svg", metadata=nothing)
    return _for_a_page(out.getvalue(), picture, f"{picture.name}-{salt}")


def as_png(picture: Picture) -> bytes:
    """Return a picture as a PNG image with its title and description in it."""
    picture = _shown(picture)
    with drawn(picture, picture.name) as figure:
        out = io.BytesIO()
        words = {"Title": picture.title, "Description": picture.alt, "Software": None}
        figure.savefig(out, format="png", dpi=150, metadata=words)
    return out.getvalue()


def _shown(picture: Picture) -> Picture:
    """Return the picture with every text in it cleaned of what would command, or could not be drawn at all."""
    return replace(
        picture,
        title=clean(picture.title),
        alt=clean(picture.alt, keep_lines=True),
        panels=tuple(map(_cleaned, picture.panels)),
    )


def _cleaned(part: Any) -> Any:
    if isinstance(part, str):
        return clean(part)
    if not isinstance(part, tuple):
        return part
    inside = map(_cleaned, part)
    return type(part)(*inside) if hasattr(part, "_fields") else tuple(inside)


@contextmanager
def drawn(picture: Picture, salt: str) -> Iterator[Figure]:
    """Give a picture as matplotlib draws it; the salt makes the ids in its SVG the same every time."""
    import matplotlib
    from matplotlib.figure import Figure

    with matplotlib.rc_context({**STYLE, "svg.hashsalt": salt}):
        heights = [_height(panel) for panel in picture.panels]
        wide = NARROW if all(isinstance(panel, Steps) for panel in picture.panels) else WIDTH
        figure = Figure(figsize=(wide, sum(heights) + 0.45), layout="constrained")
        figure.suptitle(picture.title, fontsize=11.0, x=0.01, ha="left")
        axes = figure.subplots(len(heights), 1, squeeze=False, height_ratios=heights)[:, 0]
        for axis, panel in zip(axes, picture.panels, strict=True):
            _draw(axis, panel)
        yield figure


def _height(panel: Panel) -> float:
    if isinstance(panel, Curves):
        return 2.6
    if isinstance(panel, Bars):
        return 0.75 + ROW * len(panel.bars)
    if isinstance(panel, Steps):
        from diagnose.report.pictures.draw_steps import height

        return height(panel)
    if isinstance(panel, Grid):
        from diagnose.report.pictures import draw_grid

        return draw_grid.height(panel)
    return 3.4


def _draw(axis: Any, panel: Panel) -> None:
    from diagnose.report.pictures import draw_bars, draw_curves, draw_grid, draw_map, draw_steps

    for side in ("top", "right"):
        axis.spines[side].set_visible(False)
    if isinstance(panel, Curves):
        draw_curves.draw(axis, panel)
    elif isinstance(panel, Bars):
        draw_bars.draw(axis, panel)
    elif isinstance(panel, Steps):
        draw_steps.draw(axis, panel)
    elif isinstance(panel, Grid):
        draw_grid.draw(axis, panel)
    else:
        draw_map.draw(axis, panel)


def _for_a_page(text: str, picture: Picture, own: str) -> str:
    """Return matplotlib's file as an element that can stand beside others: no prolog, no loose style, own ids."""
    text = text[text.index("<svg") :]
    text = re.sub(r"\s*<metadata>.*?</metadata>", "", text, flags=re.S)
    text = re.sub(r"\s*<style type=\"text/css\">.*?</style>", "", text, flags=re.S)
    text = re.sub(r'\bid="', f'id="{own}-', text)
    text = re.sub(r'(url\(#|href="#)', rf"\g<1>{own}-", text)
    words = f'<title id="{own}-title">{escape(picture.title)}</title><desc id="{own}-desc">{escape(picture.alt)}</desc>'
    name = f'<svg role="img" aria-labelledby="{own}-title {own}-desc" stroke-linejoin="round"'
    head, rest = text.split(">", 1)
    return head.replace("<svg", name, 1) + ">" + words + rest
