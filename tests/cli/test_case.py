"""`diagnose case` with its reasons, a good run, two cases side by side: what a script and a person get."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from diagnose.cli.commands import run
from diagnose.errors import BadInput
from diagnose.model.comparison import ComparedDiagnosis, SideBySide
from diagnose.model.explanation import ExplainedDiagnosis
from diagnose.report.page import page, write_page

CASES = Path(__file__).resolve().parent.parent.parent / "cases"
RING = str(CASES / "25-seal-ring-spongy.yaml")
FINS = str(CASES / "16-daisy-wax-fins.yaml")
BLOCK = str(CASES / "14-block-soft.yaml")


pytestmark = pytest.mark.usefixtures("loaded_once")


@pytest.fixture
def good(tmp_path: Path) -> str:
    file = tmp_path / "good.yaml"
    file.write_text("part: sound ring\nmaterials:\n  metal: sterling\nsettings:\n  gate diameter: 5 mm\n")
    return str(file)


def test_reasons_come_as_json_that_its_schema_describes(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["case", FINS, "--explain", "--json"]) == 0
    found = ExplainedDiagnosis.model_validate_json(capsys.readouterr().out)
    assert found.explanation.balances[0].cause == found.causes[0].id
    assert run(["schema", "explanation"]) == 0
    schema = json.loads(capsys.readouterr().out)
    assert {"explanation", "causes", "verdict"} <= set(schema["required"])


def test_reasons_read_as_text(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["case", FINS, "--explain"]) == 0
    text = capsys.readouterr().out
    for head in ("HOW IT CAME ABOUT", "THE EVIDENCE ON EVERY CAUSE", "TAKE CARE"):
        assert head in text


def test_a_good_run_needs_no_defect_and_is_shown_before_the_diagnosis(
    good: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["case", RING, "--good", good]) == 0
    text = capsys.readouterr().out
    assert text.index("AGAINST THE GOOD RUN") < text.index("WHAT DIFFERS") < text.index("LIKELY CAUSES")
    assert run(["case", RING, "--good", good, "--json"]) == 0
    found = ComparedDiagnosis.model_validate_json(capsys.readouterr().out)
    assert [p.name for p in found.good_run.differ] == ["gate diameter"]


def test_two_cases_without_a_flag_are_still_two_diagnoses(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["case", RING, BLOCK, "--json"]) == 0
    assert len(capsys.readouterr().out.splitlines()) == 2


def test_two_cases_side_by_side(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["case", RING, BLOCK, "--side-by-side", "--json"]) == 0
    found = SideBySide.model_validate_json(capsys.readouterr().out)
    assert len(set(found.defects)) == 2
    assert run(["case", RING, BLOCK, "--side-by-side"]) == 0
    assert "SIDE BY SIDE" in capsys.readouterr().out


@pytest.mark.parametrize("files", [[RING], [RING, BLOCK, RING]])
def test_one_or_three_cases_cannot_stand_side_by_side(files: list[str]) -> None:
    with pytest.raises(BadInput, match=f"{len(files)} case files cannot stand side by side"):
        run(["case", *files, "--side-by-side"])


def test_a_good_run_that_cannot_be_read_is_named(tmp_path: Path) -> None:
    bad = tmp_path / "good.yaml"
    bad.write_text("settings:\n  cure tme: 1 h\n")
    with pytest.raises(BadInput, match=r"good\.yaml:2.*Did you mean 'cure time'"):
        run(["case", BLOCK, "--good", str(bad)])
    with pytest.raises(BadInput, match=r"nothing\.yaml"):
        run(["case", BLOCK, "--good", str(tmp_path / "nothing.yaml")])


def test_a_page_is_written_whole_and_only_over_a_page_of_our_own(
    tmp_path: Path, good: str, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "report.html"
    write_page(page("base.html"), out)
    assert run(["case", RING, "--good", good, "--html", str(out)]) == 0
    assert capsys.readouterr().out == f"{out}: written\n"
    text = out.read_text(encoding="utf-8")
    assert text.startswith("<!doctype html>")
    assert text.rstrip().endswith("</html>")
    assert "Against the good run" in text
    assert [p.name for p in tmp_path.iterdir() if p.name.startswith(".new")] == []


def test_a_file_of_someone_else_is_left_alone(tmp_path: Path) -> None:
    mine = tmp_path / "mine.html"
    mine.write_text("<!doctype html><title>mine</title>")
    with pytest.raises(BadInput, match="was not written here"):
        run(["case", RING, "--html", str(mine)])
    assert mine.read_text() == "<!doctype html><title>mine</title>"


@pytest.mark.parametrize(("out", "message"), [("", "this is a folder"), ("nowhere/report.html", "there is no folder")])
def test_a_place_where_no_page_can_be_is_named(tmp_path: Path, out: str, message: str) -> None:
    with pytest.raises(BadInput, match=message):
        run(["case", RING, "--html", str(tmp_path / out)])


def test_several_cases_do_not_go_on_one_page(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="2 cases do not go on one page"):
        run(["case", RING, BLOCK, "--html", str(tmp_path / "report.html")])
