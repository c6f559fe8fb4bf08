"""The page of a defect, a cause or a rule can be read by somebody who has never seen the file."""

from __future__ import annotations

import pytest

from diagnose.errors import BadInput
from diagnose.report.knowledge import knowledge_lines
from diagnose.report.listing import KINDS, listing_lines
from diagnose.rulebase.load import RuleBase


def text(base: RuleBase, name: str, system: str = "us") -> str:
    return " ".join(line.text.strip() for line in knowledge_lines(base, name, 90, system))


def test_conditions_read_as_words_with_units(base: RuleBase) -> None:
    page = text(base, "mold.soft-core")

    assert "time rule: same for all molds." in page
    assert "cure time against need below 0.75." in page


def test_numbers_come_in_the_units_asked_for(base: RuleBase) -> None:
    rule = next(
        r for r in base.defect("mold.soft-core").rules() if r.when.kind == "within" and "1.97 in" in text(base, r.id)
    )

    assert "50 mm" in text(base, rule.id, "metric")


def test_a_rule_says_where_it_stands_and_why(base: RuleBase) -> None:
    rule = base.defect("mold.soft-core").rules()[0]
    page = text(base, rule.id)

    assert rule.because in page
    assert f"line {rule.line}" in page


def test_a_cause_says_what_it_takes_what_to_take_care_of_and_what_it_does(base: RuleBase) -> None:
    ident, n = next(
        (c.id, n) for c in base.causes.values() for n, k in enumerate(c.corrections) if k.cautions and k.worsens
    )
    correction, page = base.causes[ident].corrections[n], text(base, ident)
    assert f"Take care: {' '.join(base.hazards[correction.cautions[0]].says.split())}" in page
    assert f"Can bring on: {base.cause_name(correction.worsens[0])}" in page
    assert next(d.id for d in base.all_defects() if any(c.cause == ident for c in d.candidates)) in page


def test_the_rules_of_one_cause_come_with_their_ids(base: RuleBase) -> None:
    candidate = base.defect("wax.voids").candidates[0]
    page = text(base, f"wax.voids/{candidate.cause}")
    for rule in candidate.rules:
        assert rule.because in page
        assert rule.id[:60] in page


def test_an_observation_says_its_answers_and_who_looks_at_it(base: RuleBase) -> None:
    page, seen = text(base, "backlit spot"), base.words.observations["backlit spot"]
    assert seen.ask in page
    assert all(answer in page for answer in seen.answers)
    assert "wax.voids" in page.partition("LOOKED AT BY")[2]


def test_a_bench_test_says_how_and_with_what_care(base: RuleBase) -> None:
    name, test = next(
        (n, o.bench_test) for n, o in base.words.observations.items() if o.bench_test and o.bench_test.caution
    )
    assert test is not None
    page = text(base, name, "metric")
    assert f"1. {test.do[0]}" in page
    assert f"Take care: {test.caution}" in page


def test_a_setting_says_its_ranges_in_the_units_asked_for_with_their_sources(base: RuleBase) -> None:
    name = "burnout top temperature"
    assert base.words.settings[name].safe is not None
    assert "Never advised outside: at most 1382 °F" in text(base, name)  # 750 °C x 9/5 + 32
    assert "Never advised outside: at most 750 °C" in text(base, name, "metric")
    assert f"[{base.words.settings[name].windows[0].source}]" in text(base, name)


def test_materials_cautions_sources_and_computed_facts_have_pages(base: RuleBase) -> None:
    slot = base.words.slots["metal"]
    assert all(kind in text(base, "metal") for kind in slot.kinds())
    material = next(iter(slot.materials.values()))
    assert f"kind: {material.kind}" in text(base, material.name)
    hazard = next(iter(base.hazards.values()))
    assert hazard.says in text(base, hazard.name)
    source = next(iter(base.sources.values()))
    assert source.citation() in text(base, source.key)
    derived = next(iter(base.words.derived.values()))
    assert derived.says in text(base, derived.name)


