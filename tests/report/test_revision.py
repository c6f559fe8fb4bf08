"""Revised settings as a person reads them, on a wide and on a narrow screen."""

from __future__ import annotations

import pytest

from diagnose.consult import Consultant
from diagnose.report.revision import revision_lines
from diagnose.report.screen_lines import Page
from diagnose.rulebase.cases import case_from_text

THICK = """
defect: mold.soft-core
materials: {rubber: natural rubber}
settings: {cure time: 40 min, platen temperature: 153 C, rubber thickness: 38 mm}
"""
SPUN = """
defect: casting.incomplete-fill
materials: {metal: sterling}
settings: {spin speed: 60 rpm, arm radius: 20 cm, metal surface radius: 15 cm, thinnest section: 0.3 mm}
observations: {casting method: spin casting}
"""
OVERHEATED = """
defect: casting.rough-surface
materials: {metal: sterling, investment: gypsum investment}
settings: {burnout top temperature: 790 C, burnout top hold: 2 h, flask diameter: 100 mm}
"""


def text(of: Consultant, case: str, width: int = 80, everything: bool = False) -> str:
    page = Page(width)
    revision_lines(page, of.diagnose(case_from_text(case, "case", of.base)), everything)
    assert max(len(line.text) for line in page.lines) <= width
    return " ".join(" ".join(line.text for line in page.lines).split())


@pytest.mark.parametrize("width", [40, 80])
def test_each_move_is_shown_with_its_aim_its_margin_and_its_range(of: Consultant, width: int) -> None:
    shown = text(of, THICK, width)
    assert "moves 2 settings" in shown
    assert "platen temperature: 307 °F -> " in shown
    assert "cure time: 40 min -> " in shown
    assert "why: the needed cure time" in shown
    assert "accused below 0.9" in shown
    assert "range from what had to be assumed" in shown
    assert "To be surer:" in shown


def test_what_was_dropped_is_shown_only_on_demand(of: Consultant) -> None:
    assert "CONSIDERED AND DROPPED" not in text(of, THICK)
    everything = text(of, THICK, everything=True)
    assert "CONSIDERED AND DROPPED" in everything
    assert "only together with cure time" in everything
    assert "source: " in everything


def test_what_stops_every_move_is_said_where_the_numbers_would_stand(of: Consultant) -> None:
    shown = text(of, SPUN)
    assert "What stops it: spin speed is not moved further: the arm rating" in shown


def test_a_setting_that_is_not_safe_stands_above_everything(of: Consultant) -> None:
    shown = text(of, OVERHEATED)
    # The plaster breaks down and gives off sulfur dioxide (common practice of the trade: not above 750 C).
    assert shown.startswith("NOT SAFE AS RECORDED - burnout top temperature 1454 °F is past its safety limit")
    assert "sulfur" in shown.split("REVISED SETTINGS")[0]
