"""Kept cases as case files: the very same when read again, and plain case files for everybody else."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings

from diagnose.errors import BadInput
from diagnose.library.exchange_yaml import from_text, read_files, to_text, write_folder
from diagnose.library.kept import Kept
from diagnose.rulebase.cases import case_from_text, read_case
from diagnose.rulebase.load import RuleBase
from tests.library.invented import a_case, kepts

CASES = Path(__file__).resolve().parent.parent.parent / "cases"


@settings(max_examples=60, suppress_health_check=[HealthCheck.too_slow])
@given(kept=kepts())
def test_any_kept_case_reads_back_from_its_file_as_the_very_same(base: RuleBase, kept: Kept) -> None:
    assert from_text(to_text(kept, base), "a file", base) == kept


def test_a_case_of_words_the_rules_know_stays_a_file_for_everybody(base: RuleBase) -> None:
    kept = a_case(name="seam-1", uid="ab" * 16, confirmed=("mold.pack-too-empty",))
    text = to_text(kept, base)
    assert "told:" not in text
    assert case_from_text(text, "", base) == kept.case()


def test_what_the_rules_do_not_know_is_kept_beside_what_they_do(base: RuleBase) -> None:
    kept = a_case(observations={"squeeze-out": "none", "colour of the moon": "blue"})
    text = to_text(kept, base)
    assert case_from_text(text, "", base).observations == {"squeeze-out": "none"}
    assert from_text(text, "", base) == kept


@pytest.mark.parametrize("path", sorted(CASES.glob("*.yaml"))[:6], ids=lambda p: p.stem)
def test_a_case_file_that_never_was_in_a_library_is_read_just_the_same(base: RuleBase, path: Path) -> None:
    (found,) = read_files([path], base)
    assert isinstance(found[1], Kept)
    assert found[1].case() == read_case(path, base)


def test_a_folder_gets_one_file_each_and_a_name_leads_nowhere_else(base: RuleBase, tmp_path: Path) -> None:
    cases = [a_case(name=name) for name in ("../up", "..", "a/b", "A-b", "a-b", "con: *?")]
    folder = tmp_path / "out"
    assert write_folder(cases, folder, base) == len(cases)
    files = sorted(folder.iterdir())
    assert len(files) == len(cases)
    assert sorted(p.name for p in tmp_path.iterdir()) == ["out"]
    back = [kept for _, kept in read_files(files, base)]
    assert sorted(k.name for k in back if isinstance(k, Kept)) == sorted(k.name for k in cases)


def test_a_file_that_cannot_be_used_says_where_and_why(base: RuleBase, tmp_path: Path) -> None:
    bad = tmp_path / "bad.yaml"
    bad.write_text("defect: mold.voids\nlibrary:\n  cost: a lot\n")
    ((where, found),) = read_files([bad], base)
    assert where == str(bad)
    assert isinstance(found, BadInput)
    assert "cost" in found.message()
    assert "bad.yaml" in found.message()
