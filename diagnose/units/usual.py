"""In which units people write what is computed with in an SI unit, where nothing more is known of it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple


class Usual(NamedTuple):
    """A dimension, and the unit of it that each system prefers."""

    dimension: str
    us: str
    metric: str


USUAL: Mapping[str, Usual] = {
    "K": Usual("temperature", "F", "C"),
    "K change": Usual("temperature change", "F", "C"),
    "K/s": Usual("rate of temperature", "F/min", "C/min"),
    "m": Usual("length", "in", "mm"),
    "m2": Usual("area", "in2", "cm2"),
    "m3": Usual("volume", "ml", "ml"),
    "m3/s": Usual("volume flow", "cfm", "l/min"),
    "m2/s": Usual("diffusivity", "mm2/s", "mm2/s"),
    "kg": Usual("mass", "g", "g"),
    "kg/m3": Usual("density", "g/cm3", "g/cm3"),
    "Pa": Usual("pressure", "psi", "kPa"),
    "rad/s": Usual("speed", "rpm", "rpm"),
    "": Usual("number", "", ""),
}


def usual(si_unit: str) -> Usual | None:
    """Return how people write a quantity; None where they write it in SI as well."""
    return USUAL.get(si_unit)
