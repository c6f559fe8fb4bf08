"""A run chart: a setting in bad and in good runs in the order of their dates, with its window."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from diagnose.report import shop_words as words
from diagnose.report.pictures.panels import Band, Bar, Bars, Curve, Curves, Kind, Level
from diagnose.report.pictures.picture import Picture
from diagnose.report.pictures.scale import Scale, scale_of

if TYPE_CHECKING:
    from diagnose.consult.show import Shower
    from diagnose.model.shop_picture import SettingRuns


STYLES: tuple[Kind, Kind] = ("recorded", "revised")
"""How runs with the fault and those after a cure are drawn."""


def spreads_picture(show: Shower, runs: SettingRuns) -> Picture:
    """Return where the middle half of the bad and of the good runs lies, with the window: what fits into a terminal."""
    scale = scale_of(show, runs.setting)
    both = ((words.FAULTY, runs.bad), (words.CURED, runs.good))
    bars = tuple(
        Bar(kind, scale.of(s.low), scale.of(s.high), scale.text(s.middle), style)
        for (kind, s), style in zip(both, STYLES, strict=True)
    )
    bands, _ = _window(runs, scale)
    rows = tuple((kind, *(scale.text(v) for v in (s.low, s.middle, s.high))) for kind, s in both)
    alt = ". ".join(f"{kind}: {words.spread_words(show, runs.setting, s)}" for kind, s in both) + "."
    panel = Bars(scale.title("the middle half of the runs"), bars, (), bands, from_zero=False)
    return Picture("spreads", runs.setting, alt, ("runs", "a quarter below", "half", "three quarters"), rows, (panel,))


class _Point(NamedTuple):
    """A run in its place in the order of dates."""

    place: float
    date: str
    case: str
    kind: str
    value: float


def runs_picture(show: Shower, runs: SettingRuns) -> Picture:
    """Return the run chart of a setting."""
    scale, points = scale_of(show, runs.setting), _points(runs)
    curves = tuple(_curve(points, kind, scale) for kind in (words.FAULTY, words.CURED))
    bands, levels = _window(runs, scale)
    defect = words.defect_words(show.base, runs.defect)
    window = words.window_words(show, runs)
    alt = (
        f"{words.FAULTY.capitalize()}: {words.spread_words(show, runs.setting, runs.bad)}. "
        f"{words.CURED.capitalize()}: {words.spread_words(show, runs.setting, runs.good)}."
    )
    if window:
        alt += f" The window is {window} ({runs.window_source})."
    return Picture(
        name=f"runs-{runs.defect}-{runs.setting}".replace(".", "-").replace(" ", "-"),
        title=f"{runs.setting.capitalize()}: {defect}",
        alt=alt,
        header=("date", "case", "run", runs.setting),
        rows=tuple((p.date, p.case, p.kind, scale.text(p.value)) for p in points),
        panels=(Curves("run, in the order of dates", scale.title(runs.setting), curves, levels, (), bands),),
    )


def _points(runs: SettingRuns) -> list[_Point]:
    both = [(run.date, words.FAULTY, n, run) for n, run in enumerate(runs.last_bad)]
    both += [(run.date, words.CURED, n, run) for n, run in enumerate(runs.last_good)]
    both.sort(key=lambda row: (row[0], row[1] == words.CURED, row[2]))
    return [_Point(n, date, run.case, kind, run.value) for n, (date, kind, _, run) in enumerate(both, 1)]


def _curve(points: list[_Point], kind: str, scale: Scale) -> Curve:
    own = [p for p in points if p.kind == kind]
    xs, ys = tuple(p.place for p in own), scale.each(p.value for p in own)
    if kind == words.CURED:
        return Curve(kind, xs, ys, "dashed", STYLES[1], "o")
    return Curve(kind, xs, ys, "solid", STYLES[0], "x")


def _window(runs: SettingRuns, scale: Scale) -> tuple[tuple[Band, ...], tuple[Level, ...]]:
    low, high = runs.window_low, runs.window_high
    if low is not None and high is not None:
        return (Band(scale.of(low), scale.of(high), "window"),), ()
    ends = ((low, "lower end of the window"), (high, "upper end of the window"))
    return (), tuple(Level(scale.of(end), text) for end, text in ends if end is not None)
