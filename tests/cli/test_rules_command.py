"""`diagnose rules ...` as a person or a script runs it, on a rules folder small enough to know what must come out."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from diagnose.cli.commands import run
from diagnose.errors import BadInput
from tests.rulebase.folders import small_folder


@pytest.fixture
def rules(tmp_path: Path) -> str:
    return str(small_folder(tmp_path))


def test_simulate_writes_the_same_figures_for_the_same_seed(rules: str, capsys: pytest.CaptureFixture[str]) -> None:
    arguments = ["--rules", rules, "rules", "simulate", "--noise", "10%", "--seed", "3", "--file-order", "--json"]
    assert run(arguments) == 0
    first = capsys.readouterr().out
    assert run(arguments) == 0
    assert capsys.readouterr().out == first
    found = json.loads(first)
    assert found["noise"] == 0.1
    assert found["plays"] == 3 * 5
    assert {c["cause"] for c in found["by_cause"]} == {
        "investment.hose-leaks", "investment.oil-wet", "investment.gauge-wrong",
    }  # fmt: skip


def test_simulate_shows_figures_beside_their_targets(rules: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["--rules", rules, "rules", "simulate", "investment.weak-vacuum", "--plays", "2"]) == 0
    out = capsys.readouterr().out
    assert "target 97 %" in out
    assert max(map(len, out.splitlines())) <= 80


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (("investment.weak-vacum",), "Did you mean 'investment.weak-vacuum'"),
        (("--stage", "casting"), "no defect or stage 'casting'"),
        (("--noise", "lots"), "Write one like 10%"),
        (("--noise", "120%"), "no share"),
    ],
)
def test_simulate_names_what_it_cannot_use(arguments: tuple[str, ...], message: str, rules: str) -> None:
    with pytest.raises(BadInput) as caught:
        run(["--rules", rules, "rules", "simulate", *arguments])
    assert message in caught.value.message()


def test_list_holds_one_stage_and_one_kind(rules: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["--rules", rules, "rules", "list"]) == 0
    assert "investment.weak-vacuum" in capsys.readouterr().out
    assert run(["--rules", rules, "rules", "list", "wax"]) == 0
    assert capsys.readouterr().out == ""
    assert run(["--rules", rules, "rules", "list", "investment", "--kind", "causes"]) == 0
    assert [line.split()[0] for line in capsys.readouterr().out.splitlines()] == [
        "investment.hose-leaks", "investment.oil-wet", "investment.gauge-wrong",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("arguments", "message"),
    [(("invesment",), "Did you mean 'investment'"), (("--kind", "setings"), "Did you mean 'settings'")],
)
def test_list_names_what_it_does_not_know(arguments: tuple[str, ...], message: str, rules: str) -> None:
    with pytest.raises(BadInput) as caught:
        run(["--rules", rules, "rules", "list", *arguments])
    assert message in caught.value.message()
