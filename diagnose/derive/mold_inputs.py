"""Reads from facts what the mold calculators share: the block, the press, the reaction, the cooling."""

from __future__ import annotations

from diagnose.calc.cure import Cooling, Press
from diagnose.calc.kinetics import Kinetics
from diagnose.calc.slab import Slab
from diagnose.derive.calculator import Facts, number
from diagnose.derive.told import positive

PACK = ("rubber thickness", "rubber diffusivity", "rubber conductivity", "rubber start temperature")
REACTION = ("rubber activation energy", "rubber reference temperature")
FACES = ("top face temperature", "bottom face temperature", "platen contact")
PRESS_DETAILS = ("contact through the layer", "platen drop", "platen recovery time")
COOLED = ("cooling surroundings", "cooling strength")
NINE_TENTHS = ("rubber t90", "own t90", "own t90 temperature")
NO_VERDICT = (
    "No verdict: the time to nine tenths cured of this rubber is not known. Tell it (own t90, with the temperature it "
    "holds for): it stands on the label, or cure test strips show it."
)

# Answers of the observation `block cooled`, and the facts that each way of cooling is made of.
COOLING_WAYS = {
    "loose in air": ("cooling air temperature", "air heat transfer"),
    "flat between plates": ("cooling air temperature", "plate heat transfer"),
    "quenched": ("mold quench temperature", "water heat transfer"),
}
COOLING = tuple(dict.fromkeys(name for pair in COOLING_WAYS.values() for name in pair))


def known(facts: Facts, name: str) -> float | None:
    """Return a numeric fact, or None when it is not known."""
    return number(facts, name) if name in facts else None


def slab(facts: Facts) -> Slab:
    """Return the block between the platens."""
    return Slab(
        number(facts, "rubber thickness"),
        number(facts, "rubber diffusivity"),
        number(facts, "rubber conductivity"),
    )


def contact(facts: Facts) -> float:
    """Return the heat transfer from platen to rubber, through whatever lies between the two [W/m2/K]."""
    through = known(facts, "contact through the layer")
    return number(facts, "platen contact") if through is None else through


def press(facts: Facts) -> Press:
    """Return the two platens as they really were."""
    return Press(
        bottom=number(facts, "bottom face temperature"),
        top=number(facts, "top face temperature"),
        contact=contact(facts),
        recovery=known(facts, "platen recovery time") or 0.0,
        sag=known(facts, "platen drop") or 0.0,
    )


def reaction(facts: Facts) -> Kinetics:
    """Return the rubber's cure reaction."""
    return Kinetics(number(facts, "rubber activation energy"), number(facts, "rubber reference temperature"))


def nine_tenths(facts: Facts) -> float | None:
    """Return the time to nine tenths cured at the reference temperature [s]: the person's own, else the rubber's."""
    if "own t90" not in facts:
        return positive(facts, "rubber t90") if "rubber t90" in facts else None
    own = positive(facts, "own t90")
    at = known(facts, "own t90 temperature")
    return own if at is None else own * reaction(facts).rate(at)


def cooling(facts: Facts) -> Cooling | None:
    """Return how the block was cooled; None when nobody knows."""
    if not all(name in facts for name in COOLED):
        return None
    return Cooling(number(facts, "cooling surroundings"), number(facts, "cooling strength"))


def cooling_by(facts: Facts, way: str) -> Cooling:
    """Return how a block would be cooled in a given way."""
    surroundings, strength = COOLING_WAYS[way]
    return Cooling(number(facts, surroundings), number(facts, strength))
