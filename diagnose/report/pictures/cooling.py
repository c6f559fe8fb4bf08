"""Cooling curves: wax in the mold, and the flask on its way from the kiln to the pour."""

from __future__ import annotations

from diagnose.consult.show import Shower
from diagnose.derive.burnout_middle import cooling_curve
from diagnose.derive.calculator import Facts, number
from diagnose.derive.wax_cooling import wax_curves, wax_marks
from diagnose.report.pictures.panels import Curve, Curves, Dash, Kind, Level
from diagnose.report.pictures.picture import Picture
from diagnose.report.pictures.scale import Scale, scale_of

ROWS = 8
Points = tuple[tuple[float, float], ...]


def wax_picture(show: Shower, recorded: Facts, revised: Facts | None = None) -> Picture:
    """Return how the middle of gate and heaviest section cool; the facts are those of the calculators of wax."""
    lines = []
    for kind, facts in _told(recorded, revised).items():
        for name, points in wax_curves(facts).items():
            lines.append((name, kind, points))
    return _picture(
        show, "wax-cooling", "Wax cooling in the mold", "wax temperature", lines,
        tuple(wax_marks(recorded).items()), (), "middle of the ",
    )  # fmt: skip


def flask_picture(show: Shower, recorded: Facts, revised: Facts | None = None) -> Picture:
    """Return how a flask cools out of the kiln; the facts are those of the calculators of heat lost to the pour."""
    lines, moments = [], []
    for kind, facts in _told(recorded, revised).items():
        curve = cooling_curve(facts)
        lines.append(("outermost wax", kind, tuple((time, outer) for time, outer, _ in curve)))
        lines.append(("middle", kind, tuple((time, core) for time, _, core in curve)))
        moments.append(("pour" if revised is None else f"pour, {kind}", number(facts, "kiln to pour time")))
    return _picture(
        show, "flask-cooling", "The flask between kiln and pour", "flask temperature", lines, (), tuple(moments),
        "mold at the ",
    )  # fmt: skip


def _told(recorded: Facts, revised: Facts | None) -> dict[Kind, Facts]:
    return {"recorded": recorded} if revised is None else {"recorded": recorded, "revised": revised}


def _picture(
    show: Shower,
    name: str,
    title: str,
    heat_of: str,
    lines: list[tuple[str, Kind, Points]],
    levels: tuple[tuple[str, float], ...],
    moments: tuple[tuple[str, float], ...],
    of: str,
) -> Picture:
    heat, several = scale_of(show, heat_of), len({kind for _, kind, _ in lines}) > 1
    longest = max(points[-1][0] for _, _, points in lines)
    clock = Scale("time", "s" if longest <= 600.0 else "min")
    dashes: dict[str, Dash] = {}
    for part, _, _ in lines:
        dashes.setdefault(part, "dashed" if dashes else "solid")
    curves, rows, words = [], [], []
    for part, kind, points in lines:
        label = f"{part}, {kind}" if several else part
        sign = part[0] if kind == "recorded" else part[0].upper()
        xs, ys = clock.each(t for t, _ in points), heat.each(k for _, k in points)
        curves.append(Curve(label, xs, ys, dashes[part], kind, sign))
        rows += [(label, seconds(t), heat.text(kelvin)) for t, kelvin in _some(points)]
        words.append(
            f"{of}{label}: {heat.text(points[0][1])} at the start, {heat.text(points[-1][1])} after "
            f"{seconds(points[-1][0])}"
        )
    marks = [f"{said} at {heat.text(kelvin)}" for said, kelvin in levels]
    marks += [f"{said} after {seconds(time)}" for said, time in moments]
    return Picture(
        name=name,
        title=title,
        alt=f"Temperature over time. {'; '.join(words)}." + (f" Marked: {', '.join(marks)}." if marks else ""),
        header=("place", "time", "temperature"),
        rows=tuple(rows) + tuple(("marked", said, heat.text(kelvin)) for said, kelvin in levels),
        panels=(
            Curves(
                clock.title("time"), heat.title("temperature"), tuple(curves),
                tuple(Level(heat.of(kelvin), said) for said, kelvin in levels),
                tuple(Level(clock.of(time), said) for said, time in moments),
            ),
        ),
    )  # fmt: skip


def seconds(time: float) -> str:
    """Return a time in the unit that suits it."""
    return Scale("time", "s").text(time) if time < 600.0 else Scale("time", "min").text(time)


def _some(points: Points) -> list[tuple[float, float]]:
    last = len(points) - 1
    return [points[n] for n in sorted({round(last * i / ROWS) for i in range(ROWS + 1)})]
