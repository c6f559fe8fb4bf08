"""Gaps, rows and order on a tree against plane geometry, and the tree weighed in a worked example."""

from __future__ import annotations

from math import pi, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import spearmanr

from diagnose.calc import tree_layout
from diagnose.calc.charge import metal_for_wax
from diagnose.errors import OutOfRange


def test_the_worked_tree_of_twelve_rings() -> None:
    # 12 x 1.8 g and a trunk of 4.0 g at 0.95 g/cm3 against 10.4 g/cm3: 280.3 g; the habit of ten times the wax
    # pours 8.7 % less than that before any button
    wax = tree_layout.tree_wax(12, 1.8, 4.0)
    assert wax == pytest.approx(25.6)
    metal = metal_for_wax(wax, 0.95, 10.4)
    assert metal == pytest.approx(280.3, abs=0.05)
    assert 1 - 10 * wax / metal == pytest.approx(0.087, abs=5e-4)


@pytest.mark.parametrize("sides", range(2, 30))
def test_as_many_parts_as_a_polygon_has_corners(sides: int) -> None:
    chord = sin(pi / sides)
    assert tree_layout.parts_in_row(1.0, chord, 0.0) == sides
    assert tree_layout.parts_in_row(1.0, chord * 1.001, 0.0) == max(1, sides - 1)


@given(st.floats(0.01, 0.2), st.floats(0.001, 0.1), st.floats(0, 0.02))
def test_neighbours_in_a_full_row_keep_the_gap_and_one_more_would_not(circle: float, width: float, gap: float) -> None:
    count = tree_layout.parts_in_row(circle, width, gap)
    if count > 1:
        assert circle * sin(pi / count) >= (width + gap) * (1 - 1e-9)
    assert count == 1 or circle * sin(pi / (count + 1)) < (width + gap) * (1 + 1e-9)


@given(st.floats(0.01, 0.3), st.floats(0.002, 0.05), st.floats(0, 0.02))
def test_rows_fit_and_one_more_does_not(length: float, height: float, gap: float) -> None:
    rows = tree_layout.rows_on_trunk(length, height, gap)
    assert rows == 0 or rows * height + (rows - 1) * gap <= length * (1 + 1e-9)
    assert (rows + 1) * height + rows * gap > length * (1 - 1e-9)


@given(st.lists(st.floats(0.0005, 0.01), min_size=2, max_size=8))
def test_order_follows_the_rank_correlation(rows: list[float]) -> None:
    order = tree_layout.order_by_thickness(rows)
    if max(rows) <= 1.1 * min(rows):
        assert order == "even"
        return
    rank = float(spearmanr(range(len(rows)), rows).statistic)
    if abs(abs(rank) - 0.5) < 1e-6 or len({round(r, 9) for r in rows}) < len(set(rows)):
        return
    assert order == ("mixed" if abs(rank) < 0.5 else "heavy at the tip" if rank > 0 else "heavy near the button")


def test_turning_a_tree_over_turns_the_order() -> None:
    rows = [0.004, 0.003, 0.002]
    assert tree_layout.order_by_thickness(rows) == "heavy near the button"
    assert tree_layout.order_by_thickness(rows[::-1]) == "heavy at the tip"
    assert tree_layout.order_by_thickness([0.004, 0.001, 0.001, 0.004]) == "mixed"


def test_gaps_add_up_to_the_flask() -> None:
    assert 2 * tree_layout.gap_to_wall(0.0762, 0.050) + 0.050 == pytest.approx(0.0762)
    assert tree_layout.gap_over_tip(0.1016, 0.080, 0.010) + 0.090 == pytest.approx(0.1016)


@pytest.mark.parametrize(
    "nonsense",
    [
        lambda: tree_layout.gap_to_wall(0.05, 0.05),
        lambda: tree_layout.gap_over_tip(0.1, 0.09, 0.02),
        lambda: tree_layout.parts_in_row(0.05, 0.0, 0.0),
        lambda: tree_layout.rows_on_trunk(0.05, 0.01, -0.01),
        lambda: tree_layout.tree_wax(0, 0.001, 0.001),
        lambda: tree_layout.order_by_thickness([0.001]),
        lambda: tree_layout.order_by_thickness([0.001, -0.001]),
    ],
)
def test_trees_that_cannot_be_are_refused(nonsense) -> None:
    with pytest.raises(OutOfRange):
        nonsense()
