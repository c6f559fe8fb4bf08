"""Calculators for the block in its frame: heat from the frame's sides, and cooling down before it is opened."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.calc.box import Box, middle_dose
from diagnose.calc.conduction import heating_time
from diagnose.derive.calculator import Calculator, Facts, Value, number
from diagnose.derive.mold_inputs import (
    COOLED,
    COOLING,
    COOLING_WAYS,
    FACES,
    NINE_TENTHS,
    NO_VERDICT,
    PACK,
    REACTION,
    contact,
    cooling_by,
    known,
    nine_tenths,
    press,
    reaction,
    slab,
)
from diagnose.derive.told import positive
from diagnose.errors import OutOfRange

_NAMES = {
    "loose in air": "cool-down time in air",
    "flat between plates": "cool-down time between plates",
    "quenched": "cool-down time in water",
}


def _sides(facts: Facts) -> dict[str, Value]:
    box = Box(slab(facts), number(facts, "frame length"), number(facts, "frame width"))
    platens, start = press(facts).mean, number(facts, "rubber start temperature")
    time = number(facts, "cure time")
    cold = known(facts, "frame side temperature")
    if cold is None:
        cold = platens - number(facts, "frame side shortfall")

    def dose(sides: float) -> float:
        return middle_dose(box, start, platens, sides, reaction(facts), time, contact(facts))

    hot_sides, cold_sides = dose(platens), dose(cold)
    found: dict[str, Value] = {"core dose with hot sides": hot_sides, "core dose with cold sides": cold_sides}
    t90 = nine_tenths(facts)
    if t90 is not None:
        found |= {"core cure with hot sides": hot_sides / t90, "core cure with cold sides": cold_sides / t90}
    return found


def _say_sides(facts: Facts) -> Sequence[str]:
    lines = [
        "In the press the middle got {core dose with hot sides} at full heat if the frame's sides were as hot as the "
        "platens, {core dose with cold sides} if they stayed cool. The truth lies between; a block wide against its "
        "thickness hardly feels its sides."
    ]
    if "core cure with hot sides" in facts:
        lines.append(
            "That is {core cure with hot sides} or {core cure with cold sides} times what nine tenths cured takes."
        )
    else:
        lines.append(NO_VERDICT)
    return lines


def _cool_down(facts: Facts) -> dict[str, Value]:
    block, hot = slab(facts), number(facts, "top face temperature")
    hot = max(hot, number(facts, "bottom face temperature"))
    wanted = number(facts, "wanted opening temperature")
    found: dict[str, Value] = {}
    for way in COOLING_WAYS:
        by = cooling_by(facts, way)
        if wanted <= by.surroundings:
            continue
        found[_NAMES[way]] = heating_time(
            0.5 * block.thickness, block.diffusivity, hot, by.surroundings, wanted, block.biot(by.heat_transfer)
        )
    if not found:
        raise OutOfRange(
            "a middle of {middle:K} is never reached in surroundings that warm.",
            {"middle": wanted},
            next_step="Check the temperature of room and water.",
        )
    chosen = _NAMES.get(str(facts.get("block cooled")))
    if chosen in found:
        found["cool-down time"] = found[chosen]
    return found


def _say_cool_down(facts: Facts) -> Sequence[str]:
    lines = ["Until the middle is down to {wanted opening temperature}:"]
    for name, words in (
        ("cool-down time in air", "in air {cool-down time in air}"),
        ("cool-down time between plates", "flat between plates {cool-down time between plates}"),
        ("cool-down time in water", "in water {cool-down time in water}"),
    ):
        if name in facts:
            lines[0] += f" {words},"
    lines[0] = lines[0].rstrip(",") + "."
    lines.append(
        "Water stops the cure of the middle: keep it for thin blocks. Open the press in small steps, face turned "
        "away: a hot block holds pressure."
    )
    return lines


def _cooled(facts: Facts) -> dict[str, Value]:
    way = str(facts["block cooled"])
    if way not in COOLING_WAYS:
        return {}
    by = cooling_by(facts, way)
    return {"cooling surroundings": by.surroundings, "cooling strength": by.heat_transfer}


def _say_cooled(facts: Facts) -> Sequence[str]:
    if "cooling strength" not in facts:
        return ["Nothing is known of the heat that this way of cooling takes."]
    return ["Cooled so, it gave its heat to {cooling surroundings} at {cooling strength}."]


def _layer(facts: Facts) -> dict[str, Value]:
    resistance = number(facts, "heat barrier thickness") / positive(facts, "heat barrier conductivity")
    return {"contact through the layer": 1.0 / (1.0 / positive(facts, "platen contact") + resistance)}


def _say_layer(_: Facts) -> Sequence[str]:
    return ["Through that layer only {contact through the layer} reaches the pack; bare plates pass {platen contact}."]


_SOURCES = ("from memory of carslaw-jaeger-1959, ch. 3", "common practice")

CALCULATORS = (
    Calculator(
        name="cooling of the block",
        title="How strongly the block was cooled",
        stage="mold",
        needs=("block cooled", *COOLING),
        gives=COOLED,
        formula=(
            "{cooling surroundings} = {cooling air temperature} in air and between plates, {mold quench temperature}"
            " when quenched; here: {block cooled}",
            "{cooling strength} = {air heat transfer} in air, {plate heat transfer} between plates, {water heat "
            "transfer} when quenched; here: {block cooled}",
        ),
        run=_cooled,
        says=_say_cooled,
        sources=("common practice",),
    ),
    Calculator(
        name="heat barrier",
        title="What card or paper between platen and frame lets through",
        stage="mold",
        needs=("heat barrier thickness", "heat barrier conductivity", "platen contact"),
        gives=("contact through the layer",),
        formula=(
            "{contact through the layer} = 1 / (1 / {platen contact} + {heat barrier thickness} / {heat barrier "
            "conductivity})",
        ),
        run=_layer,
        says=_say_layer,
        sources=("from memory of incropera-2007",),
    ),
    Calculator(
        name="three-dimensional cure",
        title="What heat from the frame's sides adds to the middle, or takes",
        stage="mold",
        needs=("frame length", "frame width", "cure time", "frame side shortfall", *FACES, *PACK, *REACTION),
        takes=("frame side temperature", "contact through the layer", *NINE_TENTHS),
        gives=(
            "core dose with hot sides",
            "core dose with cold sides",
            "core cure with hot sides",
            "core cure with cold sides",
        ),
        formula=(
            "{core dose with hot sides}, {core dose with cold sides} = sum over {cure time} of the pace of cure in "
            "the middle",
            "{core cure with hot sides} = {core dose with hot sides} / time to nine tenths cured",
            "{core cure with cold sides} = {core dose with cold sides} / time to nine tenths cured",
            "pace of cure = exp({rubber activation energy} / R x (1 / {rubber reference temperature} - 1 / "
            "temperature)), in kelvin: how many times faster than at {rubber reference temperature}",
            "temperature of the middle = heat spreading at {rubber diffusivity} into a block {rubber thickness} x "
            "{frame length} x {frame width} from {rubber start temperature}; platens at the mean of {top face "
            "temperature} and {bottom face temperature}, sides as hot as they, or cooler by {frame side shortfall} "
            "(or at {frame side temperature}): the series for a block",
        ),
        run=_sides,
        says=_say_sides,
        sources=_SOURCES,
    ),
    Calculator(
        name="cool-down",
        title="How long the block must cool before it is opened",
        stage="mold",
        needs=(
            "rubber thickness",
            "rubber diffusivity",
            "rubber conductivity",
            "top face temperature",
            "bottom face temperature",
            "wanted opening temperature",
            *COOLING,
        ),
        takes=("block cooled",),
        gives=(
            "cool-down time",
            "cool-down time in air",
            "cool-down time between plates",
            "cool-down time in water",
        ),
        formula=(
            "{cool-down time in air}, {cool-down time between plates}, {cool-down time in water} = time until the "
            "middle of a slab {rubber thickness} thick, hot through at the hotter of {top face temperature} and "
            "{bottom face temperature}, is down to {wanted opening temperature}: the series for a slab, heat "
            "spreading at {rubber diffusivity}",
            "in air it gives its heat to {cooling air temperature} at {air heat transfer}, between plates at {plate "
            "heat transfer}, in water to {mold quench temperature} at {water heat transfer}",
            "{cool-down time} = the one of these that fits {block cooled}",
        ),
        run=_cool_down,
        says=_say_cool_down,
        sources=_SOURCES,
    ),
)
