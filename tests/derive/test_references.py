"""Every calculator is held against something outside the project, or it is said why it cannot be."""

from __future__ import annotations

import pytest

from diagnose.consult import Consultant
from diagnose.derive.all import all_calculators
from tests.bench.references import ROWS, WITHOUT
from tests.bench.row import Row, measure


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.calculator.replace(" ", "-"))
def test_a_calculator_stays_within_its_stated_distance_of_the_reference(of: Consultant, row: Row) -> None:
    found = measure(of, row)

    assert found.numbers > 0
    assert found.worst <= row.bound, f"{found.where} is {found.worst:.1e} off {row.reference}"


def test_every_calculator_has_one_row_or_a_reason_for_having_none() -> None:
    rows = [row.calculator for row in ROWS]

    assert len(rows) == len(set(rows))
    assert not set(rows) & set(WITHOUT)
    assert {*rows, *WITHOUT} == {c.name for c in all_calculators()}
    assert all(len(why) > 10 for why in WITHOUT.values())
