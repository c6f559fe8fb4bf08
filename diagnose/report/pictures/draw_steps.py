"""Boxes one under the other with arrows between, drawn with matplotlib; the text is wrapped by counting letters."""

from __future__ import annotations

from textwrap import wrap
from typing import Any, NamedTuple

from diagnose.report.pictures.ink import COLORS, INK, NARROW, PAPER, QUIET
from diagnose.report.pictures.panels import Step, Steps

LINE, PAD, GAP = 0.155, 0.08, 0.2  # [inch] height of a line of text, room inside a box, room for an arrow
LARGE, SMALL = 44, 56  # letters that go into a line, in each size of print


class _Text(NamedTuple):
    words: str
    size: float
    strong: bool


def height(panel: Steps) -> float:
    """Return how high the panel gets. [inch]"""
    boxes = [len(_texts(box)) * LINE + 2.0 * PAD for box in panel.boxes]
    return sum(boxes) + GAP * max(len(boxes) - 1, 0) + 0.1


def draw(axis: Any, panel: Steps) -> None:
    """Draw a panel of boxes."""
    from matplotlib.patches import FancyBboxPatch

    total = height(panel)
    axis.set_axis_off()
    axis.set_xlim(0.0, NARROW)
    axis.set_ylim(total, 0.0)
    top = 0.05
    for n, box in enumerate(panel.boxes):
        texts = _texts(box)
        high = len(texts) * LINE + 2.0 * PAD
        last = n == len(panel.boxes) - 1
        axis.add_patch(
            FancyBboxPatch(
                (0.08, top), NARROW - 0.16, high, boxstyle="round,pad=0,rounding_size=0.06", facecolor=PAPER,
                edgecolor=COLORS["revised"] if last else COLORS["recorded"], linewidth=1.6 if last else 1.0,
            )
        )  # fmt: skip
        for row, text in enumerate(texts):
            axis.text(
                0.18, top + PAD + (row + 0.5) * LINE, text.words, va="center", fontsize=text.size, color=INK,
                fontweight="bold" if text.strong else "normal",
            )  # fmt: skip
        if not last:
            axis.annotate(
                "", (0.5 * NARROW, top + high + GAP - 0.02), (0.5 * NARROW, top + high + 0.02),
                arrowprops={"arrowstyle": "-|>", "color": QUIET, "linewidth": 1.2},
            )  # fmt: skip
        top += high + GAP


def _texts(box: Step) -> list[_Text]:
    found = [_Text(words, 9.0, True) for words in wrap(f"{box.lead}: {box.words}", LARGE)]
    return found + [_Text(words, 8.0, False) for words in wrap(box.because, SMALL)]