@pytest.mark.parametrize(
    ("typed", "meant"),
    [("Backlit-Spot", "backlit spot"), ("air-in-wax", "wax.air-in-wax"), ("WAX.VOIDS", "wax.voids"), (" metal ", "metal")],
)  # fmt: skip
def test_a_name_may_be_typed_a_little_differently(typed: str, meant: str, base: RuleBase) -> None:
    assert text(base, typed) == text(base, meant)


def test_a_name_that_two_share_is_asked_back(base: RuleBase) -> None:
    with pytest.raises(BadInput) as caught:
        knowledge_lines(base, "voids", 80)
    assert "mold.voids and wax.voids" in caught.value.next_step


@pytest.mark.parametrize("typed", ["injection presure", "backlit spott", "hold lader", "wax.air-in-wx"])
def test_an_unknown_name_suggests_the_nearest(typed: str, base: RuleBase) -> None:
    with pytest.raises(BadInput) as caught:
        knowledge_lines(base, typed, 80)
    meant = {"injection presure": "injection pressure", "backlit spott": "backlit spot", "hold lader": "hold ladder"}
    assert meant.get(typed, "wax.air-in-wax") in caught.value.next_step


@pytest.mark.parametrize("width", [40, 80])
def test_every_page_and_list_fits_the_screen(width: int, base: RuleBase) -> None:
    tables = (
        base.words.settings,
        base.words.derived,
        base.words.observations,
        base.words.slots,
        base.hazards,
        base.sources,
    )
    names = [n for t in (*tables, base.causes, base.defect_files) for n in [*t][:: max(len(t) // 4, 1)]]
    names += [r.id for r in base.defect("wax.voids").rules()[:3]] + ["wax.voids/wax.air-in-wax", "sterling"]
    for name in names:
        lines = knowledge_lines(base, name, width)
        assert max(len(line.text) for line in lines) <= width, name
    for kind in KINDS:
        lines = listing_lines(base, kind, {"wax"}, width)
        assert max((len(line.text) for line in lines), default=0) <= width, kind


def test_lists_hold_what_there_is_of_a_stage(base: RuleBase) -> None:
    for kind, table in (("causes", base.causes), ("settings", base.words.settings), ("cautions", base.hazards)):
        shown = " ".join(line.text.strip() for line in listing_lines(base, kind, {"wax", "tree"}, 80))
        for name, entry in table.items():
            if entry.stage in ("wax", "tree"):
                assert name in shown, (kind, name)
        assert ("casting." not in shown) or kind != "causes"
    both = (
        len(listing_lines(base, "observations", {"wax"}, 9999)),
        len(listing_lines(base, "bench-tests", {"wax"}, 9999)),
    )
    assert all(both)
    defects = [
        line.text.split()[0] for line in listing_lines(base, "defects", set(), 100) if "." in line.text.split()[0]
    ]
    assert set(base.defect_files) <= set(defects)


@pytest.mark.parametrize("name", ["mold.soft-cor", "mold.soft-core/nothing", "florble", ""])
def test_an_unknown_name_is_refused_with_a_way_on(base: RuleBase, name: str) -> None:
    with pytest.raises(BadInput) as caught:
        knowledge_lines(base, name, 80)

    assert caught.value.next_step


def test_a_page_speaks_to_a_shop_in_its_own_units_in_every_sentence(base: RuleBase) -> None:
    name = "burnout.flask-too-hot"
    assert "pour 25 C cooler each time" in text(base, name, "metric")
    page = text(base, name)
    # 1.8 x 25 = 45; 1.8 x 400 + 32 = 752 and 1.8 x 480 + 32 = 896, to five degrees; 5 / 25.4 = 0.197
    assert "pour 45 °F cooler each time" in page
    assert "750 to 895 °F for over 0.2 in (5 mm)" in page
