"""Every recorded case of the demo shop leads to its confirmed cause."""

from __future__ import annotations

from pathlib import Path

import pytest

from diagnose.consult import Consultant
from diagnose.rulebase.cases import case_from_text, case_to_text, read_case

FOLDER = Path(__file__).resolve().parent.parent.parent / "cases"
CASES = sorted(FOLDER.glob("*.yaml"))


def test_there_are_enough_cases_and_they_are_marked_as_invented() -> None:
    assert len(CASES) >= 24
    assert "invented" in (FOLDER / "README.md").read_text().splitlines()[2].lower()


@pytest.mark.parametrize("path", CASES, ids=lambda p: p.stem)
def test_a_case_leads_to_its_confirmed_cause(path: Path, of: Consultant) -> None:
    case = read_case(path, of.base)
    assert case.confirmed, "a demo case says what it turned out to be"
    found = of.diagnose(case)
    first = found.causes[0]
    assert first.id in case.confirmed, [(c.id, round(c.probability, 3)) for c in found.causes[:4]]
    assert first.probability >= 0.5
    assert found.cautions
    assert found.corrections or first.hand_over


@pytest.mark.parametrize("path", CASES, ids=lambda p: p.stem)
def test_a_case_is_written_as_it_was_read(path: Path, of: Consultant) -> None:
    case = read_case(path, of.base)
    assert case_from_text(case_to_text(case, of.base.words.settings), "again", of.base) == case
