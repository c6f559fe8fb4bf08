"""`diagnose calc`: what it says when something is missing, and its pictures."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from diagnose.cli.commands import run
from diagnose.consult import Consultant
from diagnose.errors import BadInput

INCH = ("rubber=natural rubber", "rubber-thickness=1in", "cure-time=45min", "platen-temperature=307F")


@pytest.fixture(autouse=True)
def _loaded_once(of: Consultant, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("diagnose.cli.setup.consultant", lambda rules, system: of)


@pytest.mark.parametrize(
    ("inputs", "needs"),
    [
        ((), "needs cure time, platen temperature, rubber thickness and the rubber."),
        (INCH[1:], "needs the rubber. Write .* 'rubber=natural rubber'"),
        (INCH[:2], "needs cure time and platen temperature."),
    ],
)
def test_what_is_missing_is_asked_for_in_terms_of_what_a_person_knows(inputs: tuple[str, ...], needs: str) -> None:
    with pytest.raises(BadInput, match=needs):
        run(["calc", "re-cure", *inputs])


def test_a_property_that_the_material_lacks_is_named() -> None:
    inputs = (*INCH[1:], "rubber=peroxide silicone")
    with pytest.raises(BadInput, match=r"peroxide silicone has no .*scorch time.* rubber-scorch-time=\.\.\."):
        run(["calc", "closing", *inputs])


def test_a_refusal_further_up_is_said_instead_of_what_it_left_missing() -> None:
    inputs = ("platen-temperature=500C", *INCH[:3])
    with pytest.raises(BadInput, match="500"):
        run(["calc", "cure", *inputs])


def test_the_picture_stands_beside_the_result(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["calc", "cure", *INCH]) == 0
    shown = capsys.readouterr().out
    assert shown.count("HEAT AND CURE THROUGH THE RUBBER") == 1
    assert "s skin   q quarter   m middle" in shown
    assert max(map(len, shown.splitlines())) <= 80


def test_those_who_asked_for_words_get_words(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("ACCESSIBLE", "1")
    assert run(["calc", "cure", *INCH]) == 0
    shown = capsys.readouterr().out
    assert "the temperatures rise, the middle last" in " ".join(shown.split())
    assert "ssss" not in shown


def test_json_holds_no_picture_and_a_file_is_written_beside_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "cure.html"
    assert run(["calc", "cure", *INCH, "--json", "--plot", str(path)]) == 0
    out, err = capsys.readouterr()
    assert json.loads(out)
    assert str(path) in err
    assert "<svg" in path.read_text()


@pytest.mark.parametrize(
    ("name", "file", "message"),
    [
        ("karat", "a.svg", "there is no picture of this. There are pictures of: .*freezing-order"),
        ("cure", "a.gif", "the ending '.gif' is not known"),
        ("cure", "no/a.svg", "there is no folder"),
        ("cuer", "a.svg", "Did you mean 'cure'"),
    ],
)
def test_a_picture_that_cannot_be_is_refused_before_anything_is_computed(
    name: str, file: str, message: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(BadInput, match=message):
        run(["calc", name, *INCH, "--plot", str(tmp_path / file)])
    assert capsys.readouterr().out == ""
    assert list(tmp_path.glob("*.*")) == []
