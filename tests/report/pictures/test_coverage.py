"""The picture of the coverage says in words, in a table and by more than colour what it shows; many defects stay readable."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree

import pytest

from diagnose.cli.commands import run
from diagnose.errors import BadInput
from diagnose.model.coverage import CauseCovered, Coverage, DefectCovered
from diagnose.report.coverage import coverage_lines
from diagnose.report.pictures.coverage import ROWS, coverage_picture
from diagnose.report.pictures.files import as_page
from diagnose.report.pictures.panels import Bars, Grid
from tests.rulebase.folders import small_folder


def defect(n: int, *factors: float, found: float = 1.0) -> DefectCovered:
    causes = tuple(
        CauseCovered(cause=f"wax.c{n}-{i}", name=f"Cause {i} of {n}", right_first=found, questions=2.0 + i, factor=f)
        for i, f in enumerate(factors)
    )
    return DefectCovered(
        defect=f"wax.d{n}",
        name=f"Defect {n}",
        rules=9,
        right_first=found,
        questions=2.5,
        worst_factor=min(factors),
        causes=causes,
    )


def covered(*defects: DefectCovered) -> Coverage:
    return Coverage(plays=5, seed=1, defects=defects)


def test_a_few_defects_are_drawn_cause_by_cause_and_many_as_a_grid() -> None:
    few = coverage_picture(covered(defect(1, 20.0, 3.0), defect(2, 50.0, 60.0)))
    assert [type(p) for p in few.panels] == [Bars, Bars]
    assert [b.kind for b in few.panels[0].bars] == ["recorded", "revised"]  # hatched where it is hard to tell apart
    many = coverage_picture(covered(*(defect(n, 20.0, 30.0) for n in range(5))))
    assert [type(p) for p in many.panels] == [Grid]


def test_the_grid_begins_with_the_weakest_and_marks_it_without_colour() -> None:
    picture = coverage_picture(
        covered(*(defect(n, 40.0, 30.0) for n in range(4)), defect(9, 50.0, 2.0, 90.0), defect(8, 35.0, found=0.6))
    )
    (grid,) = picture.panels
    assert isinstance(grid, Grid)
    name, cells = grid.rows[0]
    assert name == "Defect 9"
    assert [c.words for c in cells] == [("3.0", "x2"), ("2.0", "x50"), ("4.0", "x90")]
    assert [c.weak for c in cells] == [True, False, False]
    missed = dict(grid.rows)["Defect 8"][0]
    assert missed.words[0] == "2.0!"
    assert missed.weak
    assert "1 cause not told from another by a factor of 8" in picture.alt
    assert "1 cause found first in fewer than 80%" in picture.alt
    assert "Weakest: Defect 9" in picture.alt


def test_more_defects_than_can_be_read_are_cut_to_the_weakest_and_it_says_so() -> None:
    defects = [defect(n, 10.0 + n, 200.0) for n in range(ROWS + 6)]
    picture = coverage_picture(covered(*reversed(defects)))
    (grid,) = picture.panels
    assert isinstance(grid, Grid)
    assert [name for name, _ in grid.rows] == [f"Defect {n}" for n in range(ROWS)]
    assert f"{ROWS} weakest of {ROWS + 6}" in picture.alt
    assert any(f"{ROWS} weakest of {ROWS + 6}" in line for line in grid.legend)
    assert len(picture.rows) == 2 * (ROWS + 6), "the table has all"


def test_a_lone_cause_has_no_rival() -> None:
    alone = DefectCovered(
        defect="wax.x", name="X", rules=1, right_first=1.0, questions=0.0,
        causes=(CauseCovered(cause="wax.c", name="C", right_first=1.0, questions=0.0),),
    )  # fmt: skip
    picture = coverage_picture(covered(*[alone] * 5))
    assert picture.rows[0] == ("X", "C", "100%", "0.0", "-", "-", "")
    assert picture.svg().startswith("<svg")


@pytest.mark.parametrize("count", [2, 12])
def test_the_page_has_the_picture_its_words_and_all_of_it_as_a_table(count: int) -> None:
    picture = coverage_picture(covered(*(defect(n, 20.0, 3.0) for n in range(count))))
    page = as_page(picture)
    assert picture.alt in page
    assert page.count("<tr>") == 1 + 2 * count
    tree = ElementTree.fromstring(picture.svg())
    assert any("desc" in e.tag and e.text == picture.alt for e in tree.iter())
    for width in (40, 80):
        assert max(map(len, picture.characters(width))) <= width


@pytest.mark.parametrize("width", [40, 80])
def test_the_table_fits_the_screen(width: int) -> None:
    long = DefectCovered(
        defect="investment.coarse-grained-throughout", name="Grainy", rules=120, right_first=0.955, questions=12.34,
        worst_factor=424.4, causes=defect(1, 3.0, 4.0).causes,
    )  # fmt: skip
    for defects in ([long], [long] * 9):
        lines = [line.text for line in coverage_lines(covered(*defects), width)]
        assert max(map(len, lines)) <= width
        assert any("424" in line for line in lines)


def test_the_command_draws_it_and_refuses_an_unknown_ending_before_playing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    rules = str(small_folder(tmp_path))
    file = tmp_path / "covered.svg"
    assert run(["--rules", rules, "rules", "coverage", "--plays", "1", "--plot", str(file)]) == 0
    assert f"Picture written to {file}." in capsys.readouterr().out
    assert file.read_text().startswith("<svg")
    monkeypatch.setattr("diagnose.cli.simulate.simulate", lambda *_: pytest.fail("it was played"))
    with pytest.raises(BadInput, match="not known"):
        run(["--rules", rules, "rules", "coverage", "--plot", str(tmp_path / "covered.gif")])
