"""Each check of the rules base, on a small folder that is sound but for one thing."""

from __future__ import annotations

from pathlib import Path

import pytest

from diagnose.derive.calculator import Calculator
from diagnose.rulebase.checks import check
from diagnose.rulebase.issue import Issue
from diagnose.rulebase.load import RuleBase
from tests.rulebase.folders import DEFECT, small_folder

DEFECT_FILE, CAUSES_FILE = "weak-vacuum.yaml", "_causes.yaml"
HISS = "- {for: strong, when: {leak sound: hisses}, because: Air comes in., source: common practice}"
WITH_PRESSURE = """
settings:
  pump pressure: {says: It., dimension: pressure, units: {us: inHg, metric: mbar}, plausible: 1 mbar to 1000 mbar%s}
"""
SAFE = "because: x, source: common practice}"
OTHER_DEFECT = DEFECT.replace("investment.weak-vacuum", "investment.no-vacuum").replace("is weak", "is none")


def issues(folder: Path, *calculators: Calculator) -> list[Issue]:
    return check(RuleBase(folder), calculators)


def spoiled(at: Path, old: str, new: str, file: str = DEFECT_FILE, **more: str) -> list[Issue]:
    return issues(small_folder(at, {file: (old, new)}, **more))


def test_the_small_folder_is_sound(tmp_path: Path) -> None:
    assert issues(small_folder(tmp_path)) == []


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        (HISS, HISS.replace("for", "against"), "can never come out"),
        (HISS, HISS.replace("{leak sound: hisses}", "{all: [{leak sound: hisses}, {leak sound: silent}]}"), "exclude"),
        (HISS, f"{HISS}\n      {HISS.replace('strong', 'slight')}", "says the same as the rule in line 10"),
        (
            HISS, HISS.replace("{leak sound: hisses}", "{leak sound: [silent, hisses]}"),
            "both for and against when leak sound is silent",
        ),
        ("One of them is wrong., source: common practice", "One of them is wrong., source: ", "'source' is missing"),
        ("One of them is wrong., source: common practice", "One of them is wrong., source: nobody-1999", "not in any"),
        ("cause: investment.oil-wet", "cause: investment.oil-wett", "Did you mean 'investment.oil-wet'"),
        ("first: investment.hose-leaks", "first: investment.hose", "no cause of this defect"),
        ("facts: {leak sound: hisses}", "facts: {leak sond: hisses}", "Did you mean 'leak sound'"),
        ("expect: {first", "expect: {verdict: maybe, first", "the verdict 'maybe'"),
    ],
)  # fmt: skip
def test_a_fault_in_a_defect_is_found_with_its_line(old: str, new: str, message: str, tmp_path: Path) -> None:
    found = [i for i in spoiled(tmp_path, old, new) if message in i.text()]
    assert found
    assert all(i.file == "rules/investment/weak-vacuum.yaml" and i.line > 0 for i in found)


def test_the_same_condition_written_in_another_order_is_the_same(tmp_path: Path) -> None:
    one = HISS.replace("{leak sound: hisses}", "{leak sound: hisses, pump oil: [clear, dark]}")
    other = one.replace("strong", "slight").replace(
        "{leak sound: hisses, pump oil: [clear, dark]}", "{all: [{pump oil: [dark, clear]}, {leak sound: hisses}]}"
    )
    found = [i.what for i in spoiled(tmp_path, HISS, f"{HISS}\n      {one}\n      {other}")]
    assert found == ["says the same as the rule in line 11."]


def test_a_cause_whose_every_rule_contradicts_itself_is_unreachable(tmp_path: Path) -> None:
    never = "{all: [{leak sound: hisses}, {leak sound: silent}]}"
    found = [i.what for i in spoiled(tmp_path, HISS, HISS.replace("{leak sound: hisses}", never))]
    assert "can never come out: no rule for it can hold." in found


def test_a_question_that_no_rule_needs_and_a_setting_that_nothing_uses_are_named(tmp_path: Path) -> None:
    found = issues(
        small_folder(
            tmp_path,
            _observations_more="observations:\n  lid feel: {ask: How does it feel?, answers: {cold: '', hot: ''}}\n",
            _settings=WITH_PRESSURE % "",
        )
    )
    assert [(i.file, i.line, i.id) for i in found] == [
        ("rules/investment/_observations_more.yaml", 2, "lid feel"),
        ("rules/investment/_settings.yaml", 3, "pump pressure"),
    ]
    assert "never asked" in found[0].what
    assert "no rule, calculator or correction" in found[1].what


def test_words_between_rules_and_calculators_are_defined_on_both_sides(tmp_path: Path) -> None:
    derived = "derived:\n  vacuum left: {says: What is left., dimension: pressure, units: {us: inHg, metric: mbar}}\n"
    strange = Calculator(
        "strange", "Strange", "investment", ("pump speed",), ("vacuum lost",), lambda f: {}, lambda f: (),
        ("common practice",),
    )  # fmt: skip
    found = " ".join(i.text() for i in issues(small_folder(tmp_path, _settings_derived=derived), strange))
    assert "takes 'pump speed', which no file defines" in found
    assert "gives 'vacuum lost', which is not under `derived:`. Did you mean 'vacuum left'" in found
    assert "vacuum left: no calculator finds it" in found


