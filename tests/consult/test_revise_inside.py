"""Where inside a window a setting is put, and that no value is put on a safety limit. Windows here are made up."""

from __future__ import annotations

from collections.abc import Iterable

import pytest

from diagnose import units
from diagnose.consult import Consultant
from diagnose.consult.proof import example_case
from diagnose.consult.revise_inside import inside_of, into_window
from diagnose.consult.revise_limits import Limit, kept_from_safety
from diagnose.consult.revise_words import Wording
from diagnose.consult.standing import side_of, window_of
from diagnose.model.diagnosis import Diagnosis
from diagnose.model.vocabulary import Setting, SettingWindow
from diagnose.rulebase.cases import case_from_text
from diagnose.rulebase.load import RuleBase

PSI = 6894.757


@pytest.fixture
def pressure(base: RuleBase) -> Setting:
    return base.words.settings["injection pressure"]


def window(low: float | None, high: float | None) -> SettingWindow:
    return SettingWindow(low=low, high=high, source="common practice")


@pytest.mark.parametrize(("before", "after"), [(16.0, 10.5), (2.0, 5.5), (3.5, 3.5), (12.9, 12.9)])
def test_a_value_from_outside_goes_to_the_middle_half_and_one_inside_stays(
    pressure: Setting, before: float, after: float
) -> None:
    # From 3 to 13 a quarter is 2.5, so the middle half is 5.5 to 10.5.
    found = into_window(pressure, window(3.0 * PSI, 13.0 * PSI), before * PSI)
    assert found == pytest.approx(after * PSI)


def test_a_window_with_one_end_is_kept_a_usual_step_away(pressure: Setting) -> None:
    assert pressure.usual_step == pytest.approx(1.5 * PSI, rel=1e-4)
    assert inside_of(pressure, window(None, 13.0 * PSI)).high == pytest.approx(11.5 * PSI, rel=1e-4)
    assert inside_of(pressure, window(3.0 * PSI, None)).low == pytest.approx(4.5 * PSI, rel=1e-4)


def test_a_quarter_of_a_usual_step_is_kept_from_a_safety_limit(base: RuleBase) -> None:
    # Wax: 3 K at a time, so 0.75 K. A cap of a quarter of the room binds only where both ends are close.
    assert kept_from_safety(base.words.settings["wax temperature"]) == pytest.approx(0.75)
    assert kept_from_safety(base.words.settings["cure time"]) == 0.0


def diagnosed(of: Consultant, text: str) -> Diagnosis:
    return of.diagnose(case_from_text(text, "case", of.base))


def every_diagnosis(of: Consultant) -> Iterable[Diagnosis]:
    for defect in of.base.all_defects():
        for example in defect.examples:
            yield of.diagnose(example_case(of, defect, example))


def test_a_page_has_one_number_for_a_setting(of: Consultant) -> None:
    met = 0
    for found in every_diagnosis(of):
        revised = {r.setting: r for r in found.revised_settings}
        for correction in found.corrections:
            for move in correction.moves:
                if move.setting in revised and move.from_si is not None:
                    met += 1
                    one = revised[move.setting]
                    assert (move.to, move.to_si, move.steps) == (one.to, one.to_si, one.steps), found.defect
    assert met > 50


def test_no_revised_setting_is_a_safety_limit_or_the_end_of_its_window(of: Consultant) -> None:
    moved = 0
    for defect in of.base.all_defects():
        for example in defect.examples:
            case = example_case(of, defect, example)
            facts = of.stand(case).resolved.facts
            for r in of.diagnose(case).revised_settings:
                setting = of.base.words.settings[r.setting]
                assert r.to_si is not None
                moved += 1
                if setting.safe and setting.safe.hold(facts):
                    assert r.to_si not in (pytest.approx(setting.safe.low), pytest.approx(setting.safe.high)), r
                here = window_of(setting, facts)
                if here and "inside its window" in r.why:
                    assert side_of(here, r.to_si) == "inside"
                    assert r.to_si not in (pytest.approx(here.low), pytest.approx(here.high)), r
    assert moved > 50


def test_flash_in_a_thin_ring_ends_well_inside_the_band_and_says_the_steps_twice(of: Consultant) -> None:
    # Rings of 1.5 to 3 mm take 5 to 8 psi (common practice). Its middle half is 5.75 to 7.25; a gauge is set by half
    # a psi, so 7. From 16 that is 9 psi, at 1.5 a time 6 times: 14.5, 13, ...
    text = "{defect: wax.flash, settings: {injection pressure: 16 psi, thinnest section: 2 mm}, observations: "
    found = diagnosed(of, text + "{pressure test: better lower}}")
    revised = next(r for r in found.revised_settings if r.setting == "injection pressure")
    assert (revised.from_, revised.to) == ("16 psi", "7 psi")
    assert revised.steps.startswith("In 6 steps of at most 1.5 psi: first to 14.5 psi, then 13 psi,")
    assert "no further than 7 psi" in revised.steps
    assert found.corrections[0].moves[0].steps == revised.steps
    assert any(m.limit == "accused above 10 psi" for m in revised.margins)  # and not by the bands of other sections


def test_a_mix_past_the_safety_limit_goes_to_its_label_or_asks_for_it(of: Consultant) -> None:
    # A label of 40 ml is mixed at 40 ml. 44 ml is where a mold breaks out, and no recipe (common practice).
    text = "{{defect: casting.fins, settings: {{water ratio: 46 ml/100 g{}}}}}"
    known = diagnosed(of, text.format(", label water: 39.5 ml/100 g"))
    ratio = next(r for r in known.revised_settings if r.setting == "water ratio")
    assert ratio.to_si == pytest.approx(
        units.quantity("39.5 ml/100 g", "ratio"), abs=0.11
    )  # by a fifth of a milliliter
    unknown = diagnosed(of, text.format(""))
    assert "water ratio" not in {r.setting for r in unknown.revised_settings}
    assert any(
        "water ratio" in says and "takes the" in says and "label water" in says for says in unknown.search.unsafe
    )


def test_a_safety_limit_is_passed_on_the_way_back_in_one_go(of: Consultant) -> None:
    # From 22 psi, one step of 1.5 psi would still be above the 18 psi that a pot may have.
    text = "{defect: wax.flash, settings: {injection pressure: 22 psi, thinnest section: 2 mm}, observations: "
    found = diagnosed(of, text + "{pressure test: better lower}}")
    revised = next(r for r in found.revised_settings if r.setting == "injection pressure")
    assert (revised.to, revised.steps) == ("7 psi", "")


def test_all_that_stops_a_change_is_named_and_not_the_first_only(of: Consultant) -> None:
    text = """
defect: casting.incomplete-fill
materials: {metal: sterling}
settings: {spin speed: 60 rpm, arm radius: 20 cm, metal surface radius: 15 cm, thinnest section: 0.3 mm}
observations: {casting method: spin casting}
"""
    found = diagnosed(of, text)
    case = case_from_text(text, "case", of.base)
    standing, told = of.stand(case), case.known()
    revision = of.reviser.revise(standing, told, (found.causes[0].id,), of.plans(standing, told))
    assert revision.problem is not None
    stopped = revision.problem.chooser.stopped
    assert set(stopped) == {"spin speed"}
    stopped["arm radius"] = Limit(0.25, "the case of the machine")
    says = Wording(of.base, of.show, revision).stopped_by()
    assert "spin speed is not moved further: the arm rating" in says
    assert "arm radius may not pass 9.84 in (the case of the machine)" in says  # 0.25 m / 0.0254
