"""Files that cannot be used: one clear message each, with the place, and nothing lost."""

from __future__ import annotations

from pathlib import Path

import pytest

from diagnose.errors import BadInput
from diagnose.rulebase.cases import case_from_text, read_case
from diagnose.rulebase.files import parse
from diagnose.rulebase.load import RuleBase

GOOD = "defect: mold.visible-seam\n"


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "empty"),
        ("- a\n- b\n", "name: value"),
        ("a: 1\nb: 2\na: 3\n", r":3: 'a' stands twice \(first in line 1\)"),
        ("a: &x [1]\nb: *x\n", ":1: uses an alias|alias"),
        ("a: &x [*x]\n", "alias|deep"),
        ("a: !!python/object:os.system x\n", "tag"),
        ("title: one: two\n", "second colon"),
        ("a:\n\t- b\n", "tab"),
        ("a: [" * 60 + "]" * 60, "deep|not YAML"),
        ("<<: {a: 1}\n", "plain text"),
    ],
)
def test_a_text_that_is_no_case_is_refused_with_its_place(text: str, message: str) -> None:
    with pytest.raises(BadInput, match=message):
        parse(text, "bad.yaml")


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (b"\x00\x01\x02binary", "not a text file"),
        ("défaut".encode("latin-1"), "not UTF-8"),
        (b"a: b\n" * 500_000, "larger than"),
    ],
)
def test_a_file_that_is_no_text_is_refused(content: bytes, message: str, tmp_path: Path, base: RuleBase) -> None:
    (tmp_path / "case.yaml").write_bytes(content)
    with pytest.raises(BadInput, match=message):
        read_case(tmp_path / "case.yaml", base)


def test_a_missing_file_is_named(tmp_path: Path, base: RuleBase) -> None:
    with pytest.raises(BadInput, match=r"nowhere\.yaml: cannot be read"):
        read_case(tmp_path / "nowhere.yaml", base)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (GOOD + "colour: red\n", "unknown key 'colour'"),
        (GOOD + "settngs: {}\n", "Did you mean 'settings'"),
        ("defect: mold.visible-seem\n", "Did you mean 'mold.visible-seam'"),
        (GOOD + "settings: {cure tme: 45 min}\n", "Did you mean 'cure time'"),
        (GOOD + "settings: {cure time: 45}\n", "45 what"),
        (GOOD + "settings: {cure time: 45 F}\n", "time"),
        (GOOD + "settings: {cure time: 45000 h}\n", "not plausible"),
        (GOOD + "settings: {cure time: -3 min}\n", "negative"),
        (GOOD + "observations: {squeeze-out: nonne}\n", "Did you mean 'none'"),
        (GOOD + "confirmed: [mold.gremlins]\n", "unknown cause"),
    ],
)
def test_what_a_case_says_wrongly_is_named_with_a_remedy(text: str, message: str, base: RuleBase) -> None:
    with pytest.raises(BadInput, match=message):
        case_from_text(text, "case.yaml", base)


def test_all_faults_of_a_case_come_at_once_with_their_lines(base: RuleBase) -> None:
    text = GOOD + "settings:\n  cure time: soon\n  platen temperature: 99999 F\nobservations:\n  squeeze-out: lots\n"
    with pytest.raises(BadInput) as caught:
        case_from_text(text, "case.yaml", base)
    message = caught.value.message()
    assert "case.yaml:3:" in message
    assert "case.yaml:4:" in message
    assert "case.yaml:6:" in message
    assert "3 to mend" in message
