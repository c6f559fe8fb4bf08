"""Two cases side by side on screens of any width."""

from __future__ import annotations

import pytest

from diagnose.model.comparison import FactPair, GoodRun, SideBySide
from diagnose.report.side_by_side import good_run_lines, side_by_side_lines

LONG = FactPair(name="squeeze-out", kind="observation", one="one side only, mostly at the sprue", other="")
SHORT = FactPair(name="cure time", kind="setting", one="45 min", other="1 h")


def both(*facts: FactPair) -> SideBySide:
    return SideBySide(
        parts=("fern brooch", ""), defects=("Seam", "Seam"), verdicts=("One cause.", "One cause."),
        differ=facts, only_in_one=(LONG,), same=(), causes=(),
    )  # fmt: skip


@pytest.mark.parametrize("width", [30, 40, 59, 60, 80])
def test_no_line_is_wider_than_the_screen_and_both_values_stand_there(width: int) -> None:
    lines = [line.text for line in side_by_side_lines(both(SHORT, LONG), width)]
    assert max(map(len, lines)) <= width
    text = " ".join(" ".join(lines).split())
    assert "45 min" in text
    assert "1 h" in text
    assert "not told" in text


def test_from_sixty_columns_on_the_two_cases_stand_in_columns() -> None:
    line = next(x.text for x in side_by_side_lines(both(SHORT), 60) if x.text.startswith("cure time"))
    assert line.split() == ["cure", "time", "45", "min", "1", "h"]


def test_a_good_run_that_differs_in_nothing_told_sends_one_to_what_was_not_written_down() -> None:
    run = GoodRun(part="", differ=(), only_in_one=(), same=(SHORT,), against=(), source="common practice")
    text = " ".join(line.text for line in good_run_lines(run, 60))
    assert "not written down" in text
    assert "clears nothing" in text
