"""Calculators for two moments: closing the press before the skin sets, and curing a raw block again."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from diagnose.calc.cure import BOTTOM, TOP, History
from diagnose.calc.cure_schedule import needed_time, recure
from diagnose.derive.calculator import Calculator, Facts, Value, number
from diagnose.derive.mold_inputs import (
    FACES,
    NINE_TENTHS,
    NO_VERDICT,
    PACK,
    PRESS_DETAILS,
    REACTION,
    known,
    nine_tenths,
    press,
    reaction,
    slab,
)


def _start(facts: Facts) -> float:
    return number(facts, "rubber start temperature")


def _recure(facts: Facts) -> dict[str, Value]:
    t90 = nine_tenths(facts)
    if t90 is None:
        return {}
    missing = number(facts, "wanted core cure") * t90 - number(facts, "core dose")
    if missing <= 0.0:
        return {"missing dose": 0.0}
    hot, kinetics = press(facts), reaction(facts)
    again = recure(slab(facts), _start(facts), hot, kinetics, missing)
    hotter = max(hot.top, hot.bottom)
    skin = number(facts, "skin dose") + again.safe_time * kinetics.rate(hotter)
    return {
        "missing dose": missing,
        "heat lag": again.safe_time - missing / kinetics.rate(hot.mean),
        "re-cure time": again.safe_time,
        "re-cure least time": again.least_time,
        "skin overcure after re-cure": skin / t90,
    }


def _say_recure(facts: Facts) -> Sequence[str]:
    if "missing dose" not in facts:
        return [NO_VERDICT]
    if "re-cure time" not in facts:
        return ["The middle lacks nothing: no second cure."]
    lines = [
        "The middle lacks {missing dose} at full heat. A cold block that is not yet cut and still holds its model "
        "may go back for {re-cure time}; {heat lag} of that is the heat getting in again."
    ]
    limit = known(facts, "rubber skin limit")
    if limit is not None and number(facts, "skin overcure after re-cure") > limit:
        lines.append(
            "Its skin would end at {skin overcure after re-cure} times what nine tenths cured takes: it would go "
            "sticky. Make a new mold, cooler and longer."
        )
    return lines


def _closing(facts: Facts) -> dict[str, Value]:
    hot, kinetics, block = press(facts), reaction(facts), slab(facts)
    scorch, depth = number(facts, "rubber scorch time"), number(facts, "scorch depth")
    hotter = TOP if hot.top >= hot.bottom else BOTTOM
    place = hotter * max(0.0, 1.0 - 2.0 * depth / block.thickness)
    found: dict[str, Value] = {"latest closing time": needed_time(block, _start(facts), hot, kinetics, scorch, place)}
    light = known(facts, "warm-up time")
    if light:
        used = History(block, _start(facts), hot, light).doses(kinetics, np.array([place]))[0]
        found["scorch at closing"] = float(used[0]) / scorch
    return found


def _say_closing(facts: Facts) -> Sequence[str]:
    lines = ["{scorch depth} under the skin the rubber begins to set after {latest closing time}."]
    if "scorch at closing" in facts:
        lines.append("When the press was fully closed it had come {scorch at closing} of the way there.")
        if number(facts, "scorch at closing") >= 1.0:
            lines.append("So the skin had begun to set before it was pressed: close earlier, or set cooler.")
    return lines


_SOURCES = ("from memory of carslaw-jaeger-1959, ch. 3", "common practice")

CALCULATORS = (
    Calculator(
        name="closing",
        title="How late the press may be fully closed",
        stage="mold",
        needs=("rubber scorch time", "scorch depth", *FACES, *PACK, *REACTION),
        takes=("warm-up time", *PRESS_DETAILS),
        gives=("latest closing time", "scorch at closing"),
        formula=(
            "{latest closing time} = time until the pace of cure, summed {scorch depth} under the hotter skin, has "
            "come to {rubber scorch time}",
            "{scorch at closing} = pace of cure summed there over {warm-up time} / {rubber scorch time}",
            "pace of cure = exp({rubber activation energy} / R x (1 / {rubber reference temperature} - 1 / "
            "temperature)), in kelvin: how many times faster than at {rubber reference temperature}",
            "temperature inside = heat spreading at {rubber diffusivity} through a slab {rubber thickness} thick, "
            "from {rubber start temperature}, between faces at {top face temperature} and {bottom face temperature} "
            "that pass {platen contact}: the series for a slab",
        ),
        run=_closing,
        says=_say_closing,
        sources=_SOURCES,
    ),
    Calculator(
        name="re-cure",
        title="How long a raw block must go back",
        stage="mold",
        needs=("core dose", "skin dose", "wanted core cure", *FACES, *PACK, *REACTION),
        takes=(*PRESS_DETAILS, *NINE_TENTHS, "rubber skin limit"),
        gives=(
            "missing dose",
            "heat lag",
            "re-cure time",
            "re-cure least time",
            "skin overcure after re-cure",
        ),
        formula=(
            "{missing dose} = {wanted core cure} x nine tenths cured - {core dose}, or nothing if that is below zero",
            "nine tenths cured = {own t90}, moved by the pace of cure from {own t90 temperature} to {rubber "
            "reference temperature}, where you told your own; else {rubber t90}",
            "{heat lag} = sum over time of (1 - pace of cure in the middle / pace at the platens): what the middle "
            "loses because heat comes late",
            "{re-cure time} = {missing dose} / pace of cure at the mean of the platens + {heat lag}",
            "{re-cure least time} = time in which the cold block's middle gains just {missing dose}",
            "{skin overcure after re-cure} = ({skin dose} + {re-cure time} x pace of cure at the hotter platen) / "
            "nine tenths cured",
            "pace of cure = exp({rubber activation energy} / R x (1 / {rubber reference temperature} - 1 / "
            "temperature)), in kelvin: how many times faster than at {rubber reference temperature}",
            "temperature inside = heat spreading at {rubber diffusivity} through a slab {rubber thickness} thick, "
            "from {rubber start temperature}, between faces at {top face temperature} and {bottom face temperature} "
            "that pass {platen contact}: the series for a slab",
        ),
        run=_recure,
        says=_say_recure,
        sources=_SOURCES,
    ),
)
