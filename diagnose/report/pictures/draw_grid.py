"""Rows of fields on an axis of matplotlib: each field carries its words; shade and hatching only help."""

from __future__ import annotations

from textwrap import fill
from typing import Any

from diagnose.report.pictures.ink import INK, QUIET
from diagnose.report.pictures.panels import Grid

LABEL = 34  # letters of a row's name that go into a line
HIGH, LEGEND = 0.36, 0.75  # [inch] of a row, and of what stands below the rows


def height(panel: Grid) -> float:
    """Return how high a panel is drawn. [inch]"""
    return LEGEND + HIGH * len(panel.rows)


def draw(axis: Any, panel: Grid) -> None:
    """Draw a grid, its first row on top."""
    from matplotlib import colormaps
    from matplotlib.patches import Rectangle

    light = colormaps["cividis"]  # runs from dark to light in every kind of colour vision
    for row, (_, cells) in enumerate(panel.rows):
        for column, cell in enumerate(cells):
            # Only the light half is used, so that the words stay readable on it.
            shade = light(0.55 + 0.45 * cell.light)
            axis.add_patch(
                Rectangle(
                    (column + 0.04, row - 0.44), 0.92, 0.88, facecolor=shade, edgecolor=INK if cell.weak else QUIET,
                    linewidth=1.6 if cell.weak else 0.5,
                )
            )  # fmt: skip
            axis.text(
                column + 0.5, row, "\n".join(cell.words), ha="center", va="center", fontsize=6.8, color=INK,
                linespacing=1.0, weight="bold" if cell.weak else "normal",
            )  # fmt: skip
    axis.set_xlim(0, max((len(cells) for _, cells in panel.rows), default=1) + 0.05)
    axis.set_ylim(len(panel.rows) - 0.45, -0.55)
    axis.set_yticks(range(len(panel.rows)), [fill(label, LABEL) for label, _ in panel.rows], fontsize=7.5)
    axis.set_xticks([])
    axis.tick_params(length=0)
    for side in ("left", "bottom"):
        axis.spines[side].set_visible(False)
    axis.set_xlabel("\n".join(panel.legend), fontsize=8.0, loc="left")
