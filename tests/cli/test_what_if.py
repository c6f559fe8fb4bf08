"""`diagnose case FILE --what-if`: text, JSON, and exit codes."""

from __future__ import annotations

from pathlib import Path

import pytest

from diagnose.cli.commands import run
from diagnose.model.what_if import WhatIf

Captured = pytest.CaptureFixture[str]


pytestmark = pytest.mark.usefixtures("loaded_once")


@pytest.fixture
def hot(tmp_path: Path) -> str:
    file = tmp_path / "hot.yaml"
    file.write_text("{defect: wax.sinks, settings: {wax temperature: 80 C, wax congealing point: 62 C}}")
    return str(file)


def test_json_is_the_record_that_its_schema_describes(hot: str, capsys: Captured) -> None:
    assert run(["case", hot, "--what-if", "wax temperature=68C", "--what-if", "mold temperature=24C", "--json"]) == 0
    found = WhatIf.model_validate_json(capsys.readouterr().out)
    assert [c.name for c in found.changes] == ["wax temperature", "mold temperature"]
    assert run(["schema", "what-if"]) == 0
    assert '"cleared"' in capsys.readouterr().out


def test_text_shows_both_sides(hot: str, capsys: Captured) -> None:
    assert run(["case", hot, "--what-if", "wax temperature=68C"]) == 0
    assert "as recorded  then" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("change", "says"), [("wax temperature=90C", "past its safety limit"), ("wax temperature", "is not name=value")]
)
def test_what_cannot_be_tried_is_one_message_and_exit_code_2(
    hot: str, capsys: Captured, change: str, says: str
) -> None:
    assert run(["case", hot, "--what-if", change]) == 2
    shown = capsys.readouterr()
    assert says in shown.err
    assert shown.out == ""
