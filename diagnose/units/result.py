"""What reading a typed quantity can end in: a value, a question back, or a refusal with what would do."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Value:
    """A quantity that was understood; `si` and `to_si` are rounded to six significant digits.

    A mix ratio is stored as parts per 100 of the first thing, a percentage as a fraction, turning in rad/s.
    """

    dimension: str
    number: float
    unit: str
    si: float
    to_number: float | None = None
    to_si: float | None = None
    """Upper end, when a range was typed."""
    about: bool = False
    basis: str | None = None
    """For a pressure, `gauge` or `absolute` when that was said or follows from the unit."""
    vacuum: bool = False
    """The reading counts down from the pressure of the air around, as a vacuum gauge does."""
    typed: str = ""


@dataclass(frozen=True)
class Ask:
    """What was typed can be read in several ways, or is unusual; one candidate means yes or no."""

    question: str
    candidates: tuple[Value, ...]
    why: str
    """`unit`, `word`, `comma`, `direction` or `unusual`."""


@dataclass(frozen=True)
class AskMany:
    """The same for a list of readings: each candidate is a whole list."""

    question: str
    candidates: tuple[tuple[Value, ...], ...]
    why: str


@dataclass(frozen=True)
class Reject:
    """What was typed cannot be used, and what would do."""

    reason: str


class Refused(Exception):
    """Ends the reading of a text from any depth; never leaves this package."""

    def __init__(self, reason: str) -> None:
        self.reason = reason
        super().__init__(reason)
