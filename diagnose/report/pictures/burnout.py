"""A burnout over the clock: the kiln and the middle of the flask, as recorded and as this flask needs it."""

from __future__ import annotations

from typing import NamedTuple

from diagnose.consult.show import Shower
from diagnose.derive.burnout_inputs import RECORD, mold, record
from diagnose.derive.burnout_middle import KilnCurve, kiln_curve
from diagnose.derive.burnout_plan import planned
from diagnose.derive.calculator import Facts, number
from diagnose.errors import OutOfRange
from diagnose.report.pictures.panels import Band, Curve, Curves, Kind, Level
from diagnose.report.pictures.picture import Picture
from diagnose.report.pictures.scale import Scale, scale_of

HOURS = Scale("time", "h")
LEVELS = (("investment top ceiling", "ceiling of the mold"), ("investment clean from", "carbon burns clean from here"))
CHANGES = (
    ("investment first change from", "investment first change to", "first change of size"),
    ("investment second change from", "investment second change to", "second change of size"),
)
RECORDED = (*RECORD, "burnout ramps", "kiln loading temperature")


class _Run(NamedTuple):
    words: str
    kind: Kind
    curve: KilnCurve
    start: float | None  # clock time of loading [s], where it is known


def burnout_picture(show: Shower, recorded: Facts, revised: Facts | None = None) -> Picture:
    """Return the burnout as recorded, beside the revised one or, without that, the one that this flask needs."""
    runs = _runs(recorded, revised)
    if not runs:
        raise OutOfRange(
            "there is no burnout to draw.",
            next_step="Record its holds and their times, or what a plan needs: flask diameter and investment.",
        )
    heat = scale_of(show, "burnout top temperature")
    curves = []
    for run in runs:
        hours = HOURS.each(run.curve.times)
        sign = "k" if run.kind == "recorded" else "K"
        curves.append(Curve(f"kiln, {run.words}", hours, heat.each(run.curve.kiln), "solid", run.kind, sign))
        sign = "m" if run.kind == "recorded" else "M"
        curves.append(Curve(f"middle, {run.words}", hours, heat.each(run.curve.middle), "dashed", run.kind, sign))
    facts = recorded
    panel = Curves(
        "time from loading the kiln (h)",
        heat.title("temperature"),
        tuple(curves),
        levels=tuple(Level(heat.of(number(facts, name)), words) for name, words in LEVELS if name in facts),
        bands=tuple(
            Band(heat.of(number(facts, low)), heat.of(number(facts, high)), words)
            for low, high, words in CHANGES
            if low in facts and high in facts
        ),
    )
    clock = any(run.start is not None for run in runs)
    return Picture(
        name="burnout",
        title="Burnout over the clock",
        alt=" ".join(_alt(run, heat) for run in runs) + _limits(facts, heat),
        header=("burnout", "time from loading", *(("clock",) if clock else ()), "kiln", "middle of the flask"),
        rows=tuple(row for run in runs for row in _rows(run, heat, clock)),
        panels=(panel,),
    )


def _runs(recorded: Facts, revised: Facts | None) -> list[_Run]:
    runs = []
    if all(name in recorded for name in RECORDED):
        runs.append(_Run("recorded", "recorded", kiln_curve(record(recorded), mold(recorded)), None))
    if revised is not None and all(name in revised for name in RECORDED):
        runs.append(_Run("revised", "revised", kiln_curve(record(revised), mold(revised)), None))
    elif "planned hold temperatures" in recorded:
        start = number(recorded, "kiln start clock time") if "kiln start clock time" in recorded else None
        runs.append(_Run("needed", "revised", kiln_curve(planned(recorded), mold(recorded)), start))
    return runs


def _rows(run: _Run, heat: Scale, clock: bool) -> list[tuple[str, ...]]:
    rows = []
    for n in run.curve.corners:
        time = run.curve.times[n]
        cells = [run.words, HOURS.text(time)]
        if clock:
            cells.append("" if run.start is None else _on_the_clock(run.start + time))
        rows.append((*cells, heat.text(run.curve.kiln[n]), heat.text(run.curve.middle[n])))
    return rows


def _on_the_clock(time: float) -> str:
    hour, minute = divmod(round(time / 60.0), 60)
    return f"{hour % 24:02d}:{minute:02d}"


def _alt(run: _Run, heat: Scale) -> str:
    curve = run.curve
    top = max(curve.kiln)
    text = (
        f"The {run.words} burnout takes {HOURS.text(curve.times[-1])} and reaches {heat.text(top)} in the kiln; the "
        f"middle of the flask gets to {heat.text(max(curve.middle))} and ends at {heat.text(curve.middle[-1])} with "
        f"the kiln at {heat.text(curve.kiln[-1])}."
    )
    if run.start is not None:
        text += f" Loaded at {_on_the_clock(run.start)}, it ends at {_on_the_clock(run.start + curve.times[-1])}."
    return text


def _limits(facts: Facts, heat: Scale) -> str:
    told = [f"{words} {heat.text(number(facts, name))}" for name, words in LEVELS if name in facts]
    told += [
        f"{words} from {heat.text(number(facts, low))} to {heat.text(number(facts, high))}"
        for low, high, words in CHANGES
        if low in facts and high in facts
    ]
    return f" Marked: {', '.join(told)}." if told else ""
