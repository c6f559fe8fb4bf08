"""What a row of the table of references is, and how its error is measured."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagnose.derive.calculator import Facts, Value

if TYPE_CHECKING:
    from diagnose.consult import Consultant

Told = Mapping[str, Value]
Expected = Mapping[str, float]
COLD = 293.15  # [K]; errors of temperatures count against the rise above this, not against kelvins from nothing


@dataclass(frozen=True)
class Row:
    """A calculator, the outside it is held against, the cases, and the worst relative error that is allowed.

    `expects` works out the same results from the calculator's inputs, by another way than the calculator.
    """

    calculator: str
    reference: str
    bound: float
    cases: Sequence[Told]
    expects: Callable[[Facts], Expected]


@dataclass(frozen=True)
class Measured:
    """A row worked out: how many numbers were compared, the worst relative error and where it was."""

    row: Row
    numbers: int
    worst: float
    where: str


def measure(of: Consultant, row: Row) -> Measured:
    """Run a calculator on its cases and compare every number that the reference gives."""
    numbers, worst, where = 0, 0.0, ""
    for told in row.cases:
        done = of.resolver.run_one(row.calculator, told)
        for name, expected in row.expects(done.inputs).items():
            found = done.results[name]
            assert isinstance(found, float), f"{name} is no number"
            error = _error(found, expected, of.show.unit(name)[0])
            numbers += 1
            if error > worst:
                worst, where = error, name
    return Measured(row, numbers, worst, where)


def _error(found: float, expected: float, dimension: str) -> float:
    if dimension == "temperature":
        return abs(found - expected) / max(abs(expected - COLD), 1.0)
    return abs(found - expected) / abs(expected) if expected else abs(found)
