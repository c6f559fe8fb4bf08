"""Lesson sheets hold what a class needs, answers behind a page break, and nothing invented."""

from __future__ import annotations

import pytest

from diagnose.consult import Consultant
from diagnose.errors import BadInput
from diagnose.model.case import Recorded
from diagnose.model.vocabulary import STAGES
from diagnose.report.lesson import NEW_PAGE, sheet_lines
from diagnose.rulebase.cases import fact_value
from diagnose.teach.sheet import sheet

DEFECTS = ("mold.soft-core", "mold.visible-seam", "wax.flash", "tree.part-falls-off", "casting.shrink-porosity")


@pytest.mark.parametrize("name", DEFECTS)
def test_a_defect_sheet_covers_looks_causes_tests_corrections_and_cautions(of: Consultant, name: str) -> None:
    made = sheet(of, name)
    titles = " | ".join(s.title for s in made.sections)
    defect = of.base.defect(name)

    for part in ("What it looks like", "How it comes about", "Signs:", "What to change:", "Cautions"):
        assert part in titles
    assert all(of.base.cause_name(c.cause) in titles for c in defect.candidates)
    assert len(made.tasks) >= 3
    assert all(task.answer for task in made.tasks)


def test_a_worked_number_is_the_one_the_calculator_gives(of: Consultant) -> None:
    made = sheet(of, "mold.soft-core")
    reckoned = [s for s in made.sections if s.title.startswith("Reckoned")]

    (recorded,) = [s for s in made.sections if s.title == "The numbers, worked"]
    typed = dict(point.split(": ", 1) for point in recorded.points)
    known = {n: v.value if isinstance(v := fact_value(of.base, n, text), Recorded) else v for n, text in typed.items()}
    done = of.resolver.run_one("cure schedule", known)
    shown = of.show.value("cure time against need", done.results["cure time against need"])
    assert any(f"cure time against need = {shown}" in s.points for s in reckoned)


@pytest.mark.parametrize("stage", STAGES)
def test_every_stage_has_a_sheet_with_its_words(of: Consultant, stage: str) -> None:
    made = sheet(of, stage)

    assert any(s.title == "Words" and s.points for s in made.sections)


def test_a_cause_sheet_says_where_it_shows(of: Consultant) -> None:
    made = sheet(of, "mold.pack-too-empty")
    (where,) = [s for s in made.sections if s.title == "Where it shows"]

    assert any("seam" in point.casefold() for point in where.points)


def test_answers_stand_on_a_page_of_their_own_and_can_be_left_out(of: Consultant) -> None:
    made = sheet(of, "wax.flash")
    lines = [line.text for line in sheet_lines(made, 80, answers=True)]
    without = [line.text for line in sheet_lines(made, 80, answers=False)]
    at = lines.index(NEW_PAGE)

    assert any(line.startswith("ANSWERS") for line in lines[at:])
    assert lines[:at] == without
    assert not any(line.startswith("ANSWERS") for line in without)


@pytest.mark.parametrize("width", [40, 100])
def test_a_sheet_fits_the_width(of: Consultant, width: int) -> None:
    assert max(len(line.text) for line in sheet_lines(sheet(of, "wax.flash"), width, True)) <= width


def test_an_unknown_name_gets_a_suggestion(of: Consultant) -> None:
    with pytest.raises(BadInput, match=r"mold\.soft-core"):
        sheet(of, "mold.soft-cor")


def test_a_worked_number_is_shown_in_words_and_then_with_its_values(of: Consultant) -> None:
    (reckoned,) = [s for s in sheet(of, "casting.shrink-porosity").sections if s.title.startswith("Reckoned")][:1]
    here = [p for p in reckoned.paragraphs if p.startswith("Here: ")]

    assert here
    assert all(reckoned.paragraphs[reckoned.paragraphs.index(p) - 1].partition(" = ")[1] for p in here)
    assert all(any(ch.isdigit() for ch in p) for p in here)


def test_every_work_that_a_sheet_rests_on_is_written_out(of: Consultant) -> None:
    text = "\n".join(line.text for line in sheet_lines(sheet(of, "mold.soft-core"), 100, True))

    assert [key for key in of.base.sources if key in text] == []
