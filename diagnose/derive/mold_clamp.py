"""The calculator for the clamp: what the wax pressure asks of it, and how far rubber gives."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.calc.clamp import cavity_growth, opening_force, stiffness_from_hardness
from diagnose.derive.calculator import Calculator, Facts, Value, number
from diagnose.derive.mold_inputs import known


def _clamp(facts: Facts) -> dict[str, Value]:
    pressure = number(facts, "injection pressure")
    force = opening_force(pressure, number(facts, "cavity area"))
    growth = cavity_growth(pressure, stiffness_from_hardness(number(facts, "mold hardness")))
    found: dict[str, Value] = {
        "opening force": force,
        "needed clamp force": number(facts, "clamp reserve") * force,
        "cavity growth": growth,
    }
    given = known(facts, "clamp force")
    if given is not None and force > 0.0:
        found["clamp margin"] = given / force
    width = known(facts, "cavity width")
    if width is not None:
        found["cavity bulge"] = growth * width
    return found


def _say_clamp(facts: Facts) -> Sequence[str]:
    lines = [
        "Wax at {injection pressure} over {cavity area} pushes the halves apart with {opening force}; hold them "
        "with {needed clamp force}, spread by stiff plates."
    ]
    if "clamp margin" in facts:
        lines.append("The clamp holds {clamp margin} times the opening force.")
        if number(facts, "clamp margin") < 1.0:
            lines.append("The wax can open the mold; once it is in the parting it pushes harder still.")
    lines.append("A hollow deep in the rubber widens by something like {cavity growth}: an order of size only.")
    return lines


CALCULATORS = (
    Calculator(
        name="clamp",
        title="How hard the mold must be held shut",
        stage="mold",
        needs=("injection pressure", "cavity area", "clamp reserve", "mold hardness"),
        takes=("clamp force", "cavity width"),
        gives=("opening force", "needed clamp force", "clamp margin", "cavity growth", "cavity bulge"),
        formula=(
            "{opening force} = {injection pressure} x {cavity area}",
            "{needed clamp force} = {clamp reserve} x {opening force}",
            "{clamp margin} = {clamp force} / {opening force}",
            "{cavity growth} = 1.5 x {injection pressure} / E, with E = 0.0981 x (56 + 7.62336 x S) / (0.137505 x "
            "(254 - 2.54 x S)) MPa for a hardness S of {mold hardness}",
            "{cavity bulge} = {cavity growth} x {cavity width}",
        ),
        run=_clamp,
        says=_say_clamp,
        sources=("from memory of gent-1958", "common practice"),
    ),
)
