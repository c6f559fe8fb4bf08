"""Calculators for filling and freezing: what pushes the metal, what holds it back, how long it flows."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi

from diagnose.calc.capillarity import sheet_back_pressure, smallest_rod_radius
from diagnose.calc.freezing import effective_freezing, freezing_constant, freezing_time, sheet_modulus
from diagnose.calc.pour_pressure import (
    gravity_head,
    spin_acceleration,
    spin_pressure,
    vacuum_pressure,
    vacuum_share,
)
from diagnose.derive.calculator import Calculator, Facts, Value, number
from diagnose.errors import OutOfRange

NOT_WETTING = pi  # contact angle: the worst case for filling
BAR = 0.5  # the modulus of a bar is half that of a sheet of the same thickness


def _spin(facts: Facts) -> dict[str, Value]:
    speed, place = number(facts, "spin speed"), number(facts, "arm radius")
    surface = number(facts, "metal surface radius")
    return {
        "spin pressure": spin_pressure(number(facts, "metal liquid density"), speed, surface, place),
        "spin acceleration": spin_acceleration(speed, place),
    }


def _vacuum(facts: Facts) -> dict[str, Value]:
    head = number(facts, "metal head") if "metal head" in facts else 0.0
    density = number(facts, "metal liquid density")
    return {"vacuum pressure": vacuum_pressure(number(facts, "vacuum at pour"), density, head)}


def _pressure(facts: Facts) -> dict[str, Value]:
    method = facts["casting method"]
    source = {
        "spin casting": "spin pressure",
        "vacuum casting": "vacuum pressure",
        "gravity pouring": "head pressure",
    }.get(str(method))
    if source is None or source not in facts:
        return {}
    return {"casting pressure": number(facts, source)}


def _detail(facts: Facts) -> dict[str, Value]:
    pressure, tension = number(facts, "casting pressure"), number(facts, "metal surface tension")
    found: dict[str, Value] = {
        "smallest filled detail": smallest_rod_radius(tension, NOT_WETTING, pressure),
        "sharpest filled edge": tension / pressure,
    }
    if "thinnest section" in facts:
        held_back = sheet_back_pressure(tension, NOT_WETTING, number(facts, "thinnest section"))
        found["fill margin"] = pressure / held_back
    return found


def _say_detail(facts: Facts) -> Sequence[str]:
    says = [
        "Surface tension lets {casting pressure} fill walls down to {smallest filled detail|about}, and edges to a "
        "radius of {sharpest filled edge|about}."
    ]
    if "fill margin" in facts:
        if number(facts, "fill margin") > 3.0:
            says.append("It is not what kept this piece from filling; look at freezing, gas and the amount of metal.")
        else:
            says.append("That is close to the thinnest wall here: more pressure is needed.")
    return says


def _freezing(facts: Facts) -> dict[str, Value]:
    if "mix liquidus" in facts:
        liquidus, end = number(facts, "mix liquidus"), number(facts, "mix end of freezing")
    elif "metal liquidus" in facts and "metal freezing range" in facts:
        liquidus = number(facts, "metal liquidus")
        end = liquidus - number(facts, "metal freezing range")
    else:
        return {}
    pour = number(facts, "pour temperature")
    if pour < liquidus:
        raise OutOfRange(
            "metal at {pour:K} is not fully melted; that takes {liquidus:K}.",
            {"pour": pour, "liquidus": liquidus},
            next_step="Check the pour temperature and the alloy.",
        )
    heat = number(facts, "metal latent heat") + number(facts, "metal specific heat") * (pour - end)
    constant = freezing_constant(
        number(facts, "metal density"),
        heat,
        effective_freezing(liquidus, end),
        number(facts, "flask temperature"),
        number(facts, "fired mold conductivity"),
        number(facts, "fired mold density"),
        number(facts, "fired mold specific heat"),
    )
    found: dict[str, Value] = {}
    if "thinnest section" in facts:
        modulus = sheet_modulus(number(facts, "thinnest section"))
        found["thin section freezing time"] = freezing_time(constant, modulus)
    if "heaviest section" in facts:
        modulus = BAR * sheet_modulus(number(facts, "heaviest section"))
        found["heavy section freezing time"] = freezing_time(constant, modulus)
        if "time under force" in facts:
            held = number(facts, "time under force")
            found["hold time ratio"] = held / freezing_time(constant, modulus)
    return found


def _say_freezing(facts: Facts) -> Sequence[str]:
    says = []
    if "thin section freezing time" in facts:
        says.append("A wall of {thinnest section} is solid after about {thin section freezing time}.")
    if "heavy section freezing time" in facts:
        says.append(
            "A bar of {heaviest section} is solid after about {heavy section freezing time}: keep the force "
            "on until then, and the flask still."
        )
    return (*says, "Times are good to a factor of two; compare them, do not rely on them.") if says else ()


CALCULATORS = (
    Calculator(
        name="spin pressure",
        title="Pressure from a spinning arm",
        stage="casting",
        needs=("spin speed", "arm radius", "metal surface radius", "metal liquid density"),
        gives=("spin pressure", "spin acceleration"),
        formula=(
            "{spin pressure} = 1 / 2 x {metal liquid density} x w^2 x ({arm radius}^2 - {metal surface radius}^2), "
            "with w = 2 x pi x turns in a second ({spin speed})",
            "{spin acceleration} = w^2 x {arm radius}",
        ),
        run=_spin,
        says=lambda facts: (
            "At {spin speed} the metal is pushed into the far end with {spin pressure}.",
            "Everything there is pulled outwards with {spin acceleration} (1 g is plain weight): stay behind the guard "
            "until the arm has stopped, and never exceed the speed on its plate.",
        ),
        sources=("from memory of nielsen-1978",),
    ),
    Calculator(
        name="vacuum pressure",
        title="Pressure under vacuum assist",
        stage="casting",
        needs=("vacuum at pour", "metal liquid density"),
        takes=("metal head",),
        gives=("vacuum pressure",),
        formula=("{vacuum pressure} = {vacuum at pour} + {metal liquid density} x 9.81 m/s2 x {metal head}",),
        run=_vacuum,
        says=lambda facts: ("Vacuum and weight push the metal with {vacuum pressure}.",),
        sources=("common practice",),
    ),
    Calculator(
        name="vacuum share",
        title="Depth of the caster's vacuum for the place",
        stage="casting",
        needs=("vacuum at pour", "local air pressure"),
        gives=("vacuum share",),
        formula=("{vacuum share} = {vacuum at pour} / {local air pressure}",),
        run=lambda facts: {
            "vacuum share": vacuum_share(number(facts, "vacuum at pour"), number(facts, "local air pressure"))
        },
        says=lambda facts: ("The gauge is at {vacuum share} of all the air there is; 85 % is enough.",),
        sources=("common practice",),
    ),
    Calculator(
        name="head pressure",
        title="Pressure from the weight of the metal",
        stage="casting",
        needs=("metal head", "metal liquid density"),
        gives=("head pressure",),
        formula=("{head pressure} = {metal liquid density} x 9.81 m/s2 x {metal head}",),
        run=lambda facts: {
            "head pressure": gravity_head(number(facts, "metal liquid density"), number(facts, "metal head"))
        },
        says=lambda facts: ("{metal head} of metal press with {head pressure}.",),
        sources=("common practice",),
    ),
    Calculator(
        name="casting pressure",
        title="Pressure of the method in use",
        stage="casting",
        needs=("casting method",),
        takes=("spin pressure", "vacuum pressure", "head pressure"),
        gives=("casting pressure",),
        formula=(
            "{casting pressure} = the one of {spin pressure}, {vacuum pressure}, {head pressure} that belongs to "
            "{casting method}",
        ),
        run=_pressure,
        says=lambda facts: ("With {casting method} the metal is driven in with {casting pressure}.",),
        sources=("common practice",),
    ),
    Calculator(
        name="smallest filled detail",
        title="Finest detail that surface tension lets fill",
        stage="casting",
        needs=("casting pressure", "metal surface tension"),
        takes=("thinnest section",),
        gives=("smallest filled detail", "sharpest filled edge", "fill margin"),
        formula=(
            "{smallest filled detail} = 2 x {metal surface tension} / {casting pressure}",
            "{sharpest filled edge} = {metal surface tension} / {casting pressure}",
            "{fill margin} = {casting pressure} / (2 x {metal surface tension} / {thinnest section})",
        ),
        run=_detail,
        says=_say_detail,
        sources=("from memory of keene-1993",),
    ),
    Calculator(
        name="freezing time",
        title="How long thin and heavy sections stay liquid",
        stage="casting",
        needs=(
            "pour temperature",
            "flask temperature",
            "metal density",
            "metal latent heat",
            "metal specific heat",
            "fired mold conductivity",
            "fired mold density",
            "fired mold specific heat",
        ),
        takes=(
            "metal liquidus",
            "metal freezing range",
            "mix liquidus",
            "mix end of freezing",
            "thinnest section",
            "heaviest section",
            "time under force",
        ),
        gives=("thin section freezing time", "heavy section freezing time", "hold time ratio"),
        formula=(
            "{thin section freezing time} = B x ({thinnest section} / 2)^2",
            "{heavy section freezing time} = B x ({heaviest section} / 4)^2",
            "B = pi / 4 x ({metal density} x H / (T - {flask temperature}))^2 / ({fired mold conductivity} x {fired "
            "mold density} x {fired mold specific heat})",
            "H = {metal latent heat} + {metal specific heat} x ({pour temperature} - end of freezing); T = end of "
            "freezing + a fifth of the freezing range",
            "freezing from {mix liquidus} to {mix end of freezing} for a mix, else from {metal liquidus} over {metal"
            " freezing range}",
            "{hold time ratio} = {time under force} / {heavy section freezing time}",
        ),
        run=_freezing,
        says=_say_freezing,
        sources=("from memory of flemings-1974",),
    ),
)
