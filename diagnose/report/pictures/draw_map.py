"""Readings over a plate, drawn as a map: each spot carries its words, shade only helps."""

from __future__ import annotations

from typing import Any

from diagnose.report.pictures.ink import INK, QUIET
from diagnose.report.pictures.panels import Map


def draw(axis: Any, panel: Map) -> None:
    """Draw a map of spots on a plate."""
    from matplotlib import colormaps
    from matplotlib.colors import Normalize
    from matplotlib.patches import Rectangle

    axis.add_patch(Rectangle((0, 0), 1, 1, facecolor="white", edgecolor=QUIET, linewidth=1.0))
    values = [spot.value for spot in panel.spots]
    shade = Normalize(min(values), max(values) if max(values) > min(values) else min(values) + 1.0)
    light = colormaps["cividis"]  # runs from dark to light in every kind of colour vision
    for spot in panel.spots:
        # Only the light half is used, so that the words stay readable on it.
        color = light(0.55 + 0.45 * float(shade(spot.value)))
        axis.text(
            spot.x, spot.y, "\n".join(spot.words), ha="center", va="center", fontsize=8.5, color=INK,
            bbox={"boxstyle": "round,pad=0.45", "facecolor": color, "edgecolor": INK, "linewidth": 0.6},
        )  # fmt: skip
    axis.set_xlim(-0.02, 1.02)
    axis.set_ylim(-0.02, 1.02)
    axis.set_xticks([])
    axis.set_yticks([])
    for side in ("left", "bottom"):
        axis.spines[side].set_visible(False)
    axis.set_xlabel(panel.placed)
