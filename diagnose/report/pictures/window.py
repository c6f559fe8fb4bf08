"""Where settings lie in their windows: the range recommended, the limit of safety, what was recorded and revised."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from diagnose.consult.show import Shower
from diagnose.consult.standing import window_of
from diagnose.derive.calculator import Facts, number
from diagnose.report.pictures.panels import Band, Bar, Bars, Kind, Level
from diagnose.report.pictures.picture import Picture
from diagnose.report.pictures.scale import Scale, scale_of

OPEN = 0.5  # an open side of a window is drawn so many times as wide as the rest of what is known


class Strip(NamedTuple):
    """One setting: its name and scale, window (an open end is None), points recorded or revised, limits (SI)."""

    name: str
    scale: Scale
    low: float | None
    high: float | None
    points: tuple[tuple[str, float, Kind], ...]
    limits: tuple[tuple[str, float], ...] = ()


def window_picture(show: Shower, recorded: Facts, revised: Facts | None = None, names: Iterable[str] = ()) -> Picture:
    """Return where recorded (and revised) settings lie in the windows that the rules base gives for the materials.

    Without `names` every recorded setting that has a window is drawn.
    """
    strips = []
    for name in tuple(names) or tuple(recorded):
        setting = show.base.words.settings.get(name)
        window = window_of(setting, recorded) if setting else None
        if setting is None or window is None or not isinstance(recorded.get(name), float):
            continue
        points: list[tuple[str, float, Kind]] = [("recorded", number(recorded, name), "recorded")]
        if revised is not None and isinstance(revised.get(name), float) and revised[name] != recorded[name]:
            points.append(("revised", number(revised, name), "revised"))
        ends = (setting.safe.low, setting.safe.high) if setting.safe else (None, None)
        limits = tuple(("never past", end) for end in ends if end is not None)
        strips.append(Strip(name, scale_of(show, name), window.low, window.high, tuple(points), limits))
    return strip_picture("windows", "Where the settings lie in their windows", strips)


def wax_window_picture(show: Shower, recorded: Facts, revised: Facts | None = None) -> Picture:
    """Return where the wax temperature lies; the facts are those of the calculator `wax temperature window`."""
    told: dict[Kind, Facts] = {"recorded": recorded}
    if revised is not None:
        told["revised"] = revised
    points: list[tuple[str, float, Kind]] = [
        (kind, number(facts, "wax temperature"), kind) for kind, facts in told.items() if "wax temperature" in facts
    ]
    points.append(("one to try", number(recorded, "wax temperature to try"), "revised"))
    strip = Strip(
        "wax temperature", scale_of(show, "wax temperature"), number(recorded, "lowest wax temperature"),
        number(recorded, "highest wax temperature"), tuple(points),
        (("congeals", number(recorded, "wax congealing point")), ("never past", number(recorded, "wax ceiling"))),
    )  # fmt: skip
    return strip_picture("wax-window", "Where the wax temperature lies in its window", [strip])


def strip_picture(name: str, title: str, strips: list[Strip]) -> Picture:
    """Return settings as strips, each over an axis of its own."""
    return Picture(
        name=name,
        title=title,
        alt=" ".join(_alt(strip) for strip in strips) or "No recorded setting has a window here.",
        header=("setting", "window", "point", "value", "lies"),
        rows=tuple(row for strip in strips for row in _rows(strip)),
        panels=tuple(_panel(strip) for strip in strips),
    )


def _window(strip: Strip) -> str:
    if strip.low is None:
        return f"up to {strip.scale.text(strip.high or 0.0)}"
    if strip.high is None:
        return f"from {strip.scale.text(strip.low)}"
    return f"{strip.scale.text(strip.low)} to {strip.scale.text(strip.high)}"


def _side(strip: Strip, value: float) -> str:
    if strip.low is not None and value < strip.low - 1e-9 * abs(strip.low):
        return "below the window"
    if strip.high is not None and value > strip.high + 1e-9 * abs(strip.high):
        return "above the window"
    return "in the window"


def _rows(strip: Strip) -> list[tuple[str, ...]]:
    found: list[tuple[str, ...]] = [
        (strip.name, _window(strip), words, strip.scale.text(value), _side(strip, value))
        for words, value, _ in strip.points
    ]
    return found + [(strip.name, _window(strip), words, strip.scale.text(value), "") for words, value in strip.limits]


def _alt(strip: Strip) -> str:
    told = ", ".join(f"{words} {strip.scale.text(value)} {_side(strip, value)}" for words, value, _ in strip.points)
    limits = "".join(f", {words} {strip.scale.text(value)}" for words, value in strip.limits)
    return f"{strip.name}, window {_window(strip)}: {told}{limits}."


def _panel(strip: Strip) -> Bars:
    values = [value for _, value, _ in strip.points] + [value for _, value in strip.limits]
    values += [end for end in (strip.low, strip.high) if end is not None]
    reach = OPEN * ((max(values) - min(values)) or abs(max(values)) or 1.0)
    low = max(min(values) - reach, 0.0) if strip.low is None else strip.low
    high = max(values) + reach if strip.high is None else strip.high
    return Bars(
        strip.scale.title(strip.name),
        tuple(
            Bar(words, strip.scale.of(v), strip.scale.of(v), f"{strip.scale.text(v)}, {_side(strip, v)}", kind)
            for words, v, kind in strip.points
        ),
        tuple(Level(strip.scale.of(value), words) for words, value in strip.limits),
        (Band(strip.scale.of(low), strip.scale.of(high), "window"),),
        from_zero=False,
    )
