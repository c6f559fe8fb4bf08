"""Calculators for the vacuum: what the gauge must show where you are, and what it did to water and bubbles."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.calc.vacuum import (
    bubble_growth,
    chamber_pressure,
    gauge_to_boil,
    pressure_at_depth,
    standard_air_pressure,
)
from diagnose.calc.water_vapour import LOWEST_PRESSURE, boiling_pressure, boiling_temperature
from diagnose.derive.calculator import Calculator, Facts, Value, number

WEATHER = 2000.0  # Pa, by which weather moves the pressure of a place either way
GAUGE_ERROR = 0.003  # share that a good gauge may show too much
VACUUM_SOURCES = ("from memory of iapws-1997", "from memory of iso-2533-1975")


def _by_altitude(facts: Facts) -> dict[str, Value]:
    return {"local air pressure": standard_air_pressure(number(facts, "altitude"))}


def _needed(facts: Facts) -> dict[str, Value]:
    slurry = number(facts, "slurry temperature")
    return {
        "water boiling pressure": boiling_pressure(slurry),
        "needed vacuum reading": gauge_to_boil(number(facts, "local air pressure"), slurry),
    }


def _say_needed(facts: Facts) -> Sequence[str]:
    says = [
        "Water at {slurry temperature} boils at {water boiling pressure} absolute. The air here has "
        "{local air pressure}, so the gauge must show {needed vacuum reading} or more."
    ]
    if "barometer" not in facts:
        says.append("Weather moves that by 2 kPa (0.6 inHg) either way; a glass of water at slurry heat tells it best.")
    return says


def _margin(facts: Facts) -> dict[str, Value]:
    air, pull = number(facts, "local air pressure"), number(facts, "investing vacuum")
    spare = GAUGE_ERROR * air + (0.0 if "barometer" in facts else WEATHER)
    if pull > air + spare:
        return {"vacuum gauge truth": "impossible"}
    found: dict[str, Value] = {
        "vacuum gauge truth": "possible",
        "vacuum margin": pull - gauge_to_boil(air, number(facts, "slurry temperature")),
        "investing vacuum share": min(pull / air, 1.0),
    }
    if pull < air:
        left = chamber_pressure(air, pull)
        found["chamber pressure"] = left
        if left >= LOWEST_PRESSURE:
            found["bubble growth"] = bubble_growth(air, left)
            found["boiling point in the chamber"] = boiling_temperature(left)
            found.update(_at_the_bottom(facts, left))
    return found


def _at_the_bottom(facts: Facts, surface: float) -> dict[str, Value]:
    """Return pressure and boiling point at the bottom of a filled flask."""
    if "flask height" not in facts or "sound slurry density" not in facts:
        return {}
    bottom = pressure_at_depth(surface, number(facts, "sound slurry density"), number(facts, "flask height"))
    return {"pressure at the bottom": bottom, "boiling point at the bottom": boiling_temperature(bottom)}


def _say_margin(facts: Facts) -> Sequence[str]:
    if facts["vacuum gauge truth"] == "impossible":
        return (
            "The gauge shows {investing vacuum}, more than the air of this place has ({local air pressure}). It "
            "reads wrong: go by a glass of water that boils.",
        )
    if number(facts, "vacuum margin") >= 0.0:
        says = ["The slurry should boil: the gauge was past what it takes, by {vacuum margin}."]
    else:
        says = ["The slurry cannot have boiled: the gauge was {vacuum margin|size} short of what it takes."]
    if "boiling point in the chamber" in facts:
        says.append(
            "In the chamber {chamber pressure} was left; water boils there at {boiling point in the chamber}, and a "
            "bubble grows to {bubble growth} times its volume."
        )
    if "boiling point at the bottom" in facts:
        says.append(
            "At the bottom of the flask it takes {boiling point at the bottom}: bubbles there leave by growing and "
            "by tapping, not by boiling."
        )
    return says


CALCULATORS = (
    Calculator(
        name="air pressure by barometer",
        title="Air pressure of the shop, from a barometer in it",
        stage="investment",
        needs=("barometer",),
        gives=("local air pressure",),
        formula=("{local air pressure} = {barometer}",),
        run=lambda facts: {"local air pressure": number(facts, "barometer")},
        says=lambda facts: ("The air in the shop has {local air pressure}.",),
        sources=("common practice",),
    ),
    Calculator(
        name="air pressure by altitude",
        title="Air pressure of the shop, from its altitude",
        stage="investment",
        needs=("altitude",),
        gives=("local air pressure",),
        formula=(
            "{local air pressure} = 101325 Pa x (1 - 0.0065 K/m x {altitude} / 288.15 K)^5.2559: the standard "
            "atmosphere",
        ),
        run=_by_altitude,
        says=lambda facts: (
            "At {altitude} the air has {local air pressure} on an average day, 2 kPa (0.6 inHg) more or less with the "
            "weather.",
        ),
        sources=("from memory of iso-2533-1975",),
    ),
    Calculator(
        name="needed vacuum",
        title="What the vacuum gauge must show here",
        stage="investment",
        needs=("local air pressure", "slurry temperature"),
        takes=("barometer",),
        gives=("water boiling pressure", "needed vacuum reading"),
        formula=(
            "{water boiling pressure} = pressure at which water boils at {slurry temperature}",
            "{needed vacuum reading} = {local air pressure} - {water boiling pressure}",
        ),
        run=_needed,
        says=_say_needed,
        sources=VACUUM_SOURCES,
    ),
    Calculator(
        name="vacuum margin",
        title="Whether the vacuum was deep enough",
        stage="investment",
        needs=("local air pressure", "investing vacuum", "slurry temperature"),
        takes=("barometer", "flask height", "sound slurry density"),
        gives=(
            "vacuum gauge truth",
            "vacuum margin",
            "investing vacuum share",
            "chamber pressure",
            "bubble growth",
            "boiling point in the chamber",
            "pressure at the bottom",
            "boiling point at the bottom",
        ),
        formula=(
            "{vacuum gauge truth} = possible as long as {investing vacuum} is not more than {local air pressure}, "
            "with some allowance for gauge and weather",
            "{vacuum margin} = {investing vacuum} - ({local air pressure} - pressure at which water boils at {slurry"
            " temperature})",
            "{investing vacuum share} = {investing vacuum} / {local air pressure}, at most all of it",
            "{chamber pressure} = {local air pressure} - {investing vacuum}",
            "{bubble growth} = {local air pressure} / {chamber pressure}",
            "{boiling point in the chamber} = temperature at which water boils under {chamber pressure}",
            "{pressure at the bottom} = {chamber pressure} + {sound slurry density} x 9.81 m/s2 x {flask height}",
            "{boiling point at the bottom} = temperature at which water boils under {pressure at the bottom}",
        ),
        run=_margin,
        says=_say_margin,
        sources=VACUUM_SOURCES,
    ),
)
