"""Every calculator of every stage, in the order of the work."""

from __future__ import annotations

from importlib import import_module
from pkgutil import iter_modules

import diagnose.derive as here
from diagnose.derive.calculator import Calculator

TOGETHER = {
    "cure": (
        *("cure", "cure schedule", "rule of thumb", "warm-up of the middle", "closing", "three-dimensional cure"),
        *("cool-down", "re-cure"),
    ),
    "platens": ("platen survey", "platens read apart"),
    "shrinkage": (
        *("rubber shrinkage", "rubber shrinkage from set temperature", "measured shrinkage", "size chain"),
        *("size chain by ruler test", "finished size", "needed model size", "ring size by bore"),
        *("ring size by circumference", "ring size by inch size"),
    ),
    "gate": (
        *("part modulus", "gate", "needed gate", "gate joint", "gate legs", "trunk", "button", "freezing order"),
        *("feed metal",),
    ),
    "burnout": ("burnout plan", "burnout ramps", "drying", "burnout top", "flask middle", "ramp limit"),
}
"""Calculators that answer one question between them, by the name of the question."""


def all_calculators() -> tuple[Calculator, ...]:
    """Return the calculators that the modules beside this one declare in `CALCULATORS`."""
    found: list[Calculator] = []
    for module in iter_modules(here.__path__):
        if module.name not in ("all", "calculator", "missing", "resolve"):
            found += getattr(import_module(f"diagnose.derive.{module.name}"), "CALCULATORS", ())
    return tuple(found)