def test_a_caution_that_is_never_shown_and_a_work_that_nothing_rests_on_are_named(tmp_path: Path) -> None:
    found = issues(
        small_folder(
            tmp_path,
            _hazards="hazards:\n  glass: {says: Glass can burst., source: common practice}\n",
            _sources="sources:\n  nobody-1999: {author: N. Body, title: Pumps, year: 1999, read: whole}\n",
        )
    )
    assert [(i.id, i.what.split(":")[0]) for i in found] == [
        ("glass", "it is never shown"), ("nobody-1999", "no statement rests on it."),
    ]  # fmt: skip


def test_a_work_that_was_not_read_cannot_be_cited_as_read(tmp_path: Path) -> None:
    source = "sources:\n  nobody-1999: {author: N. Body, title: Pumps, year: 1999, read: no}\n"
    found = spoiled(tmp_path, "wrong., source: common practice", "wrong., source: nobody-1999", _sources=source)
    assert ["Write `from memory of nobody-1999`." in i.text() for i in found] == [True]


def test_hand_overs_in_a_circle_are_named_with_the_way(tmp_path: Path) -> None:
    to = "  - hand-over: investment.{}\n    often: rare\n    rules:\n      {}\nexamples:"
    there = DEFECT.replace("examples:", to.format("no-vacuum", HISS))
    back = OTHER_DEFECT.replace("examples:", to.format("weak-vacuum", HISS))
    folder = small_folder(tmp_path, no__vacuum=back)
    (folder / "investment" / DEFECT_FILE).write_text(there)
    circles = [i for i in issues(folder) if "circle" in i.what]
    assert {i.what for i in circles} == {
        "hands over in a circle: investment.weak-vacuum to investment.no-vacuum to investment.weak-vacuum.",
        "hands over in a circle: investment.no-vacuum to investment.weak-vacuum to investment.no-vacuum.",
    }
    assert all(i.line > 10 for i in circles)


@pytest.mark.parametrize(
    ("limits", "message"),
    [
        ("windows: [{from: 60 mbar, to: 20 mbar, source: common practice}]", "begins above its end"),
        ("windows: [{from: 2000 mbar, source: common practice}]", "outside what is plausible"),
        (
            "windows: [{to: 30 mbar, source: common practice}], safe: {from: 40 mbar, " + SAFE,
            "wholly outside the safe range",
        ),
        (
            "windows: [{to: 50 mbar, source: common practice}], safe: {to: 40 mbar, " + SAFE,
            "reaches past the safe range",
        ),
        (
            "windows: [{to: 50 mbar, source: common practice},"
            " {for: {leak sound: silent}, to: 20 mbar, source: common practice}]",
            "never gets its turn",
        ),
    ],
)
def test_windows_that_contradict_are_named(limits: str, message: str, tmp_path: Path) -> None:
    rule = f"{HISS}\n      " + HISS.replace("{leak sound: hisses}", "{pump pressure: {window: above}}")
    found = spoiled(tmp_path, HISS, rule, _settings=WITH_PRESSURE % f", {limits}")
    assert [message in i.what for i in found] == [True]


def test_a_safe_range_for_one_material_does_not_bind_the_window_of_another(tmp_path: Path) -> None:
    limits = (
        "windows: [{for: {leak sound: silent}, to: 50 mbar, source: common practice}],"
        " safe: {for: {leak sound: hisses}, to: 40 mbar, because: x, source: common practice}"
    )
    rule = f"{HISS}\n      " + HISS.replace("{leak sound: hisses}", "{pump pressure: {window: above}}")
    assert spoiled(tmp_path, HISS, rule, _settings=WITH_PRESSURE % f", {limits}") == []


def test_a_limit_where_no_value_is_plausible_can_never_be_passed(tmp_path: Path) -> None:
    rule = f"{HISS}\n      " + HISS.replace("{leak sound: hisses}", "{pump pressure: {above: 2000 mbar}}")
    found = spoiled(tmp_path, HISS, rule, _settings=WITH_PRESSURE % "")
    assert ["refused above that, as not plausible" in i.what for i in found] == [True]


def test_limits_that_overlap_speak_for_and_against_at_once(tmp_path: Path) -> None:
    above = HISS.replace("{leak sound: hisses}", "{pump pressure: {above: 40 mbar}}")
    below = HISS.replace("{leak sound: hisses}", "{pump pressure: {below: 60 mbar}}").replace("for:", "against:")
    found = spoiled(tmp_path, HISS, f"{HISS}\n      {above}\n      {below}", _settings=WITH_PRESSURE % "")
    assert ["pump pressure lies between 4000 and 6000 (SI)" in i.what for i in found] == [True]


