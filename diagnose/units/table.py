"""The dimensions by name, and how a spelling is found in the closed lists."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache

from diagnose.errors import BadInput
from diagnose.units import everyday, physical
from diagnose.units.dimension import Dimension, Unit

_DROPPED = re.compile(r"[\s.·⋅∙*^()]+")
_PER = re.compile(r"\bper\b")


def key(text: str) -> str:
    """Return a spelling with everything taken out that people vary: case, spaces, dots, `per`."""
    return _DROPPED.sub("", _PER.sub("/", text.casefold()).replace("µ", "u").replace("μ", "u"))


@cache
def dimensions() -> Mapping[str, Dimension]:
    """Return every dimension by name, everyday ones first."""
    return {one.name: one for one in (*everyday.DIMENSIONS, *physical.DIMENSIONS)}


def dimension_named(name: str) -> Dimension:
    """Return a dimension; an unknown name is an error that suggests the nearest."""
    try:
        return dimensions()[name]
    except KeyError:
        from difflib import get_close_matches

        near = get_close_matches(name, dimensions(), 1)
        hint = f'Did you mean "{near[0]}"?' if near else "Known: " + ", ".join(dimensions()) + "."
        raise BadInput(f'"{name}" is not a dimension.', next_step=hint) from None


def _written(unit: Unit) -> Iterator[str]:
    yield unit.symbol
    yield from unit.spellings


@cache
def _index(dimension: str) -> Mapping[str, tuple[Unit, ...]]:
    found: dict[str, tuple[Unit, ...]] = {}
    for unit in dimensions()[dimension].units:
        for spelling in dict.fromkeys(key(written) for written in _written(unit)):
            found[spelling] = (*found.get(spelling, ()), unit)
    return found


def spelled(text: str, dimension: Dimension) -> tuple[Unit, ...]:
    """Return the units of a dimension that a text can mean: none, one, or several."""
    return _index(dimension.name).get(key(text), ())


def settle(units: tuple[Unit, ...], text: str, dimension: Dimension, usual: Unit | None) -> tuple[Unit, ...]:
    """Narrow a spelling that several units share by the habit of the usual unit."""
    if len(units) > 1 and usual is not None:
        meant = dimension.shared.get(key(text), {}).get(usual.family)
        return tuple(unit for unit in units if unit.symbol == meant) or units
    return units


def elsewhere(text: str) -> Dimension | None:
    """Return the first dimension that knows a spelling, to say what it was instead."""
    return next((one for one in dimensions().values() if key(text) and spelled(text, one)), None)


def nearest(text: str, dimension: Dimension) -> str | None:
    """Return the symbol of the unit that a mistyped one was perhaps meant to be."""
    from difflib import get_close_matches  # only needed when something went wrong

    written = {key(one): unit.symbol for unit in dimension.units for one in _written(unit) if len(key(one)) > 2}
    near = get_close_matches(key(text), written, 1, cutoff=0.75)
    return written[near[0]] if near else None


@cache
def unit_named(text: str, dimension: str) -> Unit:
    """Return the unit a rule or a program names; the name must mean exactly one unit."""
    kind = dimension_named(dimension)
    for unit in kind.units:
        if unit.symbol == text:
            return unit
    found = spelled(text, kind)
    if len(found) == 1:
        return found[0]
    if found:
        raise BadInput(f'"{text}" can be {" or ".join(unit.symbol for unit in found)}.', next_step="Write one of them.")
    near = nearest(text, kind)
    known = ", ".join(unit.symbol for unit in kind.units)
    hint = f'Did you mean "{near}"?' if near else f"Known: {known}."
    raise BadInput(f'"{text}" is not a unit of {dimension}.', next_step=hint)
