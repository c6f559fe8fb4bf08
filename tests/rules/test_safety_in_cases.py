"""Whole cases with dangerous numbers: the caution appears, and no proposed setting leaves what is safe.

The limits are shop rules (common practice). Where a number follows from physics the law is named beside the check:
the rate of cure (Arrhenius) and the lag of heat in a slab, the square of its thickness over the diffusivity (Carslaw &
Jaeger, Conduction of Heat in Solids, 1959, from memory).
"""

from __future__ import annotations

import pytest

from diagnose.consult import Consultant
from diagnose.consult.standing import stand
from diagnose.model.case import Case, Recorded
from diagnose.model.diagnosis import CorrectionShown, Diagnosis
from diagnose.rulebase.cases import fact_value
from diagnose.rulebase.load import RuleBase

KELVIN = 273.15
PSI = 6894.757  # NIST SP 811 (2008), appendix B
HEAVY = ("strong", "very strong")


def case(base: RuleBase, defect: str, **told: str) -> Case:
    """Return a case from facts written as a shop writes them (underscores for blanks)."""
    kinds: dict[str, dict[str, object]] = {"materials": {}, "settings": {}, "observations": {}}
    for key, typed in told.items():
        name = key.replace("_", " ")
        value = fact_value(base, name, typed)
        kind = (
            "settings" if isinstance(value, Recorded) else "materials" if name in base.words.slots else "observations"
        )
        kinds[kind][name] = value
    return Case.model_validate({"defect": defect, **kinds})


def shown(found: Diagnosis, cause: str) -> list[CorrectionShown]:
    return [c for c in found.corrections if c.cause == cause]


def target(correction: CorrectionShown, setting: str) -> float | None:
    return next((m.to_si for m in correction.moves if m.setting == setting), None)


@pytest.mark.parametrize(("thickness", "minutes"), [("25.4 mm", "60 min"), ("25.4 mm", "57 min"), ("32 mm", "75 min")])
def test_a_cure_by_the_ordinary_rule_is_not_called_too_short(of: Consultant, thickness: str, minutes: str) -> None:
    told = case(
        of.base, "mold.soft-core", rubber="natural rubber", platen_temperature="148 C", rubber_thickness=thickness,
        cure_time=minutes,
    )  # fmt: skip
    standing = of.stand(told)
    accused = [r for r in standing.applied if r.speaks == "for" and r.weight in HEAVY]
    assert accused == []


def test_ten_degrees_cooler_does_not_double_the_time_in_the_press(of: Consultant) -> None:
    """Only the chemistry doubles (Arrhenius); the lag of the heat, L2/a, stays (Carslaw & Jaeger 1959)."""

    def needed(platens: str) -> float:
        told = case(
            of.base, "mold.soft-core", rubber="natural rubber", platen_temperature=platens, rubber_thickness="25.4 mm",
            cure_time="60 min",
        )  # fmt: skip
        facts = stand(of.desk("mold.soft-core"), of.resolver, told.known()).resolved.facts
        used, ratio = told.known()["cure time"], facts["cure time against need"]
        assert isinstance(used, float)
        assert isinstance(ratio, float)
        return used / ratio

    assert 1.15 < needed("143 C") / needed("153 C") < 1.7


@pytest.mark.parametrize(("thickness", "minutes"), [("38 mm", "40 min"), ("50.8 mm", "60 min"), ("32 mm", "30 min")])
def test_a_longer_cure_never_gives_the_skin_more_than_it_takes(of: Consultant, thickness: str, minutes: str) -> None:
    """The proposed numbers, put back in as if they had been used, keep the skin at 8 times t90 or the press cooler."""
    told = case(
        of.base, "mold.soft-core", rubber="natural rubber", platen_temperature="153 C", rubber_thickness=thickness,
        cure_time=minutes, soft_place="core",
    )  # fmt: skip
    found = of.diagnose(told)
    moved = [c for c in shown(found, "mold.cure-time-short") if target(c, "cure time") is not None]
    assert moved
    for correction in moved:
        facts = {**told.known(), **{m.setting: m.to_si for m in correction.moves}}
        then = stand(of.desk("mold.soft-core"), of.resolver, facts).resolved.facts
        over = then["skin overcure"]
        assert isinstance(over, float)
        coolest = then["rubber coolest cure"]
        platens = facts["platen temperature"]
        assert over <= 8.2 or platens == pytest.approx(coolest, abs=1.0)
        assert isinstance(platens, float)
        assert platens <= 153 + KELVIN