def test_causes_are_named_where_they_stand(tmp_path: Path) -> None:
    cause = (
        "  investment.idle:\n    name: Nothing\n    how: It is not.\n    corrections: [{do: Rest., how to tell: '-',"
    )
    cause += " worsens: [investment.nothing], cautions: [glass], source: common practice}]\n"
    found = issues(small_folder(tmp_path, _causes_more="causes:\n" + cause))
    assert {(i.file, i.line) for i in found} == {("rules/investment/_causes_more.yaml", 3)}
    text = " ".join(i.what for i in found)
    assert "no defect has this cause" in text
    assert "worsens 'investment.nothing'" in text
    assert "names the caution 'glass'" in text


def test_a_defect_that_hands_over_to_itself_and_a_circle_of_three_are_named(tmp_path: Path) -> None:
    to = "  - hand-over: investment.{}\n    often: rare\n    rules:\n      {}\nexamples:"
    folder = small_folder(tmp_path / "self", {DEFECT_FILE: ("examples:", to.format("weak-vacuum", HISS))})
    assert [
        "hands over in a circle: investment.weak-vacuum to investment.weak-vacuum." in i.what for i in issues(folder)
    ] == [True]
    names = ("weak-vacuum", "no-vacuum", "late-vacuum")
    folder = small_folder(tmp_path / "three")
    for here, there in zip(names, (*names[1:], names[0]), strict=True):
        text = DEFECT.replace("investment.weak-vacuum", f"investment.{here}").replace("is weak", here)
        (folder / "investment" / f"{here}.yaml").write_text(text.replace("examples:", to.format(there, HISS)))
    circles = [i.what for i in issues(folder) if "circle" in i.what]
    assert len(circles) == 3
    assert f"hands over in a circle: {' to '.join(f'investment.{n}' for n in (*names, names[0]))}." in circles


UNSOURCED = {
    "_causes_more": "causes:\n  investment.x:\n    {name: X, how: So., corrections: [{do: That., how to tell: It is.}]}\n",
    "_hazards": "hazards:\n  glass: {says: Glass can burst., always: 'true'}\n",
    "_observations_more": "observations:\n  lid feel:\n    {ask: How?, answers: {cold: '', hot: ''}, bench test: {do: Feel., costs: nothing}}\n",
    "_settings": WITH_PRESSURE % ", windows: [{from: 20 mbar}]",
    "_settings_safe": WITH_PRESSURE % ", safe: {to: 40 mbar, because: x}",
    "_settings_assumed": WITH_PRESSURE % ", assume: {value: 40 mbar}",
    "_glossary": "glossary:\n  debubble: {says: To draw the air out.}\n",
}


@pytest.mark.parametrize("name", UNSOURCED)
def test_every_kind_of_statement_needs_a_source(name: str, tmp_path: Path) -> None:
    found = [i for i in issues(small_folder(tmp_path, **{name: UNSOURCED[name]})) if "'source' is missing" in i.what]
    assert [i.file for i in found] == [f"rules/investment/{name}.yaml"]
    assert found[0].line > 1


def test_a_value_of_a_material_needs_a_source_that_is_listed(tmp_path: Path) -> None:
    folder = small_folder(tmp_path)
    (folder / "materials").mkdir()
    oil = (
        "slot: oil\nask: Which?\nproperties:\n  dregs: {says: So., dimension: pressure}\n"
        "materials:\n  thin oil: {kind: thin, properties: {dregs: {value: 3 mbar, source: nobody-1999}}}\n"
    )
    (folder / "materials" / "oil.yaml").write_text(oil)
    (found,) = [i for i in issues(folder) if "source" in i.what]
    assert (found.file, found.id) == ("rules/materials/oil.yaml", "thin oil")
    assert "'nobody-1999' is not in any _sources.yaml" in found.what


def test_a_word_that_is_explained_needs_a_source_that_is_listed(tmp_path: Path) -> None:
    words = "glossary:\n  debubble: {says: To draw the air out., source: nobody-1999}\n"
    (found,) = issues(small_folder(tmp_path, _glossary=words))
    assert (found.file, found.line, found.id) == ("rules/investment/_glossary.yaml", 2, "debubble")
    assert "'nobody-1999' is not in any _sources.yaml" in found.what


@pytest.mark.parametrize(
    ("file", "old", "new", "message"),
    [
        (DEFECT_FILE, HISS, HISS.replace("leak sound", "leak sond"), "unknown fact 'leak sond'. Did you mean 'leak sound'?"),
        (DEFECT_FILE, HISS, HISS.replace("hisses", "hises"), "'hises' is no answer to 'leak sound'. Did you mean 'hisses'?"),
        (DEFECT_FILE, HISS, HISS.replace("for: strong", "for: mighty"), "is not one of: slight, positive, strong, very strong"),
        (CAUSES_FILE, "do: Replace the hose.", "do: x, moves: [{setting: hose width, to: 3 mm}]", "moves 'hose width', which is no setting"),
        (CAUSES_FILE, "do: Replace the hose.", "do: x, worsens: [investment.oil-wett]", "Did you mean 'investment.oil-wet'?"),
    ],
)  # fmt: skip
def test_an_undefined_word_is_named_with_the_nearest(
    file: str, old: str, new: str, message: str, tmp_path: Path
) -> None:
    found = [i for i in spoiled(tmp_path, old, new, file) if message in i.text()]
    assert [i.file for i in found] == [f"rules/investment/{file}"]
    assert found[0].line > 1
