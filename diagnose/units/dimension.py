"""What a unit and a dimension are."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True)
class Unit:
    """A unit as people see it (`symbol`), as pint names it, and every other way people write it.

    `pint` is empty only for parts per hundred, which is a convention and not a measured unit.
    """

    symbol: str
    pint: str
    spellings: tuple[str, ...]
    family: str = ""
    """Which habit it belongs to (metric, us, troy); settles words that several habits share."""
    reading: str = ""
    """For pressures: `vacuum` counts down from the air around, `absolute` counts up from nothing."""


@dataclass(frozen=True)
class Dimension:
    """A kind of quantity: its units, the SI unit it is stored in, and what may be typed for it."""

    name: str
    says: str
    """With its article, as a sentence needs it: `a time`."""
    si: str
    """The stored unit, as pint names it."""
    units: tuple[Unit, ...]
    common: tuple[str, ...]
    """Symbols tried when a bare number does not fit the usual unit, and shown as what would do."""
    examples: str
    signed: bool = False
    chains: tuple[tuple[str, ...], ...] = ()
    """Units that are typed one after the other, big to small: 1 h 15 min."""
    shared: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    """Spellings of several units: which one is meant, by the family of the usual unit."""
