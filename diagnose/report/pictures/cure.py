"""Temperature and cure through the rubber over time: middle, quarter and skin."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from diagnose.consult.show import Shower
from diagnose.derive.calculator import Facts, number
from diagnose.derive.mold_cure import CureCurve, cure_curve
from diagnose.derive.mold_inputs import nine_tenths
from diagnose.report.pictures.panels import Band, Curve, Curves, Dash, Kind, Level
from diagnose.report.pictures.picture import Picture
from diagnose.report.pictures.scale import NUMBER, Scale, scale_of, time_scale

PLACES: dict[str, tuple[Dash, str]] = {
    "skin": ("dotted", "s"), "quarter": ("dashed", "q"), "middle": ("solid", "m"),
}  # fmt: skip
ROWS = 12  # of the table, for each setting


class _Run(NamedTuple):
    """One setting of the press: its facts, what happened in the rubber, and what nine tenths cured takes [s]."""

    kind: Kind
    facts: Facts
    curve: CureCurve
    t90: float | None


class _Scales(NamedTuple):
    time: Scale
    heat: Scale
    dose: Scale
    per: float | None  # [s] that a cure of 1 stands for, when it is known


def cure_picture(show: Shower, recorded: Facts, revised: Facts | None = None) -> Picture:
    """Return the picture of heat and cure in the rubber; the facts are those that the calculator `cure` needs."""
    told: dict[Kind, Facts] = {"recorded": recorded}
    if revised is not None:
        told["revised"] = revised
    longest = 3.0 * max(number(facts, "cure time") for facts in told.values())
    runs = [_Run(k, facts, cure_curve(facts, longest=longest), nine_tenths(facts)) for k, facts in told.items()]
    known = all(run.t90 is not None for run in runs)
    scales = _Scales(
        time=time_scale(max(run.curve.times[-1] for run in runs)),
        heat=scale_of(show, "platen temperature"),
        dose=NUMBER if known else scale_of(show, "core dose"),
        per=None if not known else 1.0,
    )
    return Picture(
        name="cure",
        title="Heat and cure through the rubber",
        alt=" ".join(_alt(show, run, scales) for run in runs) + _marked(runs, scales),
        header=_header(scales, len(runs) > 1),
        rows=tuple(row for run in runs for row in _rows(run, scales, len(runs) > 1)),
        panels=(_heat(runs, scales), _cure(runs, scales)),
    )


def _cure_of(run: _Run, place: str, scales: _Scales) -> tuple[float, ...]:
    doses = run.curve.doses[place]
    if scales.per is None or run.t90 is None:
        return scales.dose.each(doses)
    return tuple(dose / run.t90 for dose in doses)


def _label(place: str, run: _Run, runs: Sequence[_Run]) -> str:
    return place if len(runs) == 1 else f"{place}, {run.kind}"


def _sign(sign: str, run: _Run) -> str:
    return sign if run.kind == "recorded" else sign.upper()


def _moments(runs: Sequence[_Run], scales: _Scales) -> tuple[Level, ...]:
    words = "heat off" if len(runs) == 1 else "heat off, {kind}"
    return tuple(
        Level(scales.time.of(run.curve.heat_off), words.format(kind=run.kind))
        for run in runs
        if run.curve.heat_off < 0.995 * run.curve.times[-1]
    )


def _heat(runs: Sequence[_Run], scales: _Scales) -> Curves:
    curves = tuple(
        Curve(
            _label(place, run, runs), scales.time.each(run.curve.times),
            scales.heat.each(run.curve.temperatures[place]), dash, run.kind, _sign(sign, run),
        )
        for run in runs
        for place, (dash, sign) in PLACES.items()
    )  # fmt: skip
    return Curves(
        scales.time.title("time in the press"), scales.heat.title("temperature"), curves, moments=_moments(runs, scales)
    )


def _cure(runs: Sequence[_Run], scales: _Scales) -> Curves:
    curves = tuple(
        Curve(
            _label(place, run, runs), scales.time.each(run.curve.times), _cure_of(run, place, scales), dash, run.kind,
            _sign(sign, run),
        )
        for run in runs
        for place, (dash, sign) in PLACES.items()
    )  # fmt: skip
    title = "cure (times nine tenths cured)" if scales.per else scales.dose.title("cure, as time at full heat")
    levels: tuple[Level, ...] = (Level(1.0, "nine tenths cured"),) if scales.per else ()
    limit, wanted = _told(runs, "rubber skin limit"), _told(runs, "wanted core cure")
    bands: tuple[Band, ...] = ()
    if scales.per and limit is not None:
        levels += (Level(limit, "most that the skin should get"),)
        if wanted is not None and wanted < limit:
            bands = (Band(wanted, limit, "wanted in the middle: from here up"),)
    moments = tuple(Level(moment.at, "") for moment in _moments(runs, scales))
    return Curves(scales.time.title("time in the press"), title, curves, levels, moments, bands)


def _marked(runs: Sequence[_Run], scales: _Scales) -> str:
    """Return the levels drawn across the cure in words."""
    if not scales.per:
        return ""
    wanted, limit = _told(runs, "wanted core cure"), _told(runs, "rubber skin limit")
    words = [] if wanted is None else [f"wanted in the middle {wanted:g} or more"]
    words += [] if limit is None else [f"most that the skin should get {limit:g}"]
    return f" Marked: {', '.join(words)}." if words else ""


def _told(runs: Sequence[_Run], name: str) -> float | None:
    return next((number(run.facts, name) for run in runs if name in run.facts), None)


def _header(scales: _Scales, several: bool) -> tuple[str, ...]:
    cure = "cure" if scales.per else "cure as time at full heat"
    columns = ("time", *(f"{place} temperature" for place in PLACES), *(f"{place} {cure}" for place in PLACES))
    return ("settings", *columns) if several else columns


def _rows(run: _Run, scales: _Scales, several: bool) -> list[tuple[str, ...]]:
    curve, found = run.curve, []
    for n in _chosen(curve):
        cells = [scales.time.text(curve.times[n])]
        cells += [scales.heat.text(curve.temperatures[place][n]) for place in PLACES]
        for place in PLACES:
            dose = curve.doses[place][n]
            cells.append(f"{dose / run.t90:.2f}" if scales.per and run.t90 else scales.dose.text(dose))
        found.append((run.kind, *cells) if several else tuple(cells))
    return found


def _chosen(curve: CureCurve) -> list[int]:
    """Return which points go into the table: evenly over the time, and the one nearest to the end of the heat."""
    last = len(curve.times) - 1
    even = {round(last * (n + 1) / ROWS) for n in range(ROWS)}
    off = min(range(last + 1), key=lambda n: abs(curve.times[n] - curve.heat_off))
    return sorted(even | {off})


def _alt(show: Shower, run: _Run, scales: _Scales) -> str:
    curve, facts = run.curve, run.facts
    off = min(range(len(curve.times)), key=lambda n: abs(curve.times[n] - curve.heat_off))
    heat = ", ".join(f"{place} {scales.heat.text(curve.temperatures[place][off])}" for place in PLACES)
    if scales.per and run.t90:
        ends = ", ".join(f"{place} {curve.doses[place][-1] / run.t90:.2f}" for place in PLACES)
        cure = f"In the end they have, in times of nine tenths cured: {ends}."
    else:
        ends = ", ".join(f"{place} {scales.dose.text(curve.doses[place][-1])}" for place in PLACES)
        cure = f"In the end they have, as time at full heat: {ends}."
    return (
        f"With the {run.kind} settings, rubber {show.value('rubber thickness', facts['rubber thickness'])} thick, "
        f"{show.value('cure time', facts['cure time'])} between platens at "
        f"{show.value('top face temperature', facts['top face temperature'])} on top and "
        f"{show.value('bottom face temperature', facts['bottom face temperature'])} below: the temperatures rise, the "
        f"middle last, and when the heat is taken away they are {heat}. {cure}"
    )
