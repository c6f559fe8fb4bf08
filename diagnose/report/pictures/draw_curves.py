"""Curves on an axis of matplotlib: told apart by dashes and by words at their ends, colour only helps."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from diagnose.report.pictures.ink import COLORS, INK, PAPER, QUIET
from diagnose.report.pictures.panels import Curve, Curves
from diagnose.report.pictures.spacing import spread_out

DASHES: dict[str, Any] = {
    "solid": "-",
    "dashed": (0, (6, 2.5)),
    "dotted": (0, (1.2, 1.6)),
    "dashdot": (0, (6, 2, 1, 2)),
}
HALO = {"facecolor": PAPER, "edgecolor": "none", "alpha": 0.8, "pad": 0.6}
LINE = 0.075  # height of a line of text as a share of a panel's height
LETTER = 0.0125  # width of a letter as a share of a panel's width, on the wide side
AWAY = 0.03  # from a curve's end to its name, as a share of a panel's width


def draw(axis: Any, panel: Curves) -> None:
    """Draw a panel of curves."""
    for band in panel.bands:
        axis.axhspan(band.low, band.high, facecolor="#dfe8dc", edgecolor="#9db596", linewidth=0.5, zorder=0)
        _inside(axis, band.low, band.label)
    for level in panel.levels:
        axis.axhline(level.at, color=QUIET, linewidth=0.8, zorder=1)
        _inside(axis, level.at, level.label)
    for moment in panel.moments:
        axis.axvline(moment.at, color=QUIET, linewidth=0.8, linestyle=(0, (2, 2)), zorder=1)
        axis.annotate(
            moment.label, (moment.at, 0.02), xycoords=("data", "axes fraction"), xytext=(3, 0),
            textcoords="offset points", rotation=90, color=QUIET, fontsize=8, bbox=HALO,
        )  # fmt: skip
    for curve in panel.curves:
        width = 1.6 if curve.kind == "recorded" else 2.2
        axis.plot(curve.xs, curve.ys, color=COLORS[curve.kind], linestyle=DASHES[curve.dash], linewidth=width)
    axis.set_xlabel(panel.x_title)
    axis.set_ylabel(panel.y_title)
    axis.set_xmargin(0.0)
    axis.grid(color="#dddddd", linewidth=0.5)
    axis.set_axisbelow(True)
    _name_the_ends(axis, panel.curves)


def _inside(axis: Any, y: float, words: str) -> None:
    axis.annotate(
        words, (0.0, y), xycoords=("axes fraction", "data"), xytext=(5, 2), textcoords="offset points", va="bottom",
        color=INK, fontsize=8, bbox=HALO,
    )  # fmt: skip


def columns(ends: Mapping[int, float], curves: Sequence[Curve]) -> list[tuple[float, list[Curve]]]:
    """Return where each column of names stands (share of the axis, its names' ends) and whose names are in it.

    A name that would run into those further right goes into their column.
    """
    found: list[tuple[float, list[Curve]]] = []
    for n in sorted(ends, key=lambda n: -ends[n]):
        if found and ends[n] + LETTER * len(curves[n].label) + AWAY > found[-1][0]:
            found[-1][1].append(curves[n])
        else:
            found.append((ends[n], [curves[n]]))
    return found


def _name_the_ends(axis: Any, curves: tuple[Curve, ...]) -> None:
    """Write each curve's name beside its end, moved apart where they would lie on each other."""
    from matplotlib.lines import Line2D

    low, high = axis.get_ylim()
    left, right = min(0.0, axis.get_xlim()[0]), axis.get_xlim()[1]
    for across, group in columns({n: (c.xs[-1] - left) / (right - left) for n, c in enumerate(curves)}, curves):
        ends = [(curve.ys[-1] - low) / (high - low) for curve in group]
        for curve, place in zip(group, spread_out(ends, LINE, 0.0, 1.0), strict=True):
            color, end = COLORS[curve.kind], (curve.ys[-1] - low) / (high - low)
            at = (curve.xs[-1] - left) / (right - left)
            leader = Line2D(
                [at, across + AWAY - 0.002], [end, place], transform=axis.transAxes, color=color, linewidth=0.5
            )
            leader.set_clip_on(False)
            axis.add_artist(leader)
            axis.text(
                across + AWAY, place, curve.label, transform=axis.transAxes, va="center", color=color, fontsize=8.5,
                bbox=HALO,
            )  # fmt: skip
    axis.set_xlim(left, right)
    axis.set_ylim(low, high)
