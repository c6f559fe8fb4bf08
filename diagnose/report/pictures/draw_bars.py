"""Bars and dots in rows on an axis of matplotlib: each with its words beside it, revised ones hatched."""

from __future__ import annotations

from textwrap import fill
from typing import Any

from diagnose.report.pictures.ink import COLORS, INK, PAPER, QUIET
from diagnose.report.pictures.panels import Bars

LABEL = 32  # letters of a bar's name that go into a line
ROOM = 1.35  # the axis is this much longer than its bars, for the words beside them


def draw(axis: Any, panel: Bars) -> None:
    """Draw a panel of bars."""
    for band in panel.bands:
        axis.axvspan(band.low, band.high, facecolor="#dfe8dc", edgecolor="#9db596", linewidth=0.5, zorder=0)
        _above(axis, 0.5 * (band.low + band.high), band.label, "center")
    for moment in panel.moments:
        axis.axvline(moment.at, color=QUIET, linewidth=1.0, linestyle=(0, (4, 2)), zorder=1)
        _above(axis, moment.at, moment.label, "center")
    for row, bar in enumerate(panel.bars):
        if bar.start == bar.end:
            axis.plot([bar.end], [row], marker="o" if bar.kind == "recorded" else "D", color=COLORS[bar.kind], zorder=3)
        else:
            axis.barh(
                row, bar.end - bar.start, left=bar.start, height=0.55, facecolor=COLORS[bar.kind], alpha=0.85,
                edgecolor=INK, linewidth=0.6, hatch="///" if bar.kind == "revised" else None, zorder=2,
            )  # fmt: skip
        axis.annotate(
            bar.words, (max(bar.start, bar.end), row), xytext=(5, 0), textcoords="offset points", va="center",
            fontsize=8.5, color=INK, zorder=4,
            bbox={"facecolor": PAPER, "edgecolor": "none", "alpha": 0.8, "pad": 0.6},
        )  # fmt: skip
    axis.set_yticks(range(len(panel.bars)), [fill(bar.label, LABEL) for bar in panel.bars])
    axis.set_ylim(len(panel.bars) - 0.4, -0.6)
    _limits(axis, panel)
    axis.set_xlabel(panel.x_title)
    axis.grid(axis="x", color="#dddddd", linewidth=0.5)
    axis.set_axisbelow(True)


def _above(axis: Any, x: float, words: str, across: str) -> None:
    axis.annotate(
        words, (x, 1.0), xycoords=("data", "axes fraction"), xytext=(0, 2), textcoords="offset points", ha=across,
        va="bottom", fontsize=8, color=INK,
    )  # fmt: skip


def _limits(axis: Any, panel: Bars) -> None:
    ends = [end for bar in panel.bars for end in (bar.start, bar.end)]
    ends += [m.at for m in panel.moments] + [end for band in panel.bands for end in (band.low, band.high)]
    low, high = min(ends), max(ends)
    span = (high - min(low, 0.0) if panel.from_zero else high - low) or abs(high) or 1.0
    least = min(low, 0.0) - (0.04 * span if low < 0.0 else 0.0) if panel.from_zero else low - 0.08 * span
    axis.set_xlim(least, high + (ROOM - 1.0) * span)
