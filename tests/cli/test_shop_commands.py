"""What the shop's own cases do to the commands: learned from, found again, summed up, left out on request."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from diagnose.cli.commands import run
from diagnose.consult import Consultant
from diagnose.errors import StoreError

CASES = Path(__file__).resolve().parent.parent.parent / "cases"
SEAMS = sorted(CASES.glob("0[1-4]*seam.yaml"))


@pytest.fixture(autouse=True)
def _loaded_once(of: Consultant, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("diagnose.cli.taught.consultant", lambda rules, system: of)
    monkeypatch.setattr("diagnose.cli.setup.consultant", lambda rules, system: of)
    monkeypatch.setattr("diagnose.cli.shop.rules_base", lambda given: of.base)


@pytest.fixture
def library(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> str:
    """A library with the demo shop's seams in it, all of them confirmed."""
    named = str(tmp_path / "library.db")
    assert run(["--library", named, "library", "import", *map(str, SEAMS)]) == 0
    capsys.readouterr()
    return named


def told(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    assert run(list(arguments)) == 0
    return capsys.readouterr().out


def test_a_diagnosis_learns_from_the_library_unless_it_is_left_out(
    library: str, capsys: pytest.CaptureFixture[str]
) -> None:
    file = str(SEAMS[0])
    shown = " ".join(told(capsys, "--library", library, "case", file).split())
    assert f"learned from {len(SEAMS)} confirmed cases of this defect" in shown
    assert f"in this shop 1 of {len(SEAMS)} such parts were this" in shown
    assert "here: right 1 of " in shown
    for without in (("--without-shop", "case", file), ("case", "--without-shop", file)):
        alone = told(capsys, "--library", library, *without)
        assert "in this shop" not in alone
        assert "here: right" not in alone


def test_what_was_learned_is_in_the_json_too(library: str, capsys: pytest.CaptureFixture[str]) -> None:
    found = json.loads(told(capsys, "--library", library, "case", "--json", str(SEAMS[0])))
    assert "--without-shop" in found["learned"]
    first = found["causes"][0]
    assert (first["here"]["confirmed"], first["here"]["cases"]) == (1.0, 4.0)
    heard = [e["here"] for c in found["causes"] for e in c["evidence"] if e["here"]]
    assert all(0 <= h["truly"] <= h["spoke"] and h["factor"] >= 1.0 for h in heard)
    assert heard


def test_a_cause_taken_back_is_unlearned(library: str, capsys: pytest.CaptureFixture[str]) -> None:
    told(capsys, "--library", library, "case", str(SEAMS[0]))
    name = told(capsys, "--library", library, "library", "list").splitlines()[1].split(":")[0]
    told(capsys, "--library", library, "library", "forget", name)
    shown = " ".join(told(capsys, "--library", library, "case", str(SEAMS[0])).split())
    assert f"learned from {len(SEAMS) - 1} confirmed cases" in shown


def test_learn_says_from_how_many_and_again_starts_anew(library: str, capsys: pytest.CaptureFixture[str]) -> None:
    learn = ("--library", library, "library", "learn")
    assert told(capsys, *learn) == f"Learned from {len(SEAMS)} confirmed cases.\n"
    assert told(capsys, *learn) == "Learned from 0 confirmed cases.\n"
    assert told(capsys, *learn, "--again") == f"Learned from {len(SEAMS)} confirmed cases.\n"


def test_similar_takes_a_file_or_a_kept_case(library: str, capsys: pytest.CaptureFixture[str]) -> None:
    by_file = json.loads(told(capsys, "--library", library, "library", "similar", "--json", str(SEAMS[0])))
    assert by_file["looked_at"] == len(SEAMS)
    assert by_file["like"][0]["similarity"] == pytest.approx(1.0)
    by_name = told(capsys, "--library", library, "library", "similar", "--least", "1", by_file["like"][0]["name"])
    assert "CASES LIKE THIS ONE" in by_name
    assert by_file["like"][0]["name"] not in by_name  # it is not like itself


def test_summary_is_text_json_or_a_page(library: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    summary = ("--library", library, "library", "summary")
    assert "WHAT THEY TURNED OUT TO BE" in told(capsys, *summary)
    found = json.loads(told(capsys, *summary, "--json", "--since", "2026-01", "--stage", "mold"))
    assert (found["about"], found["cases"]) == ("of the stage mold since 2026-01", len(SEAMS))
    assert json.loads(told(capsys, *summary, "--json", "--until", "2025"))["cases"] == 0
    page = tmp_path / "shop.html"
    assert told(capsys, *summary, "--html", str(page)) == f"Written to {page}.\n"
    assert page.read_text(encoding="utf-8").startswith("<!doctype html>")


def test_their_json_is_what_their_schemas_say(library: str, capsys: pytest.CaptureFixture[str]) -> None:
    for name, *arguments in (("similar", "similar", "--json", str(SEAMS[0])), ("summary", "summary", "--json")):
        found = json.loads(told(capsys, "--library", library, "library", *arguments))
        schema = json.loads(told(capsys, "schema", name))
        assert set(schema["required"]) <= set(found) <= set(schema["properties"])


def test_a_library_that_cannot_be_read_does_not_stop_a_diagnosis(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    broken = tmp_path / "library.db"
    broken.write_text("this is no database")
    assert run(["--library", str(broken), "case", str(SEAMS[0])]) == 0
    captured = capsys.readouterr()
    assert "LIKELY CAUSES" in captured.out
    assert "the rules base speaks alone" in captured.err


def test_a_library_that_cannot_be_written_teaches_what_it_has_learned(
    library: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    told(capsys, "--library", library, "library", "learn")
    told(capsys, "--library", library, "library", "import", "--again", str(SEAMS[0]))

    def refuse(*anything: object, **more: object) -> None:
        raise StoreError("cannot be written (read-only file system).", where=library)

    monkeypatch.setattr("diagnose.library.learning.keep", refuse)
    shown = " ".join(told(capsys, "--library", library, "case", str(SEAMS[0])).split())
    assert f"learned from {len(SEAMS)} confirmed cases" in shown
