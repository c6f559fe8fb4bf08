"""Reads from facts what the mold calculators share: the block, the press, the reaction, the cooling."""

from __future__ import annotations

from math import inf

from diagnose.calc.cure import Cooling, Press
from diagnose.calc.kinetics import Kinetics
from diagnose.calc.slab import Slab
from diagnose.derive.calculator import Facts, number

PACK = ("rubber thickness", "rubber diffusivity", "rubber conductivity", "rubber start temperature")
REACTION = ("rubber activation energy", "rubber reference temperature")
FACES = ("top face temperature", "bottom face temperature", "platen contact")
PRESS_DETAILS = (
    "heat barrier thickness",
    "heat barrier conductivity",
    "platen drop",
    "platen recovery time",
)
NINE_TENTHS = ("rubber t90", "own t90", "own t90 temperature")

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
    """Return the heat transfer from platen to rubber, with any layer between the two [W/m2/K]."""
    bare = number(facts, "platen contact")
    layer = known(facts, "heat barrier thickness") or 0.0
    if layer <= 0.0:
        return bare
    resistance = (0.0 if bare == inf else 1.0 / bare) + layer / number(facts, "heat barrier conductivity")
    return 1.0 / resistance


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
    own = known(facts, "own t90")
    if own is None:
        return known(facts, "rubber t90")
    at = known(facts, "own t90 temperature")
    return own if at is None else own * reaction(facts).rate(at)


def cooling(facts: Facts, way: str | None = None) -> Cooling | None:
    """Return how the block was cooled (or would be, in a given way); None when nobody knows."""
    chosen = way or facts.get("block cooled")
    pair = COOLING_WAYS.get(str(chosen))
    return Cooling(number(facts, pair[0]), number(facts, pair[1])) if pair else None
