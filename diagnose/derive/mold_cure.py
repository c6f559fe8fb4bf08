"""The calculator for cure: what middle, quarter and skins of a block got, in the press and while cooling."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from diagnose.calc.cure import BOTTOM, LOWER, MIDDLE, TOP, UPPER, History
from diagnose.calc.kinetics import state_of_cure
from diagnose.derive.calculator import Calculator, Facts, Value, number
from diagnose.derive.mold_inputs import (
    COOLED,
    FACES,
    NINE_TENTHS,
    NO_VERDICT,
    PACK,
    PRESS_DETAILS,
    REACTION,
    cooling,
    known,
    nine_tenths,
    press,
    reaction,
    slab,
)

MUCH = 4.0  # times nine tenths cured; more brings nothing and costs the skin
PLACES = (BOTTOM, LOWER, MIDDLE, UPPER, TOP)


@dataclass(frozen=True)
class CureCurve:
    """What to draw: times [s], and for middle, quarter and hotter skin temperatures [K] and doses [s]."""

    times: tuple[float, ...]
    temperatures: dict[str, tuple[float, ...]]
    doses: dict[str, tuple[float, ...]]
    heat_off: float


def _history(facts: Facts) -> History:
    return History(
        slab(facts),
        number(facts, "rubber start temperature"),
        press(facts),
        number(facts, "cure time"),
        cooling(facts),
        known(facts, "block cooling time"),
    )


def cure_curve(facts: Facts, points: int = 121, longest: float | None = None) -> CureCurve:
    """Return temperature and cure over time, for a drawing; the facts are those the calculator `cure` needs.

    Cooling, where it is known, is followed to three times the cure time or to the time given [s].
    """
    history = _history(facts)
    last = history.stretches[-1]
    end = min(last.start + last.duration, max(history.duration, longest or 3.0 * history.duration))
    times = np.linspace(0.0, end, points)[1:]
    hotter = TOP if history.press.top >= history.press.bottom else BOTTOM
    names = {"middle": MIDDLE, "quarter": 0.5 * hotter, "skin": hotter}
    places = np.array(list(names.values()))
    kelvin = history.temperatures(times, places)
    doses = history.doses_until(reaction(facts), times, places)
    return CureCurve(
        times=tuple(map(float, times)),
        temperatures={n: tuple(map(float, kelvin[:, i])) for i, n in enumerate(names)},
        doses={n: tuple(map(float, doses[:, i])) for i, n in enumerate(names)},
        heat_off=history.duration,
    )


def _cure(facts: Facts) -> dict[str, Value]:
    history = _history(facts)
    hot, cold = history.doses(reaction(facts), np.array(PLACES))
    total = [float(dose) for dose in hot + cold]
    end = history.temperatures(np.array([history.duration * (1.0 - 1e-12)]), np.array([MIDDLE]))
    found: dict[str, Value] = {
        "core dose": total[2],
        "quarter dose": min(total[1], total[3]),
        "skin dose": max(total[0], total[4]),
        "top skin dose": total[4],
        "bottom skin dose": total[0],
        "core end temperature": float(end[0, 0]),
    }
    if cooling(facts) is not None:
        found["cooling core dose"] = float(cold[2])
    t90 = nine_tenths(facts)
    if t90 is not None:
        found["core cure"] = total[2] / t90
        found["skin overcure"] = max(total[0], total[4]) / t90
        scorch = known(facts, "rubber scorch time")
        if scorch is not None and scorch < t90:
            found["core share cured"] = state_of_cure(total[2], scorch, t90)
    return found


def _say_core(cure: float) -> str:
    if cure < 0.7:
        return "That is far too little: the middle is raw."
    if cure < 1.0:
        return "That is too little for a firm middle."
    if cure < 1.5:
        return "That is a little short: no reserve for a cold spot or a slow lot."
    if cure <= MUCH:
        return "That is enough."
    return "That is more than it needs; look at the skin."


def _say_cure(facts: Facts) -> Sequence[str]:
    lines = [
        "The middle got {core dose} at full heat out of {cure time} in the press, and was at "
        "{core end temperature} when the heat was taken away."
    ]
    if "cooling core dose" in facts:
        lines.append("{cooling core dose} of that it got while the block cooled.")
    else:
        lines.append("What it got while the block cooled is not counted: how it cooled was not told.")
    if "core cure" not in facts:
        return [*lines, NO_VERDICT]
    lines.append("The middle has {core cure} times what nine tenths cured takes.")
    lines.append(_say_core(number(facts, "core cure")))
    limit = known(facts, "rubber skin limit")
    lines.append("The skin has {skin overcure} times what nine tenths cured takes.")
    if limit is not None and number(facts, "skin overcure") > limit:
        lines.append("That is more than natural rubber's skin should get: it turns soft, then sticky.")
    return lines


CALCULATORS = (
    Calculator(
        name="cure",
        title="How much cure the middle and the skins got",
        stage="mold",
        needs=("cure time", *FACES, *PACK, *REACTION),
        takes=(
            *PRESS_DETAILS,
            *NINE_TENTHS,
            "rubber scorch time",
            "rubber skin limit",
            "block cooling time",
            *COOLED,
        ),
        gives=(
            "core dose",
            "quarter dose",
            "skin dose",
            "top skin dose",
            "bottom skin dose",
            "cooling core dose",
            "core cure",
            "skin overcure",
            "core share cured",
            "core end temperature",
        ),
        formula=(
            "{core dose}, {quarter dose}, {skin dose}, {top skin dose}, {bottom skin dose} = sum, over {cure time} "
            "and the cooling after it, of the pace of cure at that place; of two quarters the less, of two skins the"
            " more",
            "pace of cure = exp({rubber activation energy} / R x (1 / {rubber reference temperature} - 1 / "
            "temperature)), in kelvin: how many times faster than at {rubber reference temperature}",
            "temperature inside = heat spreading at {rubber diffusivity} through a slab {rubber thickness} thick, "
            "from {rubber start temperature}, between faces at {top face temperature} and {bottom face temperature} "
            "that pass {platen contact}: the series for a slab",
            "{cooling core dose} = the part of {core dose} that came after the heat was taken away",
            "{core cure} = {core dose} / nine tenths cured",
            "{skin overcure} = {skin dose} / nine tenths cured",
            "nine tenths cured = {own t90}, moved by the pace of cure from {own t90 temperature} to {rubber "
            "reference temperature}, where you told your own; else {rubber t90}",
            "{core share cured} = 1 - exp(-ln 10 x ({core dose} - {rubber scorch time}) / (nine tenths cured - "
            "{rubber scorch time}))",
            "{core end temperature} = temperature of the middle after {cure time}",
        ),
        run=_cure,
        says=_say_cure,
        sources=(
            "from memory of carslaw-jaeger-1959, ch. 3",
            "from memory of piessens-1983",
            "iso-6502-1-2018",
            "common practice",
        ),
        drawing="cure",
    ),
)
