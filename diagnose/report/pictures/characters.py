"""Pictures as lines of plain signs, for a terminal of any width from 40 columns."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable
from math import floor, log10
from textwrap import wrap
from typing import TYPE_CHECKING

from diagnose.report.pictures.panels import Bars, Curve, Curves, Grid, Map, Steps

if TYPE_CHECKING:
    from diagnose.report.pictures.picture import Picture

LEAST, MOST = 40, 100
HIGH = 12  # lines of a panel of curves


def in_characters(picture: Picture, width: int) -> list[str]:
    """Return a picture as lines no wider than asked, but at least 40 columns."""
    wide = max(LEAST, min(width, MOST))
    lines: list[str] = []
    for panel in picture.panels:
        if lines:
            lines.append("")
        if isinstance(panel, Curves):
            lines += _curves(panel, wide)
        elif isinstance(panel, Bars):
            lines += _bars(panel, wide)
        elif isinstance(panel, Steps):
            lines += _steps(panel, wide)
        elif isinstance(panel, Grid):
            lines += _grid(panel, wide)
        else:
            lines += _map(panel, wide)
    return [line.rstrip() for line in lines]


def _grid(panel: Grid, wide: int) -> list[str]:
    """Return rows of fields as lines: the name of a row, and its fields below it."""
    lines = [line for text in panel.legend for line in wrap(text, wide)]
    for label, cells in panel.rows:
        fields = [("*" if cell.weak else "") + " ".join(w for w in cell.words if w) for cell in cells]
        lines += wrap(label, wide)
        whole = "  ".join(field.replace(" ", "\0") for field in fields)  # a field is not parted
        lines += wrap(whole, wide, initial_indent="  ", subsequent_indent="  ")
    return [line.replace("\0", " ") for line in lines]


def _curves(panel: Curves, wide: int) -> list[str]:
    """Return curves as signs over an axis; where two meet, the one named first is seen."""
    ys = [y for curve in panel.curves for y in curve.ys]
    low, high = min(ys), max(ys)
    high = high if high > low else low + 1.0
    step = _round_step((high - low) / 5.0)
    first = -floor(-low / step - 1e-9)
    ticks = [step * n for n in range(first, floor(high / step + 1e-9) + 1)]
    names = {_row(t, low, high): f"{t:g}" for t in ticks}
    left = max(map(len, names.values())) + 1
    across, end = wide - left - 2, max(curve.xs[-1] for curve in panel.curves)
    grid = [[" "] * across for _ in range(HIGH)]
    for moment in panel.moments:
        for line in grid:
            line[_column(moment.at, end, across)] = ":"
    for curve in reversed(panel.curves):
        _draw(curve, grid, low, high, end)
    lines = [panel.y_title]
    lines += [f"{names.get(n, ''):>{left}} |{''.join(line)}" for n, line in enumerate(grid)]
    lines.append(" " * left + " +" + "-" * across)
    last = f"{end:.3g}"
    room = across - 1 - len(last)
    lines.append(" " * (left + 2) + "0" + panel.x_title[: room - 2].center(room) + last)
    key = [f"{curve.sign} {curve.label}" for curve in panel.curves]
    key += [f": {moment.label}" for moment in panel.moments[:1] if moment.label]
    return lines + _packed(key, wide)


def _draw(curve: Curve, grid: list[list[str]], low: float, high: float, end: float) -> None:
    """Put a curve's sign into every column that it crosses, and into the rows between where it is steep."""
    across, before = len(grid[0]), None
    for column in range(_column(curve.xs[0], end, across), _column(curve.xs[-1], end, across) + 1):
        row = _row(_between(curve, column * end / (across - 1)), low, high)
        first = row if before is None or abs(row - before) < 2 else before + (1 if row > before else -1)
        for n in range(min(first, row), max(first, row) + 1):
            grid[n][column] = curve.sign
        before = row


def _between(curve: Curve, x: float) -> float:
    """Return the height of a curve at a place, straight between its points."""
    after = bisect_left(curve.xs, x)
    if after == 0 or after == len(curve.xs):
        return curve.ys[min(after, len(curve.xs) - 1)]
    left, right = curve.xs[after - 1], curve.xs[after]
    return curve.ys[after - 1] + (curve.ys[after] - curve.ys[after - 1]) * (x - left) / (right - left)


