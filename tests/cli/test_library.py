"""The library's commands as a person types them; what they do is tested in tests/library."""

from __future__ import annotations

import json
import os
import shutil
import stat
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from diagnose.cli.commands import run
from diagnose.cli.library import HOMES
from diagnose.cli.library.care import PARTS
from diagnose.consult import Consultant
from diagnose.errors import BadInput, StoreError
from diagnose.library.recover import READ
from diagnose.library.store import Library
from diagnose.rulebase.load import RuleBase
from tests.library.test_upgrade import as_form

ROOT = Path(__file__).resolve().parent.parent.parent
SEAM = ROOT / "cases" / "02-acorn-cap-seam.yaml"
BEFORE = "mold.dirty-layers"
"""What the case file says that it was."""
CAUSE = "mold.pack-too-empty"

Do = Callable[..., tuple[int, str]]


@pytest.fixture
def do(
    tmp_path: Path, of: Consultant, base: RuleBase, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> Do:
    """Run a command of MK's library and return its exit code and what it said."""
    monkeypatch.setattr("diagnose.cli.setup.consultant", lambda *given: of)
    monkeypatch.setattr("diagnose.cli.shop.rules_base", lambda given: base)
    monkeypatch.setenv("DIAGNOSE_BY", "MK")

    def command(*words: str, where: str = "shop") -> tuple[int, str]:
        code = run(["library", "--library", str(tmp_path / where), *words])
        said = capsys.readouterr()
        return code, said.out + said.err

    return command


def add(do: Do, where: str = "shop") -> str:
    return do("add", str(SEAM), where=where)[1].split()[-1]


@pytest.mark.parametrize("name", HOMES)
def test_every_command_explains_itself(do: Do, name: str) -> None:
    code, said = do(name, "--help")
    assert code == 0
    assert f"library {name}" in said


def test_the_life_of_a_case(do: Do, of: Consultant) -> None:
    name = add(do)
    code, said = do("trial", name, "--set", "cure-time=75 min", "--result", "better", "--for", "pack-too-empty")
    assert code == 0
    code, said = do("confirm", name, CAUSE, "--cost", "12,50", "--currency", "EUR", "--close")
    assert said.strip() == f"{name}: closed ({CAUSE})"
    shown = do("show", name)[1]
    assert f"MK, for {of.base.cause_name(CAUSE)}): cure time: 1 h -> 75 min: better" in shown
    assert "scrap: 12.50 EUR" in shown
    assert "said then:" in shown
    history = do("show", name, "--history")[1]
    assert [line.split()[1] for line in history.splitlines() if " by MK," in line] == ["add", "trial", "confirm"]
    assert "  trial 1: cure time: 1 h -> 75 min: better" in history
    assert f"  confirmed: {BEFORE} -> {CAUSE}" in history
    assert "  cost: nothing -> 12.50" in history
    assert "Taken back: confirm" in do("undo")[1]
    assert json.loads(do("show", name, "--json")[1])["confirmed"] == [BEFORE]
    assert f"Brought again: confirm of {name}." in do("undo", "--back")[1]
    assert json.loads(do("show", name, "--json")[1])["confirmed"] == [CAUSE]
    assert do("reopen", name)[1].strip() == f"{name}: confirmed ({CAUSE})"


def test_a_trial_is_told_by_its_number_and_its_result_later(do: Do) -> None:
    name = add(do)
    assert do("trial", name, "--changed", "packed proud")[1].strip() == f"{name}: trial 1: packed proud: no result yet"
    said = do("trial", name, "--number", "1", "--result", "better", "--outcome", "a thin line")[1]
    assert said.strip() == f"{name}: trial 1: packed proud: better, a thin line"
    with pytest.raises(BadInput, match="belong to a new one"):
        do("trial", name, "--number", "1", "--changed", "packed prouder", "--result", "cured")
    with pytest.raises(BadInput, match="what came out"):
        do("trial", name, "--number", "1")
    with pytest.raises(BadInput, match="'last tuesday' is no date"):
        do("trial", name, "--changed", "packed proud", "--date", "last tuesday")
    assert "packed prouder" not in do("show", name)[1]


def test_a_cause_of_nothing_but_spaces_is_none(do: Do) -> None:
    with pytest.raises(BadInput, match="what was the cause"):
        do("confirm", add(do), "--none-of-these", "   ")


def test_a_cause_that_is_misspelt_is_suggested_and_nothing_confirmed(do: Do) -> None:
    name = add(do)
    with pytest.raises(BadInput, match=f"Did you mean '{CAUSE}'"):
        do("confirm", name, "mold.pack-too-emtpy")
    assert json.loads(do("show", name, "--json")[1])["confirmed"] == [BEFORE]


def test_a_case_kept_twice_is_noticed(do: Do) -> None:
    name = add(do)
    assert f"is there already as {name}" in do("add", str(SEAM))[1]
    assert "kept as" in do("add", "--again", str(SEAM))[1]


def test_cases_are_found_by_words_and_by_what_they_are(do: Do) -> None:
    name = add(do)
    assert name in do("find", "acorn", "--stage", "mold")[1]
    assert "None that match" in do("find", "bell")[1]
    assert name in do("find", "--defect", "visible seam in the rubber")[1], "the name that the list shows"
    assert name in do("find", "--cause", "The layer faces were touched or dirty")[1]
    (line,) = do("find", "--material", "natural rubber", "--json")[1].splitlines()
    assert json.loads(line)["name"] == name
    with pytest.raises(BadInput, match="Did you mean 'mold'"):
        do("list", "--stage", "molds")


def test_what_goes_out_comes_in_elsewhere(do: Do, tmp_path: Path) -> None:
    name = add(do)
    do("confirm", name, CAUSE)
    for form in ("out.jsonl", "folder"):
        do("export", str(tmp_path / form))
        code, said = do("import", str(tmp_path / form), where=form + " shop")
        assert (code, "1 taken in" in said) == (0, True)
        assert do("show", name, "--json", where=form + " shop") == do("show", name, "--json")
        assert "the same as" in do("import", str(tmp_path / form), where=form + " shop")[1]


def test_a_case_file_holds_one_case_and_a_name_that_tells_no_form_is_refused(do: Do, tmp_path: Path) -> None:
    name = add(do)
    to = tmp_path / "out.yaml"
    do("export", str(to), "acorn")
    assert "1 taken in" in do("import", str(to), where="other")[1]
    assert do("show", name, "--json", where="other") == do("show", name, "--json")
    assert do("export", "-", "--as", "yaml")[1] == to.read_text()
    do("add", "--again", str(SEAM))
    with pytest.raises(BadInput, match="several cases match"):
        do("export", str(to))
    (tmp_path / "notes").write_text("mine")
    for other in ("out.txt", "out.xlsx", "notes"):
        with pytest.raises(BadInput, match=r"End it in \.jsonl, \.csv or \.yaml"):
            do("export", str(tmp_path / other))
    with pytest.raises(BadInput, match="is a file, no folder"):
        do("export", str(tmp_path / "notes"), "--as", "yaml")
    assert (tmp_path / "notes").read_text() == "mine"


def test_an_export_never_takes_the_place_of_what_is_no_file(do: Do, tmp_path: Path) -> None:
    add(do)
    pipe, link, real = tmp_path / "pipe.jsonl", tmp_path / "link.jsonl", tmp_path / "real.jsonl"
    os.mkfifo(pipe)
    with pytest.raises(StoreError, match="it is no file"):
        do("export", str(pipe))
    assert stat.S_ISFIFO(pipe.lstat().st_mode)
    link.symlink_to(real)
    do("export", str(link))
    assert link.is_symlink()
    assert json.loads(real.read_text())["part"] == "acorn cap earring"


def test_a_sheet_is_shown_before_it_is_taken_in_and_its_columns_are_remembered(do: Do, tmp_path: Path) -> None:
    sheet = tmp_path / "scrap.csv"
    sheet.write_text("part;what is wrong;platen temp (F)\nring;mold.visible-seam;307\nbell;mold.voids;\nx;?!;1\n")
    code, said = do("import", str(sheet))
    assert code == 2
    assert "platen temp (F) -> platen temperature in F   (a guess)" in said
    assert "2 would come in" in said
    assert "row 4" in said
    assert "Nothing was taken in" in said
    assert "None yet" in do("list")[1]
    code, said = do("import", str(sheet), "--yes", "--dry-run")
    assert "None yet" in do("list")[1]
    code, said = do("import", str(sheet), "--yes")
    assert (code, "2 taken in" in said) == (2, True)
    code, said = do("import", "--again", str(sheet))
    assert "2 taken in" in said


def test_a_folder_gives_all_its_case_files_and_a_file_that_is_not_there_stops_no_other(do: Do, tmp_path: Path) -> None:
    folder = tmp_path / "from the other bench"
    folder.mkdir()
    code, said = do("import", str(tmp_path / "nope.jsonl"), str(folder), str(SEAM))
    assert (code, "nope.jsonl: cannot be read" in said, "holds no case files" in said) == (2, True, True)
    assert "1 taken in" in said
    (folder / "a.yml").write_text("part: ring\ndefect: mold.soft-core\n")
    (folder / "b.yaml").write_text("part: bell\ndefect: mold.soft-coer\n")
    code, said = do("import", str(folder))
    assert (code, "1 taken in" in said, said.count("b.yaml")) == (2, True, 1)


def test_every_row_that_cannot_be_used_is_named_where_it_is_kept_in_a_file(do: Do, tmp_path: Path) -> None:
    sheet = tmp_path / "scrap.csv"
    sheet.write_text("part,cure time (min)\n" + "".join(f"p{i},soft\n" for i in range(60)))
    code, said = do("import", str(sheet), "--yes")
    assert code == 2
    assert [f"row {n}: " in said for n in range(2, 62)] == [True] * 60


def test_what_is_missing_in_a_sheet_and_what_is_remembered_of_it_is_said(do: Do, tmp_path: Path) -> None:
    sheet = tmp_path / "scrap.csv"
    sheet.write_text("part;Dicke\nring;1,5\n")
    said = do("import", str(sheet), "--dry-run")[1]
    assert "No column says what is wrong: --map 'TITLE=defect'" in said
    assert "1 column left out; --map" in said
    options = ("--map", "Dicke=rubber thickness", "--unit", "Dicke=in", "--every", "defect=mold.voids")
    do("import", str(sheet), *options, "--decimal-comma", "--dates", "dmy", "--yes")
    said = do("import", str(sheet), "--dry-run")[1]
    for part in ("Dicke -> rubber thickness in in", "in every row: defect = mold.voids", "1,5 is", "day, month, year"):
        assert part in said
    assert "1,5 is" not in do("import", str(sheet), "--decimal-point", "--dry-run")[1]


def test_a_copy_is_taken_and_put_back(do: Do, tmp_path: Path) -> None:
    name = add(do)
    do("backup", str(tmp_path / "copy.db"))
    do("forget", name, "--for-good")
    said = do("restore", str(tmp_path / "copy.db"))[1]
    assert "1 cases" in said
    assert "The state until now is in" in said
    assert name in do("list")[1]
    assert "cases: 1 saved" in do("recover", "--to", str(tmp_path / "new.db"))[1]
    assert name in do("list", where="new.db")[1]
    where = do("where")[1]
    assert "cases: 1" in where
    assert "beside it" in where


@pytest.mark.parametrize("to", ["out.jsonl", "out.csv", "folder"])
def test_an_export_shows_how_far_it_is(do: Do, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, to: str) -> None:
    add(do)
    do("add", str(SEAM), "--again")
    shown: list[int | None] = []

    @contextmanager
    def progress(title: str, total: int | None) -> Iterator[Callable[[int], None]]:
        shown.append(total)
        yield shown.append

    monkeypatch.setattr("diagnose.cli.progress.progress", progress)
    assert "2 cases written" in do("export", str(tmp_path / to))[1]
    total, *steps = shown
    assert total is not None
    assert sum(step or 0 for step in steps) == total
    assert total >= 2


def test_what_was_recovered_is_said_in_words(do: Do, tmp_path: Path) -> None:
    add(do)
    file, new = tmp_path / "shop" / "library.db", tmp_path / "new.db"
    code, said = do("recover", str(file), "--to", str(new))
    assert code == 0
    assert "cases: 1 saved" in said
    assert "rows" not in said
    assert set(PARTS) == {table.name for table in READ}
    code, said = do("list", where="new.db")
    assert "Visible seam" in said


def test_an_upgrade_is_said_once(do: Do, tmp_path: Path) -> None:
    add(do)
    library = Library(tmp_path / "shop")
    as_form(library, 2)
    library.close()
    _, said = do("list")
    assert "brought to today's form" in said
    assert str(tmp_path / "shop" / "library-before-form-3.db") in said
    assert "brought to today's form" not in do("list")[1]


def test_two_libraries_become_one(do: Do, tmp_path: Path) -> None:
    name = add(do, where="second")
    assert "1 would come in" in do("merge", str(tmp_path / "second"), "--dry-run")[1]
    assert "1 taken in" in do("merge", str(tmp_path / "second"), "--from-shop", "the guild")[1]
    assert name in do("list", "--from-shop", "the guild")[1]


def test_a_case_in_another_state_is_named_and_what_an_update_would_do_is_said(do: Do, tmp_path: Path) -> None:
    name = add(do)
    do("export", str(tmp_path / "before.jsonl"))
    do("import", str(tmp_path / "before.jsonl"), where="second")
    do("confirm", name, CAUSE)
    do("export", str(tmp_path / "after.jsonl"))
    kept = json.loads(do("list", "--json", where="second")[1])["name"]
    say = f"another state of {kept}, which stays as it is (--update takes the other's)"
    assert say in do("import", str(tmp_path / "after.jsonl"), where="second")[1]
    assert (
        "1 would take the other's state"
        in do("import", str(tmp_path / "after.jsonl"), "--update", "--dry-run", where="second")[1]
    )
    assert json.loads(do("show", kept, "--json", where="second")[1])["confirmed"] == [BEFORE]
    assert "1 took the other's state" in do("import", str(tmp_path / "after.jsonl"), "--update", where="second")[1]
    assert json.loads(do("show", kept, "--json", where="second")[1])["confirmed"] == [CAUSE]


def test_pictures_go_in_and_out(do: Do, tmp_path: Path) -> None:
    name = add(do)
    (tmp_path / "seam.png").write_bytes(b"\x89PNG")
    assert "copied" in do("photo", name, str(tmp_path / "seam.png"), "--copy")[1]
    with pytest.raises(BadInput, match="which pictures"):
        do("photo", name)
    said = do("photo", name, "--to", str(tmp_path / "out"))[1]
    assert Path(said.strip()).read_bytes() == b"\x89PNG"


def test_cases_of_an_earlier_version_are_taken_in_at_the_first_look(do: Do, tmp_path: Path) -> None:
    (tmp_path / "shop").mkdir()
    shutil.copy(SEAM, tmp_path / "shop")
    said = do("list")[1]
    assert "1 cases from" in said
    assert "02-acorn-cap-seam" in said
    assert "1 cases from" not in do("list")[1]
    assert (tmp_path / "shop" / SEAM.name).read_bytes() == SEAM.read_bytes()


def test_the_first_prompt_waits_for_no_database() -> None:
    code = (
        "import sys; import diagnose.cli.main, diagnose.cli.talk\n"
        "from diagnose.library import Draft; Draft().found()\n"
        "print([m for m in ('sqlalchemy', 'psycopg', 'sqlite3', 'pydantic') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, cwd=ROOT, check=False)
    assert done.stdout.strip() == "[]", done.stderr
