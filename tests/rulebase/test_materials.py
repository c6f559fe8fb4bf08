"""The materials of one slot may stand in several files; what is wrong in a further file is found in that file."""

from __future__ import annotations

from pathlib import Path

from diagnose.rulebase.checks import check
from diagnose.rulebase.load import RuleBase
from tests.rulebase.folders import small_folder

OIL = """
slot: oil
ask: Which oil is in the pump?
properties:
  boiling: {says: Boils from here up., dimension: temperature, units: {us: F, metric: C}}
materials:
  plain oil: {kind: mineral, properties: {boiling: {value: 300 C, source: common practice}}}
"""
MORE = """
more of: oil
materials:
  clear oil: {kind: synthetic, properties: {boiling: {value: 350 C, source: common practice}}}
"""


def base_with(at: Path, **files: str) -> RuleBase:
    rules = small_folder(at)
    (rules / "materials").mkdir()
    for name, text in files.items():
        (rules / "materials" / f"{name}.yaml").write_text(text)
    return RuleBase(rules)


def faults(base: RuleBase) -> list[str]:
    return [issue.text() for issue in check(base, ())]


def test_a_further_file_adds_materials_whatever_its_name(tmp_path: Path) -> None:
    # "a_more" is read before "oil" by name; a slot must not depend on that.
    base = base_with(tmp_path, oil=OIL, a_more=MORE)
    assert faults(base) == []
    slot = base.words.slots["oil"]
    assert list(slot.materials) == ["plain oil", "clear oil"]
    assert slot.kinds() == ("mineral", "synthetic")
    assert slot.materials["clear oil"].properties["boiling"].value == 350 + 273.15
    assert base.place("material", "oil clear oil") == ("rules/materials/a_more.yaml", 4)


def test_a_material_in_two_files_is_a_fault_that_names_both_places(tmp_path: Path) -> None:
    (found,) = faults(base_with(tmp_path, oil=OIL, oil_more=MORE.replace("clear oil", "plain oil")))
    assert found.startswith("rules/materials/oil_more.yaml:4")
    assert "already defined in rules/materials/oil.yaml:7" in found


def test_more_of_an_unknown_slot_is_a_fault_with_the_nearest_name(tmp_path: Path) -> None:
    (found,) = faults(base_with(tmp_path, oil=OIL, oil_more=MORE.replace("more of: oil", "more of: oils")))
    assert found.startswith("rules/materials/oil_more.yaml:2")
    assert "Did you mean 'oil'?" in found


def test_a_further_file_holds_materials_only_and_none_of_its_own_properties(tmp_path: Path) -> None:
    found = faults(base_with(tmp_path, oil=OIL, oil_more=MORE + "ask: Which?\n"))
    assert any("unknown key 'ask'" in fault for fault in found)
    found = faults(base_with(tmp_path / "other", oil=OIL, oil_more=MORE.replace("boiling", "color")))
    assert any("'color' is not a property of this slot" in fault for fault in found)


def test_an_unknown_source_in_a_further_file_is_found_there(tmp_path: Path) -> None:
    found = faults(base_with(tmp_path, oil=OIL, oil_more=MORE.replace("common practice", "nobody-1999")))
    assert any(f.startswith("rules/materials/oil_more.yaml:4") and "nobody-1999" in f for f in found)
