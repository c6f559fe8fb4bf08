"""A case reads only the files it needs, and a file of any layout means the same as if everything were read at once."""

from __future__ import annotations

from pathlib import Path

import pytest

from diagnose.cli.setup import on
from diagnose.errors import RulesError
from diagnose.model.case import Case
from diagnose.rulebase.drawers import drawers_in, names_outside, places_by_name
from diagnose.rulebase.load import RuleBase
from tests.rulebase.folders import CAUSES, OBSERVATIONS, small_folder

DEFECT = "investment.weak-vacuum"
ELSEWHERE = """settings:
  room warmth: {says: It., dimension: temperature, units: {us: F, metric: C}, plausible: 1 C to 50 C}
derived:
  room chill: {says: It., dimension: temperature, units: {us: F, metric: C}}
"""


def opened(base: RuleBase) -> set[str]:
    return {path.name for d in base._drawers if d.opened for path in d.files}


def test_every_shipped_file_tells_its_names_from_outside(base: RuleBase) -> None:
    drawers = drawers_in(base.folder)
    assert [list(d.files) for d in drawers if d.names is None] == []
    where = places_by_name(drawers)
    assert where is not None
    tables = {t: getattr(base.words, t) for t in ("settings", "derived", "observations", "slots")}
    for section, table in {**tables, "causes": base.causes, "hazards": base.hazards, "sources": base.sources}.items():
        assert list(where[section]) == list(table), section


def test_a_case_reads_no_file_of_another_stage_that_nothing_in_it_looks_at(base: RuleBase) -> None:
    fresh = RuleBase(base.folder)
    on(fresh).stand(Case(defect="wax.flash"))
    stages = {d.stage for d in fresh._drawers if d.opened}
    assert "wax" in stages
    assert "casting" not in stages


def test_what_is_asked_for_in_any_order_is_listed_in_the_order_of_the_files(base: RuleBase) -> None:
    fresh = RuleBase(base.folder)
    assert list(base.words.settings)[-1] in fresh.words.settings
    assert base.words.names()[40] in fresh.words.names()
    assert list(fresh.words.settings) == list(base.words.settings)
    assert fresh.hazards.of_stages({"wax", "mold"}) == [h for h in base.hazards.values() if h.stage in ("mold", "wax")]


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("  leak sound:\n", '  "leak sound":\n'),
        ("observations:\n", "observations: {a b: {ask: x, about: y, answers: {c: d, e: f}}, leak sound:\n"),
        ("  leak sound:\n", "  leak sound :\n"),
        ("Does it hiss when", "Does it\thiss when"),
        ("    why: Air that comes in hisses.\n", '    why: "Air that comes in\n  really: hisses."\n'),
        ("    why: Air that comes in hisses.\n", '    why: "Air that comes in\n hisses."\n'),
        ("\n", "\r"),
        ("\n", "\r\n"),
    ],
    ids=["quoted name", "flow", "space", "tab", "a line that looks like a name", "an odd line", "old breaks", "breaks"],
)
def test_an_unusual_layout_means_what_it_says(old: str, new: str, tmp_path: Path) -> None:
    text = OBSERVATIONS.lstrip().replace(old, new)
    if old == "observations:\n":  # everything in one flow mapping
        text = (
            "observations: {leak sound: {ask: a, about: leak, answers: {hisses: a, silent: b}}, pump oil: {ask: a, about: oil,"
            " answers: {clear: a, milky: b, dark: c}},\n  gauge check: {ask: a, about: gauge, answers: {agrees: a, differs: b}}}\n"
        )
    folder = small_folder(tmp_path)
    (folder / "investment" / "_observations.yaml").write_bytes(text.encode())
    found = RuleBase(folder)
    assert "gauge check" in found.words.observations
    assert set(found.words.observations) == {"leak sound", "pump oil", "gauge check"}
    assert found.defect(DEFECT).candidates[0].rules
    assert found.issues == []


def test_a_name_in_two_files_is_a_fault_whichever_is_asked_for_first(tmp_path: Path) -> None:
    twice = "settings:\n  leak sound: {says: It., dimension: pressure, units: {us: psi, metric: bar}, plausible: 1 bar to 2 bar}\n"
    found = RuleBase(small_folder(tmp_path, _settings=twice))
    assert found.defect(DEFECT)
    assert any("'leak sound' is already defined in rules/investment/_settings.yaml:2" in i.what for i in found.issues)


def test_a_fault_in_what_a_case_needs_refuses_it_with_every_fault_there_is(tmp_path: Path) -> None:
    causes = CAUSES.replace("how to tell: It no longer hisses.", "how to tel: It no longer hisses.")
    folder = small_folder(tmp_path, _causes_more=causes.replace("investment.", "investment.other-"))
    other = folder / "wax"
    other.mkdir()
    (other / "_settings.yaml").write_text(ELSEWHERE.replace("plausible", "plausibel"))
    (folder / "investment" / "_observations.yaml").write_text(OBSERVATIONS.replace("ask: Does", "asks: Does"))
    base = RuleBase(folder)
    base.refuse_faults()
    with pytest.raises(RulesError, match="rules base has errors") as refused:
        on(base).stand(Case(defect=DEFECT))
    text = "\n".join(refused.value.issues)
    assert all(word in text for word in ("unknown key 'asks'", "unknown key 'how to tel'", "unknown key 'plausibel'"))


def test_a_fault_in_another_stage_keeps_no_case_from_being_looked_into(tmp_path: Path) -> None:
    folder = small_folder(tmp_path)
    (folder / "wax").mkdir()
    (folder / "wax" / "_settings.yaml").write_text(ELSEWHERE.replace("plausible", "plausibel"))
    base = RuleBase(folder)
    base.refuse_faults()
    assert on(base).stand(Case(defect=DEFECT)).ranking.first() == "investment.hose-leaks"
    assert opened(base) == {"_observations.yaml", "_causes.yaml"}
    assert [i.file for i in base.issues] == ["rules/wax/_settings.yaml"] * len(base.issues)
    assert base.issues


def test_a_file_that_cannot_be_read_is_named(tmp_path: Path) -> None:
    folder = small_folder(tmp_path, _settings="settings: \0")
    (folder / "investment" / "_hazards.yaml").mkdir()
    text = " ".join(i.text() for i in RuleBase(folder).issues)
    assert "not a text file" in text
    assert "_hazards.yaml" in text


def test_comments_and_blank_lines_are_no_names() -> None:
    assert names_outside(b"# a\nsettings:\n\n  # b: c\n  one: {a: b}\n  two three:\n    deep: x\n", ("settings",)) == {
        "settings": ["one", "two three"]
    }
    assert names_outside(b"setings:\n  one: {a: b}\n", ("settings",)) is None
    assert names_outside(b"settings:\n    one: {a: b}\n", ("settings",)) is None
    assert names_outside(b"settings:\n one:\n  a: b\n", ("settings",)) is None
