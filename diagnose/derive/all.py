"""Every calculator of every stage, in the order of the work."""

from __future__ import annotations

from importlib import import_module
from pkgutil import iter_modules

import diagnose.derive as here
from diagnose.derive.calculator import Calculator


def all_calculators() -> tuple[Calculator, ...]:
    """Return the calculators that the modules beside this one declare in `CALCULATORS`."""
    found: list[Calculator] = []
    for module in iter_modules(here.__path__):
        if module.name not in ("all", "calculator", "resolve"):
            found += getattr(import_module(f"diagnose.derive.{module.name}"), "CALCULATORS", ())
    return tuple(found)
