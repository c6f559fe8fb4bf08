"""Calculators for the shot: wax temperature, pressure, trapped air, reach, water in the pot, wax needed."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.calc.wax_injection import (
    bubble_diameter_ratio,
    lid_force,
    nozzle_pressure,
    pocket_filled,
    pressure_for_same_reach,
    reach_ratio,
    temperature_window,
    wax_mass,
)
from diagnose.calc.wax_water import boiling_margin, drying_temperature, vacuum_that_boils_water
from diagnose.derive.calculator import Calculator, Facts, Value, number
from diagnose.derive.told import positive
from diagnose.errors import OutOfRange

SECTION_CLASSES = (("heavy", 3e-3), ("ordinary", 1.5e-3), ("thin", 0.8e-3), ("filigree", 0.0))


def _window(facts: Facts) -> dict[str, Value]:
    congealing = number(facts, "wax congealing point")
    low, high = temperature_window(
        congealing,
        number(facts, "least wax margin"),
        number(facts, "most wax margin"),
        number(facts, "wax ceiling"),
    )
    start = min(congealing + number(facts, "usual wax margin"), high)
    found: dict[str, Value] = {
        "lowest wax temperature": low,
        "highest wax temperature": high,
        "wax temperature to try": max(low, start),
    }
    if "wax temperature" in facts:
        found["wax over congealing"] = number(facts, "wax temperature") - congealing
    return found


def _say_window(facts: Facts) -> Sequence[str]:
    says = [
        "This wax runs well between {lowest wax temperature} and {highest wax temperature}; "
        "begin at {wax temperature to try}."
    ]
    if "wax over congealing" in facts:
        says.append("The shot was {wax over congealing} above the point where the wax stops running.")
    return says


def _pot_error(facts: Facts) -> dict[str, Value]:
    return {"pot temperature error": number(facts, "pot temperature") - number(facts, "wax temperature")}


def _say_pot_error(facts: Facts) -> Sequence[str]:
    if number(facts, "pot temperature error") > 0.0:
        return ("The pot claims {pot temperature error} more than the wax at the nozzle has.",)
    return ("The wax at the nozzle is as hot as the pot claims, or hotter: {pot temperature error}.",)


def _pressure(facts: Facts) -> dict[str, Value]:
    pressure = number(facts, "injection pressure")
    found: dict[str, Value] = {}
    if "marked pot pressure" in facts:
        found["pot pressure share"] = pressure / positive(facts, "marked pot pressure")
    if "wax level over the nozzle" in facts and "wax liquid density" in facts:
        level = number(facts, "wax level over the nozzle")
        found["nozzle pressure"] = nozzle_pressure(pressure, number(facts, "wax liquid density"), level)
    if "pot lid diameter" in facts:
        found["lid force"] = lid_force(pressure, number(facts, "pot lid diameter"))
    return found


def _say_pressure(facts: Facts) -> Sequence[str]:
    says = []
    if "pot pressure share" in facts:
        over = number(facts, "pot pressure share") > 1.0
        says.append("The pot is marked for {marked pot pressure}; {pot pressure share} of that was used.")
        says += ["Vent it and never go above the marking."] if over else []
    if "nozzle pressure" in facts:
        says.append("At the nozzle the wax has {nozzle pressure}.")
    if "lid force" in facts:
        says.append("The lid is pushed with {lid force}: vent to zero and check the gauge before loosening it.")
    return says


def _pocket(facts: Facts) -> dict[str, Value]:
    pressure, air = number(facts, "injection pressure"), number(facts, "local air pressure")
    vacuum = number(facts, "mold vacuum") if "mold vacuum" in facts else 0.0
    found: dict[str, Value] = {
        "filled pocket": pocket_filled(pressure, air, vacuum),
        "trapped bubble size": bubble_diameter_ratio(pressure, air, vacuum),
    }
    if vacuum:
        found["filled pocket without vacuum"] = pocket_filled(pressure, air)
    return found


def _say_pocket(facts: Facts) -> Sequence[str]:
    says = [
        "Of a pocket without a vent {filled pocket} fills; a trapped bubble keeps {trapped bubble size} of its width."
    ]
    if "filled pocket without vacuum" in facts:
        says.append("Without the vacuum it would be {filled pocket without vacuum}.")
    says.append("No safe pressure fills a blind pocket: it needs a vent, vacuum, or another way up.")
    return says


def _reach(facts: Facts) -> dict[str, Value]:
    wall, filled = number(facts, "thinnest section"), number(facts, "thinnest section that filled")
    pressure, before = number(facts, "injection pressure"), number(facts, "pressure that filled")
    same = pressure_for_same_reach(wall, filled, before)
    found: dict[str, Value] = {
        "wax reach ratio": reach_ratio(wall, filled, pressure, before),
        "pressure for the same reach": same,
    }
    if "marked pot pressure" in facts:
        allowed = same <= number(facts, "marked pot pressure")
        found["pressure can do it"] = "yes" if allowed else "no"
    return found


def _say_reach(facts: Facts) -> Sequence[str]:
    says = ["Wax reaches {wax reach ratio} of the way it went in the wall that filled."]
    if facts.get("pressure can do it") == "no":
        says.append("Pressure alone would take more than the pot is marked for: vent, vacuum or a thicker wall.")
    return [*says, "This compares two shots; it does not say whether a wall fills."]


def _water(facts: Facts) -> dict[str, Value]:
    air, vacuum = number(facts, "local air pressure"), 0.0
    if "pot vacuum" in facts:
        vacuum = number(facts, "pot vacuum")
    hottest = max(number(facts, n) for n in ("pot temperature", "wax temperature") if n in facts)
    margin = boiling_margin(hottest, air, vacuum)
    found: dict[str, Value] = {
        "water boiling margin": margin,
        "water in the wax boils": "yes" if margin <= 0.0 else "no",
    }
    if boiling_margin(hottest, air) > 0.0:
        found["vacuum that boils water"] = vacuum_that_boils_water(hottest, air)
    if vacuum:
        found |= _drying(air, vacuum, number(facts, "wax ceiling"))
    return found


def _drying(air: float, vacuum: float, ceiling: float) -> dict[str, Value]:
    try:
        return {"drying wax temperature": drying_temperature(air, vacuum, ceiling)}
    except OutOfRange:
        return {}


def _say_water(facts: Facts) -> Sequence[str]:
    says = []
    if number(facts, "water boiling margin") <= 0.0:
        says.append("Any water in this wax boils and can throw hot wax out of the pot: keep away from the top.")
    else:
        says.append("Water in this wax is {water boiling margin} short of boiling.")
    if "vacuum that boils water" in facts:
        says.append("It begins to boil at a vacuum of {vacuum that boils water}; froth short of that is only air.")
    if "drying wax temperature" in facts:
        says.append("Under this vacuum droplets boil off from {drying wax temperature} up.")
    return [
        *says,
        "Switch off, vent to zero and drain a pool at the bottom first.",
        "Never heat over {wax ceiling} to drive water out.",
        "Vacuum only on a pot marked for it, at most half full, with a trap before the pump.",
    ]


def _wax_needed(facts: Facts) -> dict[str, Value]:
    found: dict[str, Value] = {
        "needed wax weight": wax_mass(number(facts, "part volume"), number(facts, "wax density"))
    }
    if "metal density" in facts:
        found["metal part weight"] = wax_mass(number(facts, "part volume"), number(facts, "metal density"))
    if "wax shot weight" in facts:
        found["wax weight ratio"] = number(facts, "wax shot weight") / number(found, "needed wax weight")
    return found


def _say_wax_needed(facts: Facts) -> Sequence[str]:
    says = ["A wax of {part volume} weighs {needed wax weight}, less three times its shrinkage."]
    if "wax weight ratio" in facts:
        says.append("The wax that came out has {wax weight ratio} of that.")
    if "metal part weight" in facts:
        says.append("In metal it is {metal part weight}.")
    return says


def _section_class(facts: Facts) -> dict[str, Value]:
    section = number(facts, "thinnest section")
    if section <= 0.0:
        raise OutOfRange(
            "a section of {thinnest section:m} is not above zero.",
            {"thinnest section": section},
            next_step="Measure it again.",
        )
    return {"wax section class": next(name for name, least in SECTION_CLASSES if section >= least)}


CALCULATORS = (
    Calculator(
        name="wax temperature window",
        title="How hot the wax should be at the nozzle",
        stage="wax",
        needs=(
            "wax congealing point", "least wax margin", "most wax margin", "usual wax margin", "wax ceiling",
        ),
        takes=("wax temperature",),
        gives=(
            "lowest wax temperature", "highest wax temperature", "wax temperature to try", "wax over congealing",
        ),
        formula=(
            "{lowest wax temperature} = {wax congealing point} + {least wax margin}",
            "{highest wax temperature} = {wax congealing point} + {most wax margin}, at most {wax ceiling}",
            "{wax temperature to try} = {wax congealing point} + {usual wax margin}, kept between these two",
            "{wax over congealing} = {wax temperature} - {wax congealing point}",
        ),
        run=_window,
        says=_say_window,
        sources=("common practice", "astm-d87-2018"),
        drawing="wax window",
    ),
    Calculator(
        name="pot temperature error",
        title="How far the pot's thermostat is from the wax at the nozzle",
        stage="wax",
        needs=("pot temperature", "wax temperature"),
        gives=("pot temperature error",),
        formula=(
            "{pot temperature error} = {pot temperature} - {wax temperature}",
        ),
        run=_pot_error,
        says=_say_pot_error,
        sources=("common practice",),
    ),
    Calculator(
        name="wax pressure",
        title="Pressure at the nozzle against what the pot is marked for",
        stage="wax",
        needs=("injection pressure",),
        takes=("marked pot pressure", "wax level over the nozzle", "wax liquid density", "pot lid diameter"),
        gives=("pot pressure share", "nozzle pressure", "lid force"),
        formula=(
            "{pot pressure share} = {injection pressure} / {marked pot pressure}",
            "{nozzle pressure} = {injection pressure} + {wax liquid density} x 9.81 m/s2 x {wax level over the "
            "nozzle}",
            "{lid force} = {injection pressure} x pi / 4 x {pot lid diameter}^2",
        ),
        run=_pressure,
        says=_say_pressure,
        sources=("common practice",),
    ),
    Calculator(
        name="blind pocket",
        title="How much of a pocket without a vent fills",
        stage="wax",
        needs=("injection pressure", "local air pressure"),
        takes=("mold vacuum",),
        gives=("filled pocket", "filled pocket without vacuum", "trapped bubble size"),
        formula=(
            "{filled pocket} = 1 - ({local air pressure} - {mold vacuum}) / ({local air pressure} + {injection "
            "pressure})",
            "{filled pocket without vacuum} = 1 - {local air pressure} / ({local air pressure} + {injection "
            "pressure})",
            "{trapped bubble size} = (1 - {filled pocket})^(1 / 3)",
        ),
        run=_pocket,
        says=_say_pocket,
        sources=("common practice",),
    ),
    Calculator(
        name="wax reach",
        title="How far wax runs into a thin wall, against a shot that filled",
        stage="wax",
        needs=("thinnest section", "thinnest section that filled", "injection pressure", "pressure that filled"),
        takes=("marked pot pressure",),
        gives=("wax reach ratio", "pressure for the same reach", "pressure can do it"),
        formula=(
            "{wax reach ratio} = ({thinnest section} / {thinnest section that filled})^2 x sqrt({injection pressure}"
            " / {pressure that filled})",
            "{pressure for the same reach} = {pressure that filled} x ({thinnest section that filled} / {thinnest "
            "section})^4",
            "{pressure can do it} = yes when {pressure for the same reach} is no more than {marked pot pressure}",
        ),
        run=_reach,
        says=_say_reach,
        sources=("common practice", "bazhenov-2023"),
    ),
    Calculator(
        name="water in the wax",
        title="Whether water in the pot boils",
        stage="wax",
        needs=("wax temperature", "local air pressure", "wax ceiling"),
        takes=("pot temperature", "pot vacuum"),
        gives=(
            "water boiling margin", "water in the wax boils", "vacuum that boils water", "drying wax temperature",
        ),
        formula=(
            "{water boiling margin} = temperature at which water boils under {local air pressure} - {pot vacuum}, "
            "less the hotter of {pot temperature} and {wax temperature}",
            "{water in the wax boils} = yes when {water boiling margin} is zero or below",
            "{vacuum that boils water} = {local air pressure} - pressure at which water boils at the hotter of {pot "
            "temperature} and {wax temperature}",
            "{drying wax temperature} = temperature at which water boils under {local air pressure} - {pot vacuum}, "
            "if that is under {wax ceiling}",
        ),
        run=_water,
        says=_say_water,
        sources=("from memory of iapws-1997",),
    ),
    Calculator(
        name="wax needed",
        title="Weight of a wax, and of the metal in its place, from the volume",
        stage="wax",
        needs=("part volume", "wax density"),
        takes=("metal density", "wax shot weight"),
        gives=("needed wax weight", "metal part weight", "wax weight ratio"),
        formula=(
            "{needed wax weight} = {part volume} x {wax density}",
            "{metal part weight} = {part volume} x {metal density}",
            "{wax weight ratio} = {wax shot weight} / {needed wax weight}",
        ),
        run=_wax_needed,
        says=_say_wax_needed,
        sources=("common practice",),
    ),
    Calculator(
        name="wax section class",
        title="How fine the part is for the injector",
        stage="wax",
        needs=("thinnest section",),
        gives=("wax section class",),
        formula=(
            "{wax section class} = by the thickness of {thinnest section}: heavy, ordinary, thin or filigree",
        ),
        run=_section_class,
        says=lambda facts: ("{thinnest section} counts as {wax section class} for the injector.",),
        sources=("common practice",),
    ),
)  # fmt: skip
