"""Whatever was recorded: no revised setting leaves what is safe or plausible, and nothing new is accused.

The rules are read by the naive evaluator of the engine's tests, not by the engine; what is wanted is stated here again.
"""

from __future__ import annotations

from collections.abc import Mapping

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.consult import Consultant
from diagnose.consult.present import finding
from diagnose.consult.revision import Revision
from diagnose.consult.standing import windows_for
from diagnose.model.case import Case, Recorded
from diagnose.model.condition import Within, facts_of, leaves
from diagnose.model.knowledge import Rule
from diagnose.model.vocabulary import Setting
from tests.engine.reference import truth

CELSIUS, MINUTE, KPA, MM = 273.15, 60.0, 1000.0, 1e-3
WEIGHTS = ("slight", "positive", "strong", "very strong")
EXAMPLES = 12
Ranges = Mapping[str, tuple[float, float]]

SHOPS: dict[str, tuple[str, dict[str, str], dict[str, str], Ranges]] = {
    "soft block": (
        "mold.soft-core", {"rubber": "natural rubber"}, {"platen probe": "all within 3 C"},
        {"cure time": (10 * MINUTE, 200 * MINUTE), "platen temperature": (130 + CELSIUS, 200 + CELSIUS),
         "rubber thickness": (8 * MM, 55 * MM)},
    ),
    "sticky skin": (
        "mold.tacky-skin", {"rubber": "natural rubber"}, {"soft place": "skin"},
        {"cure time": (20 * MINUTE, 400 * MINUTE), "platen temperature": (140 + CELSIUS, 200 + CELSIUS),
         "rubber thickness": (8 * MM, 45 * MM)},
    ),
    "wax dips": (
        "wax.sinks", {}, {"temperature test": "better cooler"},
        {"wax temperature": (50 + CELSIUS, 100 + CELSIUS), "wax congealing point": (58 + CELSIUS, 72 + CELSIUS),
         "injection pressure": (2 * 6894.8, 30 * 6894.8), "mold temperature": (12 + CELSIUS, 45 + CELSIUS)},
    ),
    "wax flash": (
        "wax.flash", {}, {},
        {"injection pressure": (2 * 6894.8, 30 * 6894.8), "clamp force": (10.0, 400.0), "cavity area": (2e-4, 30e-4),
         "mold temperature": (15 + CELSIUS, 40 + CELSIUS)},
    ),
    "spongy casting": (
        "casting.shrink-porosity", {"metal": "sterling"}, {},
        {"gate diameter": (1 * MM, 8 * MM), "heaviest section": (1 * MM, 8 * MM),
         "heaviest section width": (8 * MM, 9 * MM), "thinnest section": (0.5 * MM, 1 * MM),
         "flask temperature": (300 + CELSIUS, 1050 + CELSIUS),
         "pour temperature": (900 + CELSIUS, 1150 + CELSIUS)},
    ),
    "rough casting": (
        "casting.rough-surface", {"metal": "sterling", "investment": "gypsum investment"}, {},
        {"burnout top temperature": (650 + CELSIUS, 850 + CELSIUS), "burnout top hold": (0.0, 5 * 60 * MINUTE),
         "flask diameter": (60 * MM, 150 * MM), "flask temperature": (80 + CELSIUS, 800 + CELSIUS),
         "heaviest section": (2 * MM, 8 * MM), "thinnest section": (0.5 * MM, 2 * MM)},
    ),
}  # fmt: skip


def cases(shop: str) -> st.SearchStrategy[Case]:
    defect, materials, seen, ranges = SHOPS[shop]
    numbers = st.fixed_dictionaries({name: st.floats(low, high) for name, (low, high) in ranges.items()})
    return numbers.map(
        lambda found: Case(
            defect=defect, materials=materials, observations=seen,
            settings={name: Recorded(typed="", value=value) for name, value in found.items()},
        )
    )  # fmt: skip


def accused(of: Consultant, stage: str, told: Mapping[str, object]) -> dict[tuple[str, tuple[str, ...]], Rule]:
    """Return, of all defects of a stage, the heaviest accusation of each cause by each set of numbers."""
    facts = of.resolver.resolve(told).facts  # type: ignore[arg-type]
    windows = windows_for(of.base, facts)
    found: dict[tuple[str, tuple[str, ...]], Rule] = {}
    for rule in (r for d in of.base.all_defects() if d.stage == stage for r in d.rules() if r.speaks == "for"):
        key = (rule.cause, facts_of(rule.when))
        heavier = key not in found or WEIGHTS.index(rule.weight) > WEIGHTS.index(found[key].weight)
        if rule.weight != "slight" and heavier and facts.keys() >= set(key[1]) and truth(rule.when, facts, windows):
            found[key] = rule
    return found


def excused(of: Consultant, rule: Rule) -> bool:
    """Say whether a rule looks at what was seen, or accuses because a number is right: an error near nothing."""
    middle = any(
        isinstance(leaf, Within) and leaf.low is not None and leaf.high is not None and leaf.low < 0.0 < leaf.high
        for leaf in leaves(rule.when)
    )
    return middle or any(fact in of.base.words.observations for fact in facts_of(rule.when))


def revise(of: Consultant, case: Case) -> Revision:
    standing, told = of.stand(case), case.known()
    leading = finding(of, standing, []).leading
    return of.reviser.revise(standing, told, leading, of.plans(standing, told))


@pytest.mark.parametrize("shop", SHOPS)
def test_no_revised_setting_leaves_what_is_safe_and_nothing_new_is_accused(of: Consultant, shop: str) -> None:
    moved = 0

    @given(cases(shop))
    @settings(max_examples=EXAMPLES)
    def all_of_them(case: Case) -> None:
        nonlocal moved
        told, found = case.known(), revise(of, case)
        facts = of.resolver.resolve(told).facts
        for move in found.moves:
            assert_allowed(of.base.words.settings[move.setting], move.after, facts)
        if found.moves:
            moved += 1
            then = {**told, **{m.setting: m.after for m in found.moves}}
            assert_nothing_new(of, of.base.defect(case.defect).stage, told, then)
            if found.found.best:
                assert_cleared(of, found, then)

    all_of_them()
    assert moved >= 3  # the shop is bad enough for the test to say something


def assert_allowed(setting: Setting, value: float, facts: Mapping[str, object]) -> None:
    slack = 1e-9 * abs(value)
    assert setting.plausible_low - slack <= value <= setting.plausible_high + slack
    if setting.safe and setting.safe.hold(facts):
        assert setting.safe.low is None or value > setting.safe.low + slack  # nor is the limit itself a value to set
        assert setting.safe.high is None or value < setting.safe.high - slack


def assert_nothing_new(of: Consultant, stage: str, told: Mapping[str, object], then: Mapping[str, object]) -> None:
    before = accused(of, stage, told)
    for key, rule in accused(of, stage, then).items():
        old = before.get(key)
        known = old is not None and WEIGHTS.index(old.weight) >= WEIGHTS.index(rule.weight)
        assert known or excused(of, rule), (rule.cause, rule.when)


def assert_cleared(of: Consultant, found: Revision, then: Mapping[str, object]) -> None:
    facts = of.resolver.resolve(then).facts  # type: ignore[arg-type]
    windows = windows_for(of.base, facts)
    for goal in found.goals:
        assert all(fact in facts for fact in facts_of(goal.when))
        assert truth(goal.when, facts, windows) is not True
