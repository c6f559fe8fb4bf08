"""What the facts say where a rule looks: the value, or None when it is not known."""

from __future__ import annotations

from collections.abc import Mapping
from math import isfinite

from diagnose.engine.comparison import SIDES, difference, ratio
from diagnose.engine.demand import Look
from diagnose.errors import EngineError
from diagnose.model.condition import Side

Value = float | str | tuple[float, ...]


def seen(look: Look, facts: Mapping[str, Value], windows: Mapping[str, Side]) -> float | str | None:
    """Return the value at a look; None when it is not known."""
    if look.kind == "side":
        return _side(look.fact, windows)
    if look.kind == "answer":
        return _answer(look.fact, facts)
    value = _number(look.fact, facts)
    if look.kind == "number" or value is None:
        return value
    other = _number(look.other, facts)
    if other is None:
        return None
    return ratio(value, other) if look.kind == "ratio" else difference(value, other)


def _side(name: str, windows: Mapping[str, Side]) -> Side | None:
    if name not in windows:
        return None
    side = windows[name]
    if side not in SIDES:
        raise EngineError(
            f"{side!r} is not a side of a window.",
            where=f"fact {name!r}",
            next_step="Say below, inside or above.",
        )
    return side


def _answer(name: str, facts: Mapping[str, Value]) -> str | None:
    value = facts.get(name, ())
    if isinstance(value, str):
        return value
    if isinstance(value, tuple):  # unknown, or a list of readings
        return None
    raise EngineError(
        f"the rules expect an answer and got {value!r}.",
        where=f"fact {name!r}",
        next_step="Give it in words.",
    )


def _number(name: str, facts: Mapping[str, Value]) -> float | None:
    value = facts.get(name, ())
    if isinstance(value, tuple):  # unknown, or a list of readings
        return None
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not isfinite(value):
        raise EngineError(
            f"the rules expect a number and got {value!r}.",
            where=f"fact {name!r}",
            next_step="Record a plain number, or leave it out.",
        )
    return float(value)