def test_a_press_run_far_too_hot_is_brought_down_and_not_only_run_shorter(of: Consultant) -> None:
    found = of.diagnose(
        case(
            of.base, "mold.tacky-skin", rubber="natural rubber", platen_temperature="175 C", rubber_thickness="25 mm",
            cure_time="90 min", soft_place="skin",
        )
    )  # fmt: skip
    to = [target(c, "platen temperature") for c in shown(found, "mold.cure-too-long")]
    assert to
    assert all(t is not None and t <= 165 + KELVIN for t in to)


def test_a_pressure_above_the_marking_is_warned_of_first_and_not_raised(of: Consultant) -> None:
    found = of.diagnose(
        case(
            of.base, "wax.incomplete-fill", injection_pressure="12 psi", marked_pot_pressure="8 psi",
            pressure_test="better higher",
        )
    )  # fmt: skip
    assert found.cautions[0] == of.base.hazards["pressure pot"].says
    for correction in found.corrections:
        to = target(correction, "injection pressure")
        assert to is None or to <= 8 * PSI * (1 + 1e-6)


def test_no_pressure_is_proposed_for_a_pot_whose_marking_is_not_known(of: Consultant) -> None:
    told = {"injection_pressure": "9 psi", "pressure_test": "better higher"}
    unknown = of.diagnose(case(of.base, "wax.incomplete-fill", **told))
    known = of.diagnose(case(of.base, "wax.incomplete-fill", **told, marked_pot_pressure="15 psi"))
    assert [target(c, "injection pressure") for c in shown(unknown, "wax.pressure-too-low")] == [None]
    to = [target(c, "injection pressure") for c in shown(known, "wax.pressure-too-low")]
    assert to == [pytest.approx(10.5 * PSI, rel=1e-4)]


@pytest.mark.parametrize(("now", "most"), [("75 C", 77.0), ("76.5 C", 77.0), ("84 C", 77.0), ("90 C", 77.0)])
def test_wax_is_not_raised_beyond_fifteen_over_its_congealing_point(of: Consultant, now: str, most: float) -> None:
    found = of.diagnose(
        case(
            of.base, "wax.incomplete-fill", wax_temperature=now, wax_congealing_point="62 C",
            temperature_test="better hotter",
        )
    )  # fmt: skip
    to = [target(c, "wax temperature") for c in shown(found, "wax.wax-too-cold")]
    assert to
    assert all(t is not None and t <= most + KELVIN + 0.01 for t in to)


def test_wax_is_not_lowered_to_where_it_sets(of: Consultant) -> None:
    told = {"wax_temperature": "67.5 C", "temperature_test": "better cooler", "probe_in_the_pot": "hotter"}
    found = of.diagnose(case(of.base, "wax.sinks", **told, wax_congealing_point="62 C"))
    to = [target(c, "wax temperature") for c in shown(found, "wax.wax-too-hot")]
    # 4 over 62 C is 66 C, 150.8 °F: a dial in whole degrees stops at 151 °F, and never under it.
    assert to == [pytest.approx((151 - 32) / 1.8 + KELVIN, abs=0.01)]
    blind = of.diagnose(case(of.base, "wax.sinks", **told))
    assert [target(c, "wax temperature") for c in shown(blind, "wax.wax-too-hot")] == [None]