def _round_step(step: float) -> float:
    """Return the next of 1, 2, 5, 10, ... that is no smaller."""
    power = 10.0 ** floor(log10(step))
    return float(next(m for m in (1.0, 2.0, 5.0, 10.0) if m * power >= 0.999 * step) * power)


def _row(y: float, low: float, high: float) -> int:
    return round((HIGH - 1) * (high - y) / (high - low))


def _column(x: float, end: float, across: int) -> int:
    return min(across - 1, max(0, round((across - 1) * x / end)))


def _packed(words: Iterable[str], wide: int) -> list[str]:
    lines: list[str] = [""]
    for word in words:
        joined = f"{lines[-1]}   {word}" if lines[-1] else word
        if len(joined) > wide and lines[-1]:
            lines.append(word)
        else:
            lines[-1] = joined
    return lines


def _bars(panel: Bars, wide: int) -> list[str]:
    """Return bars of signs, one to a line, each with its words on the line below where they do not fit beside it."""
    ends = [end for bar in panel.bars for end in (bar.start, bar.end)]
    ends += [m.at for m in panel.moments] + [end for band in panel.bands for end in (band.low, band.high)]
    low, high = min(0.0, *ends) if panel.from_zero else min(ends), max(ends)
    left = min(max(len(bar.label) for bar in panel.bars), wide // 3)
    across = max(wide - left - 1 - max(len(bar.words) for bar in panel.bars) - 1, wide // 4)

    def place(x: float) -> int:
        return min(across - 1, max(0, round((across - 1) * (x - low) / ((high - low) or 1.0))))

    lines = wrap(panel.x_title, wide)
    for bar in panel.bars:
        row = [" "] * across
        for band in panel.bands:
            for n in range(place(band.low), place(band.high) + 1):
                row[n] = "."
        for moment in panel.moments:
            row[place(moment.at)] = "|"
        first, last = sorted((place(bar.start), place(bar.end)))
        sign = "#" if bar.kind == "recorded" else "/"
        row[first : last + 1] = ["O" if bar.start == bar.end else sign] * (last - first + 1)
        drawn = f"{bar.label[:left]:<{left}} {''.join(row)}"
        beside = f"{drawn} {bar.words}"
        lines += [beside] if len(beside) <= wide else [drawn, " " * (left + 1) + bar.words[: wide - left - 1]]
    key = [f"| {moment.label}" for moment in panel.moments] + [f". {band.label}" for band in panel.bands]
    return lines + (_packed(key, wide) if key else [])


def _steps(panel: Steps, wide: int) -> list[str]:
    """Return boxes one under the other with an arrow between."""
    lines: list[str] = []
    for box in panel.boxes:
        if lines:
            lines += [" " * (wide // 2) + sign for sign in "|v"]
        texts = [*wrap(f"{box.lead}: {box.words}", wide - 4), *wrap(box.because, wide - 4)]
        edge = "+" + "-" * (wide - 2) + "+"
        lines += [edge, *(f"| {text:<{wide - 4}} |" for text in texts), edge]
    return lines


def _map(panel: Map, wide: int) -> list[str]:
    """Return the plate row by row, back row first, the first words of each spot in its place."""
    rows = sorted({spot.y for spot in panel.spots}, reverse=True)
    room = wide - 2
    lines = ["+" + "-" * room + "+"]
    for y in rows:
        here = sorted((spot for spot in panel.spots if spot.y == y), key=lambda spot: spot.x)
        for n in range(max(len(spot.words) for spot in here)):
            line = [" "] * room
            for spot in here:
                words = spot.words[n] if n < len(spot.words) else ""
                cell = max(1, room // len(here)) - 1
                begin = min(max(0, round(spot.x * room - 0.5 * min(len(words), cell))), room - min(len(words), cell))
                line[begin : begin + min(len(words), cell)] = words[:cell]
            lines.append("|" + "".join(line) + "|")
        lines.append("|" + " " * room + "|")
    lines[-1] = "+" + "-" * room + "+"
    return [*lines, *_packed(panel.placed.split("; "), wide)]
