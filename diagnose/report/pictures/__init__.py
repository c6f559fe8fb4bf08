"""Pictures for those who would rather look than read: each with alt text and a table of the same content.

A calculator names its picture in `drawing`. `picture` makes one from facts, `pictures_of` all that a set of resolved
facts allows; both put recorded and revised settings side by side when they are given both.
"""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from typing import TYPE_CHECKING, cast

from diagnose.errors import BadInput, OutOfRange
from diagnose.report.pictures.picture import Picture

if TYPE_CHECKING:
    from diagnose.consult.show import Shower
    from diagnose.derive.calculator import Facts, Value
    from diagnose.derive.resolve import Resolved

__all__ = ["MAKERS", "Picture", "picture", "pictures_of"]

MAKERS = {
    "cure": "cure.cure_picture",
    "platens": "platens.platen_picture",
    "burnout": "burnout.burnout_picture",
    "freezing order": "freezing.freezing_picture",
    "size chain": "shrinkage.shrinkage_picture",
    "wax cooling": "cooling.wax_picture",
    "flask cooling": "cooling.flask_picture",
    "wax window": "window.wax_window_picture",
    "windows": "window.window_picture",
}
"""Every picture by name, and the function that makes it."""


def picture(name: str, show: Shower, recorded: Facts, revised: Facts | None = None) -> Picture:
    """Return a picture by name; raise BadInput when there is none of that name or the facts do not allow it."""
    if name not in MAKERS:
        raise BadInput(f"there is no picture '{name}'.", next_step=f"There are: {', '.join(MAKERS)}.")
    module, function = MAKERS[name].split(".")
    make = getattr(import_module(f"diagnose.report.pictures.{module}"), function)
    return cast("Callable[[Shower, Facts, Facts | None], Picture]", make)(show, recorded, revised)


def pictures_of(show: Shower, recorded: Resolved, revised: Resolved | None = None) -> dict[str, Picture]:
    """Return by name the pictures of all calculators that have run; revised ones beside them where they ran too."""
    found: dict[str, Picture] = {}
    then = {} if revised is None else _drawn(revised)
    for name, (inputs, facts) in _drawn(recorded).items():
        other = then.get(name)
        try:
            found[name] = picture(name, show, facts, other[1] if other and other[0] != inputs else None)
        except OutOfRange:
            continue  # the curve leaves the range in which its single points could still be computed
    return found


def _drawn(resolved: Resolved) -> dict[str, tuple[dict[str, Value], dict[str, Value]]]:
    """Return, for each picture that can be made, what went into its calculators and all facts for it."""
    found: dict[str, tuple[dict[str, Value], dict[str, Value]]] = {}
    known = {name: value for done in resolved.done.values() for name, value in done.inputs.items()} | resolved.facts
    for done in resolved.done.values():
        name = done.calculator.drawing
        if name:
            inputs, facts = found.setdefault(name, ({}, dict(known)))
            inputs |= done.inputs
            facts |= {**done.inputs, **done.results}
    return found
