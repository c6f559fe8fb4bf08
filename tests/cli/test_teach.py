"""Teaching from the command line: sheets as text and page, shipped exercises, the shop's own cases, results of a class."""

from __future__ import annotations

import csv
import io
import unicodedata
from pathlib import Path

import pytest

from diagnose.cli.commands import run
from diagnose.consult import Consultant
from diagnose.errors import BadInput
from diagnose.library import Library
from diagnose.model.case import Trial
from diagnose.rulebase.cases import read_case
from tests.report.test_hostile_text import COMMANDS, HOSTILE

CASES = Path(__file__).resolve().parent.parent.parent / "cases"


@pytest.fixture(autouse=True)
def _loaded_once(of: Consultant, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("diagnose.cli.taught.consultant", lambda rules, system: of)
    monkeypatch.setattr("diagnose.cli.setup.consultant", lambda rules, system: of)
    monkeypatch.setattr("diagnose.cli.shop.rules_base", lambda given: of.base)


class Typed(io.StringIO):
    """Lines that are typed; they stay open when they were read, as a terminal does."""

    def close(self) -> None:
        self.seek(0)


@pytest.fixture
def typed(monkeypatch: pytest.MonkeyPatch) -> io.StringIO:
    lines = Typed("cause = 1\nhand in\n")
    monkeypatch.setattr("sys.stdin", lines)
    return lines


@pytest.fixture
def library(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> str:
    named = str(tmp_path / "library.db")
    files = [str(p) for p in sorted(CASES.glob("*.yaml"))]
    assert run(["--library", named, "library", "import", *files]) == 0
    capsys.readouterr()
    return named


def test_a_sheet_is_written_as_a_page_and_never_over_a_file_of_someone_else(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out, other = tmp_path / "sheet.html", tmp_path / "letter.html"
    other.write_text("a letter")

    assert run(["teach", "sheet", "wax.flash", "--html", str(out)]) == 0
    assert f"{out}: written" in capsys.readouterr().out.replace("\n", "")
    assert "Lesson sheet" in out.read_text(encoding="utf-8")
    with pytest.raises(BadInput, match="not written here"):
        run(["teach", "sheet", "wax.flash", "--html", str(other)])
    assert other.read_text() == "a letter"


def test_the_list_can_be_of_one_level(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["teach", "quiz", "--list", "--level", "3"]) == 0
    lines = capsys.readouterr().out.splitlines()

    assert "invented" in lines[0]
    assert len(lines) == 11
    assert all("level 3" in line for line in lines[1:])
    assert lines[1].split()[0] == "21"


def test_a_quiz_on_own_cases_is_the_same_by_seed(
    library: str, typed: io.StringIO, capsys: pytest.CaptureFixture[str]
) -> None:
    shown = []
    for seed in ("4", "4", "5"):
        typed.seek(0)
        assert run(["--library", library, "teach", "quiz", "--own-cases", "--level", "2", "--seed", seed]) == 0
        said = capsys.readouterr()
        shown.append(said.err + said.out)

    assert shown[0] == shown[1]
    assert shown[0] != shown[2]
    assert "this shop's own" in shown[0]
    opening, _, marking = shown[0].partition("OF 100 POINTS")
    assert "It was case" in marking
    assert "It was case" not in opening


def test_own_cases_are_refused_plainly_where_there_are_none(library: str, tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="there is no case library yet"):
        run(["teach", "quiz", "--own-cases"])
    with pytest.raises(BadInput, match="the library has no confirmed case"):
        run(["--library", str(tmp_path / "empty.db"), "teach", "quiz", "--own-cases", "--level", "1"])
    with pytest.raises(BadInput, match="names a shipped exercise"):
        run(["--library", library, "teach", "quiz", "7", "--own-cases"])
    with pytest.raises(BadInput, match="unknown defect"):
        run(["--library", library, "teach", "quiz", "--own-cases", "--defect", "wax.flsh"])


@pytest.mark.parametrize("what", [k for k in HOSTILE if k != "nothing"])
def test_a_students_name_stays_text_in_the_results_of_the_class(
    tmp_path: Path, typed: io.StringIO, capsys: pytest.CaptureFixture[str], what: str
) -> None:
    results = tmp_path / "class.csv"
    for _ in range(2):
        typed.seek(0)
        assert run(["teach", "quiz", "1", "--student", HOSTILE[what], "--results", str(results)]) == 0
    with results.open(newline="", encoding="utf-8") as file:
        rows = list(csv.reader(file))

    assert rows[0][1] == "student"
    assert len(rows) == 3
    assert rows[1] == rows[2]
    assert not rows[1][1].startswith(("=", "+", "-", "@"))
    assert not [ch for ch in rows[1][1] if not ch.isprintable()]
    capsys.readouterr()


def test_marks_go_into_a_students_file_and_the_classs(
    tmp_path: Path, typed: io.StringIO, capsys: pytest.CaptureFixture[str]
) -> None:
    own, everyone = tmp_path / "ada.csv", tmp_path / "class.csv"
    assert run(["teach", "quiz", "1", "--student", "Ada", "--results", str(own), "--results", str(everyone)]) == 0
    capsys.readouterr()

    assert own.read_bytes() == everyone.read_bytes()


@pytest.mark.parametrize("where", ["folder", "no folder", "a letter"])
def test_a_place_for_marks_that_will_not_do_is_said_before_the_exercise(
    tmp_path: Path, typed: io.StringIO, capsys: pytest.CaptureFixture[str], where: str
) -> None:
    (tmp_path / "letter.csv").write_text("Dear class,\n")
    places = {"folder": tmp_path, "no folder": tmp_path / "x" / "y.csv", "a letter": tmp_path / "letter.csv"}

    with pytest.raises(BadInput, match=r"folder|other than marks"):
        run(["teach", "quiz", "1", "--results", str(places[where])])
    assert capsys.readouterr().err == ""
    assert (tmp_path / "letter.csv").read_text() == "Dear class,\n"


@pytest.mark.parametrize("what", [k for k in HOSTILE if k not in ("nothing", "long")])
def test_what_a_shop_typed_into_its_case_is_shown_and_never_obeyed(
    of: Consultant, tmp_path: Path, typed: io.StringIO, capsys: pytest.CaptureFixture[str], what: str
) -> None:
    text = HOSTILE[what]
    case = read_case(CASES / "25-seal-ring-spongy.yaml", of.base)
    case = case.model_copy(update={"part": text, "notes": text, "trials": (Trial(changed=text, outcome=text),)})
    named = tmp_path / "hostile.db"
    Library(named).save(case)

    assert run(["--library", str(named), "teach", "quiz", "--own-cases", "--level", "2"]) == 0
    said = capsys.readouterr()
    shown = said.err + said.out
    assert "It was case" in shown
    assert not [ch for ch in shown if unicodedata.category(ch) in COMMANDS and ch != "\n"]


def test_marks_can_be_added_after_a_spreadsheet_has_written_the_file_anew(
    tmp_path: Path, typed: io.StringIO, capsys: pytest.CaptureFixture[str]
) -> None:
    results = tmp_path / "class.csv"
    assert run(["teach", "quiz", "1", "--results", str(results)]) == 0
    rows = list(csv.reader(results.read_text(encoding="utf-8").splitlines()))
    with results.open("w", newline="", encoding="utf-8-sig") as file:  # a byte order mark, and quotes round everything
        csv.writer(file, quoting=csv.QUOTE_ALL).writerows(rows)

    assert run(["teach", "quiz", "1", "--results", str(results)]) == 0
    capsys.readouterr()
    assert len(list(csv.reader(results.read_text(encoding="utf-8-sig").splitlines()))) == 3