HIGHER = {"pressure_test": "better higher"}
HOT = {"temperature_test": "better hotter"}
COOL = {"temperature_test": "better cooler"}
GUM = {"rubber": "natural rubber"}
WILD = [
    ("wax.incomplete-fill", {**HIGHER, "injection_pressure": "30 psi", "marked_pot_pressure": "60 psi"}),
    ("wax.incomplete-fill", {**HOT, "wax_temperature": "110 C", "wax_congealing_point": "80 C"}),
    ("wax.sinks", {**COOL, "wax_temperature": "110 C", "wax_congealing_point": "62 C"}),
    ("mold.soft-core", {**GUM, "platen_temperature": "200 C", "rubber_thickness": "50 mm", "cure_time": "10 min"}),
    ("mold.soft-core", {**GUM, "platen_temperature": "135 C", "rubber_thickness": "25 mm", "cure_time": "30 min"}),
    ("mold.tacky-skin", {**GUM, "platen_temperature": "200 C", "rubber_thickness": "20 mm", "cure_time": "2 h"}),
]


@pytest.mark.parametrize(("defect", "told"), WILD, ids=lambda x: str(x)[:30])
def test_no_revised_setting_leaves_its_safe_range(of: Consultant, defect: str, told: dict[str, str]) -> None:
    found = of.diagnose(case(of.base, defect, **told))
    numbers = [m for c in found.corrections for m in c.moves]
    assert numbers
    for move in numbers:
        safe = of.base.words.settings[move.setting].safe
        if safe is None or move.to_si is None:
            continue
        assert safe.high is None or move.to_si <= safe.high * (1 + 1e-9), (move.setting, move.to)
        assert safe.low is None or move.to_si >= safe.low * (1 - 1e-9), (move.setting, move.to)


def test_a_frame_opened_hot_brings_its_caution_to_the_top(of: Consultant) -> None:
    found = of.diagnose(case(of.base, "mold.voids", opened_at="hot"))
    assert found.cautions[0] == of.base.hazards["hot frame under pressure"].says


@pytest.mark.parametrize(
    "told", [{"froth_without_vacuum": "smokes or smells"}, {"wax_temperature": "100 C"}, {"wax_temperature": "205 F"}]
)
def test_a_smoking_or_overheated_pot_is_switched_off_before_anything_else(of: Consultant, told: dict[str, str]) -> None:
    found = of.diagnose(case(of.base, "wax.pot-froths", **told, probe_in_the_pot="hotter"))
    assert found.cautions[0] == of.base.hazards["wax fire"].says
    hot = shown(found, "wax.wax-too-hot")
    assert hot[0].do.startswith("Switch the pot off")
    assert "under 85 C" in hot[0].do
    proposed = [t for c in found.corrections if (t := target(c, "wax temperature")) is not None]
    assert all(t <= 85 + KELVIN for t in proposed)


def test_a_pot_at_its_usual_heat_is_not_told_to_switch_off(of: Consultant) -> None:
    told = {"wax_temperature": "72 C", "temperature_test": "better cooler", "probe_in_the_pot": "hotter"}
    found = of.diagnose(case(of.base, "wax.sinks", **told))
    assert not [c for c in shown(found, "wax.wax-too-hot") if "Switch the pot off" in c.do]


@pytest.mark.parametrize(("now", "accused"), [("64 C", "wax.wax-too-cold"), ("80 C", "wax.wax-too-hot")])
def test_wax_heat_is_judged_from_the_congealing_point_of_that_wax(of: Consultant, now: str, accused: str) -> None:
    for defect in ("wax.incomplete-fill", "wax.sinks"):
        standing = of.stand(case(of.base, defect, wax_temperature=now, wax_congealing_point="62 C"))
        by = {r.cause for r in standing.applied if r.speaks == "for" and "over congealing" in str(r.when)}
        assert by <= {accused}
        listed = {c.cause for c in of.base.defect(defect).candidates}
        assert by == {accused} & listed
