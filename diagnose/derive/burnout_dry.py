"""Calculators for what leaves the mold: water by weighing, wax by air, and sulfur gas when it breaks down."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.calc.burning import air_to_burn, kiln_refills, vent_area
from diagnose.calc.dryness import mold_mass_ratio, powder_in_flask, steam_volume
from diagnose.calc.gas import gas_volume
from diagnose.calc.gypsum import SULFUR_DIOXIDE, mold_masses, sulfate_in_mold, sulfur_dioxide
from diagnose.derive.calculator import Calculator, Facts, Value, number
from diagnose.derive.told import positive, told
from diagnose.errors import OutOfRange

ROOM, ATMOSPHERE = 293.15, 101325.0
# Errors of the mass ratio: powder weighed, or worked back from the filled flask with one part of water unsure.
WEIGHED_ERROR, INFERRED_ERROR = 0.004, 0.007


def _weighed_powder(facts: Facts) -> dict[str, Value]:
    return _dryness(facts, number(facts, "powder in the flask"), WEIGHED_ERROR)


def _inferred_powder(facts: Facts) -> dict[str, Value]:
    slurry = (
        number(facts, "filled flask weight") - number(facts, "empty flask weight") - number(facts, "wax in the flask")
    )
    return _dryness(facts, powder_in_flask(slurry, number(facts, "mixed water")), INFERRED_ERROR)


def _dryness(facts: Facts, powder: float, error: float) -> dict[str, Value]:
    ratio = mold_mass_ratio(number(facts, "fired flask weight") - number(facts, "empty flask weight"), powder)
    stages = mold_masses(number(facts, "investment binder share"))
    found: dict[str, Value] = {"mold weight ratio": ratio, "mold dryness": _state(ratio, stages, error)}
    left = max(0.0, ratio - stages.fired) * powder
    if ratio > stages.fired + error:
        found["water left by weight"] = left
        found["steam from it"] = steam_volume(left)
    return found


def _state(ratio: float, stages: tuple[float, float, float], error: float) -> str:
    """Return how dry the mold is, or that the weights cannot tell."""
    dried, half, fired = stages
    if ratio < fired - 2.0 * error:
        return "cannot tell"
    if ratio <= fired + error:
        return "dry"
    if ratio < half - error:
        return "cannot tell"
    return "plaster water left" if ratio < 0.5 * (half + dried) else "free water left"


def _say_dryness(facts: Facts) -> Sequence[str]:
    says = ["The mold weighs {mold weight ratio} of its powder: 0.98 is fired dry, 1.00 and more holds water."]
    says.append(
        {
            "dry": "It is dry.",
            "plaster water left": "The plaster still holds water. Do not pour it.",
            "free water left": "There is free water in it. Do not pour it: metal is thrown out.",
            "cannot tell": "The weights cannot tell it (crumbs lost, wax left, water of the mix unsure): treat it as "
            "wet until a polished plate held over the mouth stays clear.",
        }[str(facts["mold dryness"])]
    )
    if "water left by weight" in facts:
        says.append("Up to {water left by weight} of water may be left, which makes {steam from it} of steam.")
    return says


def _air(facts: Facts) -> dict[str, Value]:
    air = air_to_burn(number(facts, "wax left to burn"))
    flow = air * number(facts, "excess air") / positive(facts, "burning time")
    kiln = number(facts, "burning temperature")
    found: dict[str, Value] = {"air to burn the wax": air, "needed air flow": flow}
    if "kiln volume" in facts:
        found["kiln refills"] = kiln_refills(air, number(facts, "kiln volume"), kiln)
    if "vent height" in facts:
        needed = vent_area(flow, number(facts, "vent height"), kiln, ROOM)
        found["needed vent area"] = needed
        if "vent area" in facts:
            found["vent use"] = needed / positive(facts, "vent area")
    return found


def _say_air(facts: Facts) -> Sequence[str]:
    says = [
        "The wax still in the molds takes {air to burn the wax} of air; with {excess air} times that within "
        "{burning time} the kiln must draw {needed air flow}."
    ]
    if "kiln refills" in facts:
        says.append("That alone fills the hot chamber {kiln refills} times.")
    if "needed vent area" in facts:
        says.append(
            "Two openings, low and high, of {needed vent area} each draw it without a fan, if the kiln is made for "
            "it. Never open a door or vent while it smokes thickly: air can set it alight."
        )
    return says


def _sulfur(facts: Facts) -> dict[str, Value]:
    sulfate = sulfate_in_mold(number(facts, "powder weight"), number(facts, "investment binder share"))
    gas = sulfur_dioxide(sulfate * number(facts, "sulfate broken down"))
    room = number(facts, "room volume")
    volume = gas_volume(gas, SULFUR_DIOXIDE, 298.15, ATMOSPHERE)
    if volume > 0.1 * room:
        raise OutOfRange(
            "{gas in room volume:m3} of gas in a room of {room volume:m3} cannot be.",
            {"gas in room volume": volume, "room volume": room},
            next_step="Check the room's volume.",
        )
    return {"sulfate in the mold": sulfate, "sulfur dioxide in the room": volume / room}


def _say_sulfur(facts: Facts) -> Sequence[str]:
    return (
        "The mold holds {sulfate in the mold} of calcium sulfate. If {sulfate broken down} of it breaks down in a "
        "closed room of {room volume}, the air holds {sulfur dioxide in the room} of sulfur dioxide.",
        "Limits at work lie between 0.25 ppm (15 min) and 5 ppm by place; extract kiln and pour, leave if it stings.",
    )


def _leftover(facts: Facts) -> dict[str, Value]:
    share = told(facts, "printed resin share", 0.0)
    undrained = share + (1.0 - share) * number(facts, "wax left after draining")
    return {"wax left to burn": told(facts, "flasks in the kiln", 1.0) * undrained * number(facts, "tree wax weight")}


DRYNESS = ("mold weight ratio", "mold dryness", "water left by weight", "steam from it")

CALCULATORS = (
    Calculator(
        name="mold dryness",
        title="How dry the mold is, with its powder weighed",
        stage="burnout",
        needs=("empty flask weight", "fired flask weight", "powder in the flask", "investment binder share"),
        gives=DRYNESS,
        formula=(
            "{mold weight ratio} = ({fired flask weight} - {empty flask weight}) / {powder in the flask}",
            "{mold dryness} = by where that ratio lies between fired dry, 1 - {investment binder share} x 0.5 x "
            "18.015 / 145.15, and set, 1 + {investment binder share} x 1.5 x 18.015 / 145.15",
            "{water left by weight} = ({mold weight ratio} - the ratio fired dry) x {powder in the flask}",
            "{steam from it} = {water left by weight} x 1.673 m3/kg",
        ),
        run=_weighed_powder,
        says=_say_dryness,
        sources=("from memory of iupac-2013", "aithal-2002, abstract"),
    ),
    Calculator(
        name="mold dryness from the filled flask",
        title="How dry the mold is, with its powder worked back from the filled flask",
        stage="burnout",
        needs=(
            "empty flask weight",
            "filled flask weight",
            "fired flask weight",
            "wax in the flask",
            "mixed water",
            "investment binder share",
        ),
        gives=DRYNESS,
        formula=(
            "{mold weight ratio} = ({fired flask weight} - {empty flask weight}) / powder",
            "powder = ({filled flask weight} - {empty flask weight} - {wax in the flask}) / (1 + {mixed water} / 100)",
            "{mold dryness} = by where that ratio lies between fired dry, 1 - {investment binder share} x 0.5 x "
            "18.015 / 145.15, and set, 1 + {investment binder share} x 1.5 x 18.015 / 145.15",
            "{water left by weight} = ({mold weight ratio} - the ratio fired dry) x powder",
            "{steam from it} = {water left by weight} x 1.673 m3/kg",
        ),
        run=_inferred_powder,
        says=_say_dryness,
        sources=("from memory of iupac-2013", "aithal-2002, abstract"),
    ),
    Calculator(
        name="wax left to burn",
        title="What is left in the molds to burn",
        stage="burnout",
        needs=("tree wax weight", "wax left after draining"),
        takes=("flasks in the kiln", "printed resin share"),
        gives=("wax left to burn",),
        formula=(
            "{wax left to burn} = {flasks in the kiln} x {tree wax weight} x (resin + (1 - resin) x {wax left after "
            "draining}), with resin = {printed resin share}; one flask unless told",
        ),
        run=_leftover,
        says=lambda facts: ("After draining some {wax left to burn} are left to burn.",),
        sources=("common practice",),
    ),
    Calculator(
        name="air to burn out",
        title="Air that the burnout takes, and the opening for it",
        stage="burnout",
        needs=("wax left to burn", "excess air", "burning time", "burning temperature"),
        takes=("kiln volume", "vent height", "vent area"),
        gives=("air to burn the wax", "needed air flow", "kiln refills", "needed vent area", "vent use"),
        formula=(
            "{air to burn the wax} = {wax left to burn} x oxygen for CH2 with 1.5 O2 each / share of oxygen in air /"
            " density of air",
            "{needed air flow} = {air to burn the wax} x {excess air} / {burning time}",
            "{kiln refills} = {air to burn the wax} / {kiln volume} x {burning temperature} / 293.15 K",
            "{needed vent area} = opening through which a hot column {vent height} high, at {burning temperature}, "
            "draws {needed air flow}; two equal openings",
            "{vent use} = {needed vent area} / {vent area}",
        ),
        run=_air,
        says=_say_air,
        sources=("from memory of iupac-2013", "from memory of ashrae-2005"),
    ),
    Calculator(
        name="sulfur dioxide",
        title="Sulfur dioxide in the room when a mold breaks down",
        stage="burnout",
        needs=("powder weight", "investment binder share", "sulfate broken down", "room volume"),
        gives=("sulfate in the mold", "sulfur dioxide in the room"),
        formula=(
            "{sulfate in the mold} = {powder weight} x {investment binder share} x mass of sulfate / mass of plaster"
            " (136.14 / 145.15)",
            "{sulfur dioxide in the room} = {sulfate in the mold} x {sulfate broken down} x 64.06 / 136.14, as a gas"
            " at 25 °C / {room volume}",
        ),
        run=_sulfur,
        says=_say_sulfur,
        sources=("from memory of iupac-2013", "common practice"),
    ),
)
