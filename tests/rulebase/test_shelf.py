"""What was put by gives the same rules base, and whatever is wrong with it only means reading again."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from diagnose.model.knowledge import Defect
from diagnose.rulebase import load, shelf
from diagnose.rulebase.load import RuleBase
from tests.rulebase.folders import small_folder

DEFECT = "investment.weak-vacuum"


@pytest.fixture
def rules(tmp_path: Path) -> Path:
    return small_folder(tmp_path)


@pytest.fixture
def parsed(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The files that were parsed, in order."""
    found: list[str] = []
    really = load.parse

    def watched(text: str, where: str) -> object:
        found.append(where)
        return really(text, where)

    monkeypatch.setattr(load, "parse", watched)
    return found


def entries(cache: Path) -> list[Path]:
    return sorted(cache.rglob("*.json"))


def test_the_shipped_rules_are_the_same_from_the_shelf(base: RuleBase, tmp_path: Path, parsed: list[str]) -> None:
    some = ["casting.shrink-porosity", "mold.visible-seam", "wax.flash"]
    first = RuleBase(base.folder, tmp_path)
    assert [first.defect(d) for d in some] == [base.defect(d) for d in some]
    parsed.clear()
    again = RuleBase(base.folder, tmp_path)
    assert [again.defect(d) for d in some] == [base.defect(d) for d in some]
    assert parsed == []
    for table in ("settings", "derived", "observations", "slots"):
        assert getattr(again.words, table) == getattr(base.words, table)
    assert (again.causes, again.hazards, again.sources) == (base.causes, base.hazards, base.sources)
    assert list(again.causes) == list(base.causes)
    assert all(again.place("cause", c) == base.place("cause", c) for c in base.causes)


def test_a_changed_defect_is_read_again_and_the_rest_is_not(rules: Path, tmp_path: Path, parsed: list[str]) -> None:
    RuleBase(rules, tmp_path / "cache").all_defects()
    file = rules / "investment" / "weak-vacuum.yaml"
    file.write_text(file.read_text().replace("The vacuum is weak", "The pump is weak"))
    parsed.clear()
    assert RuleBase(rules, tmp_path / "cache").defect(DEFECT).name == "The pump is weak"
    assert parsed == ["rules/investment/weak-vacuum.yaml"]


def test_a_changed_vocabulary_is_read_again_with_all_that_builds_on_it(
    rules: Path, tmp_path: Path, parsed: list[str]
) -> None:
    assert RuleBase(rules, tmp_path / "cache").all_defects()
    assert list(RuleBase(rules, tmp_path / "cache").causes)
    file = rules / "investment" / "_observations.yaml"
    file.write_text(file.read_text().replace("Does it hiss", "Can you hear it hiss"))
    parsed.clear()
    found = RuleBase(rules, tmp_path / "cache")
    found.all_defects()
    assert len(found.causes) == 3
    assert set(parsed) == {
        f"rules/investment/{name}.yaml" for name in ("weak-vacuum", "_observations", "_causes")
    }  # fmt: skip
    assert found.words.observations["leak sound"].ask.startswith("Can you hear it")


@pytest.mark.parametrize("change", ["edit", "add", "remove"])
def test_a_changed_caution_is_read_again_and_what_does_not_build_on_it_is_not(
    change: str, rules: Path, tmp_path: Path, parsed: list[str]
) -> None:
    file = rules / "investment" / "_hazards.yaml"
    caution = "hazards:\n  glass: {says: It bursts., always: true, source: common practice}\n"
    if change != "add":
        file.write_text(caution)
    before = RuleBase(rules, tmp_path / "cache")
    assert (before.all_defects(), len(before.hazards))[1] == (0 if change == "add" else 1)
    if change == "remove":
        file.unlink()
    else:
        file.write_text(caution.replace("bursts", "can burst") if change == "edit" else caution)
    parsed.clear()
    found = RuleBase(rules, tmp_path / "cache")
    found.all_defects()
    assert [h.says for h in found.hazards.values()] == {
        "edit": ["It can burst."], "add": ["It bursts."], "remove": [],
    }[change]  # fmt: skip
    assert parsed == ([] if change == "remove" else ["rules/investment/_hazards.yaml"])


@pytest.mark.parametrize(
    "harm",
    [
        lambda text: text[: len(text) // 2],
        lambda text: b"",
        lambda text: text.replace(b"strong", b"slight", 1),
        lambda text: b"\xff\xfe" + text,
        lambda text: text.partition(b"\n")[0] + b"\n{}",
    ],
    ids=["cut", "empty", "altered", "no text", "another body"],
)
def test_a_harmed_entry_is_read_again_and_put_right(
    harm: Callable[[bytes], bytes], rules: Path, tmp_path: Path, parsed: list[str]
) -> None:
    cache = tmp_path / "cache"
    sound = RuleBase(rules, cache).defect(DEFECT)
    before = {path: path.read_bytes() for path in entries(cache)}
    for path, content in before.items():
        path.write_bytes(harm(content))
    parsed.clear()
    assert RuleBase(rules, cache).defect(DEFECT) == sound
    assert parsed
    assert {path: path.read_bytes() for path in entries(cache)} == before


def test_an_entry_of_the_right_key_that_is_no_defect_is_not_believed(rules: Path, tmp_path: Path) -> None:
    cache = tmp_path / "cache"
    sound = RuleBase(rules, cache).defect(DEFECT)
    path = next(p for p in entries(cache) if p.stem == DEFECT)
    key = path.read_bytes().split()[0].decode()
    body = b'{"id": "investment.weak-vacuum", "candidates": 3}'
    path.write_bytes(f"{key} {shelf.digest([body])}\n".encode() + body)
    assert RuleBase(rules, cache).defect(DEFECT) == sound


def test_another_version_of_the_program_reads_again(
    rules: Path, tmp_path: Path, parsed: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    RuleBase(rules, tmp_path / "cache").defect(DEFECT)
    monkeypatch.setattr(load, "program", lambda: b"another version")
    parsed.clear()
    RuleBase(rules, tmp_path / "cache").defect(DEFECT)
    assert parsed == ["rules/investment/weak-vacuum.yaml", "rules/investment/_observations.yaml"]


def test_a_folder_that_cannot_be_written_is_no_matter(rules: Path, tmp_path: Path) -> None:
    (tmp_path / "cache").write_text("a file where a folder should be")
    assert RuleBase(rules, tmp_path / "cache").defect(DEFECT) == RuleBase(rules).defect(DEFECT)


def test_what_has_faults_is_never_put_by_so_that_they_are_named_every_time(tmp_path: Path) -> None:
    rules = small_folder(tmp_path, {"weak-vacuum.yaml": ("leak sound: hisses", "leak sond: hisses")})
    for _ in range(2):
        found = RuleBase(rules, tmp_path / "cache")
        found.all_defects()
        assert any("unknown fact 'leak sond'" in i.what for i in found.issues)
    assert [p.stem for p in entries(tmp_path / "cache")] == ["investment._causes", "investment._observations"]


def test_nothing_half_written_is_left_behind(rules: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(*_: object) -> None:
        raise OSError("disk full")

    monkeypatch.setattr(shelf.os, "replace", fails)
    assert isinstance(RuleBase(rules, tmp_path / "cache").defect(DEFECT), Defect)
    assert [p for p in (tmp_path / "cache").rglob("*") if p.is_file()] == []
