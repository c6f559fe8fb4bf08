"""Calculators for after the pour: when to quench, what the weighing says, what gas and steam do."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.calc.gas import dissolved_share, gas_volume
from diagnose.calc.porosity import (
    density_by_weighing,
    mass_for_error,
    open_porosity,
    porosity,
    water_density,
    weighing_error,
)
from diagnose.calc.quench import quench_wait
from diagnose.derive.calculator import Calculator, Facts, Value, number

NEVER_SOONER = 180.0  # s; no flask goes into water before, whatever its size
OXYGEN, STEAM = 0.031998, 0.018015  # molar masses [kg/mol] of O2 and H2O
ATMOSPHERE, ICE_POINT = 101325.0, 273.15  # standard conditions [Pa], [K]
HANDBOOK_SPREAD = 0.005  # share by which a computed alloy density may be off
WANTED_ERROR = 0.0015  # error of the porosity at which 0.3 % can be told from none


def _quench(facts: Facts) -> dict[str, Value]:
    diameter = number(facts, "flask diameter")
    earliest = quench_wait(number(facts, "metal quench wait"), diameter, NEVER_SOONER)
    found: dict[str, Value] = {"earliest quench": earliest}
    latest = None
    if "metal longest quench wait" in facts:
        latest = quench_wait(number(facts, "metal longest quench wait"), diameter, earliest)
        found["latest quench"] = latest
    if "quench delay" in facts:
        delay = number(facts, "quench delay")
        found["quench too early by"] = earliest - delay
        if latest is not None:
            found["quench too late by"] = delay - latest
    return found


def _say_quench(facts: Facts) -> Sequence[str]:
    says = [
        "Never before the button is black in shade and the spin or vacuum has ended; with this flask that is "
        "seldom before {earliest quench}."
    ]
    if "latest quench" in facts:
        says.append("Waiting longer than {latest quench} hardens or blackens this metal.")
    if "metal quench below" in facts:
        says.append("The core must be under {metal quench below} when it meets water; otherwise let it cool in air.")
    return says


def _weighing(facts: Facts) -> dict[str, Value]:
    in_air, in_water = number(facts, "mass in air"), number(facts, "mass in water")
    water = water_density(number(facts, "weighing water temperature"))
    balance = number(facts, "balance error")
    density = density_by_weighing(in_air, in_water, water)
    error = weighing_error(balance, in_air, in_water)
    found: dict[str, Value] = {
        "casting density": density,
        "porosity error": error,
        "needed weighing mass": mass_for_error(balance, WANTED_ERROR, density, water),
    }
    if "sound density" in facts:
        found["porosity"] = porosity(density, number(facts, "sound density"), 2.0 * error)
    elif "metal density" in facts:
        found["porosity"] = porosity(density, number(facts, "metal density"), 2.0 * error + HANDBOOK_SPREAD)
    if "mass in water after soak" in facts:
        found["open porosity"] = open_porosity(in_air, in_water, number(facts, "mass in water after soak"), water)
    return found


def _say_weighing(facts: Facts) -> Sequence[str]:
    says = ["The casting has {casting density}."]
    if "porosity" in facts:
        says.append("{porosity} of it is closed holes, give or take {porosity error|about}.")
    if "open porosity" in facts:
        says.append("{open porosity} more is holes open to the surface.")
    if number(facts, "porosity error") > WANTED_ERROR:
        says.append("To call a piece sound weigh {needed weighing mass} or more at once, or use a finer balance.")
    return says


def _steam(facts: Facts) -> dict[str, Value]:
    mass = number(facts, "water left in the mold")
    return {"steam volume": gas_volume(mass, STEAM, number(facts, "flask temperature"), ATMOSPHERE)}


def _oxygen(facts: Facts) -> dict[str, Value]:
    held = dissolved_share(number(facts, "metal oxygen uptake"), number(facts, "oxygen above the melt"))
    volume = gas_volume(held * number(facts, "metal liquid density"), OXYGEN, ICE_POINT, ATMOSPHERE)
    return {"oxygen volumes": volume}


CALCULATORS = (
    Calculator(
        name="quench window",
        title="When the flask may go into water",
        stage="casting",
        needs=("flask diameter", "metal quench wait"),
        takes=("metal longest quench wait", "metal quench below", "quench delay"),
        gives=("earliest quench", "latest quench", "quench too early by", "quench too late by"),
        formula=(
            "{earliest quench} = {metal quench wait} x ({flask diameter} / 62.5 mm)^n, n = 1.15 for smaller flasks "
            "and 1.45 for larger, three minutes at least",
            "{latest quench} = {metal longest quench wait} x ({flask diameter} / 62.5 mm)^n, not before {earliest "
            "quench}",
            "{quench too early by} = {earliest quench} - {quench delay}",
            "{quench too late by} = {quench delay} - {latest quench}",
        ),
        run=_quench,
        says=_say_quench,
        sources=("common practice",),
    ),
    Calculator(
        name="porosity",
        title="Holes in a casting, by weighing it in water",
        stage="casting",
        needs=("mass in air", "mass in water", "weighing water temperature", "balance error"),
        takes=("sound density", "metal density", "mass in water after soak"),
        gives=("casting density", "porosity", "porosity error", "needed weighing mass", "open porosity"),
        formula=(
            "{casting density} = {mass in air} x density of water at {weighing water temperature} / ({mass in air} -"
            " {mass in water})",
            "{porosity} = 1 - {casting density} / {sound density}, else / {metal density}",
            "{porosity error} = 1.414 x {balance error} / ({mass in air} - {mass in water})",
            "{needed weighing mass} = 1.414 x {balance error} x {casting density} / (error of 0.15 % x density of "
            "water)",
            "{open porosity} = ({mass in water after soak} - {mass in water}) / density of water, over the volume "
            "({mass in air} - {mass in water}) / density of water",
        ),
        run=_weighing,
        says=_say_weighing,
        sources=("from memory of kell-1975", "from memory of gum-2008"),
    ),
    Calculator(
        name="steam",
        title="Steam from water left in the mold",
        stage="casting",
        needs=("water left in the mold", "flask temperature"),
        gives=("steam volume",),
        formula=(
            "{steam volume} = {water left in the mold} x R x {flask temperature} / (0.018015 kg/mol x 101325 Pa), in"
            " kelvin",
        ),
        run=_steam,
        says=lambda facts: (
            "{water left in the mold} of water becomes {steam volume} of steam in the hot flask, and more "
            "on the metal. Do not pour into a damp mold: it throws the metal back.",
        ),
        sources=("common practice",),
    ),
    Calculator(
        name="oxygen in the melt",
        title="Oxygen that an open melt gives off on freezing",
        stage="casting",
        needs=("oxygen above the melt", "metal oxygen uptake", "metal liquid density"),
        gives=("oxygen volumes",),
        formula=(
            "{oxygen volumes} = {metal oxygen uptake} x sqrt({oxygen above the melt}) x {metal liquid density} x R x"
            " 273.15 K / (0.031998 kg/mol x 101325 Pa)",
        ),
        run=_oxygen,
        says=lambda facts: (
            "A melt left open long enough can give off {oxygen volumes} times its volume of oxygen, cold.",
            "A cover of flux or charcoal, or an inert gas, keeps it out.",
        ),
        sources=("from memory of asm-handbook-15-2008",),
    ),
)
