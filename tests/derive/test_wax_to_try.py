"""A hold or a wait that was too short: the next one is never under the guide of the bench, common practice.

The guide is 1.3 to 2.7 s for each square millimetre of gate diameter squared, and 3 to 6 min for a section of 4 mm.
"""

from __future__ import annotations

import pytest

from diagnose.consult import Consultant
from diagnose.derive.resolve import Resolver
from diagnose.model.case import Case, Recorded


def to_try(of: Consultant, name: str, **told: float) -> float:
    value = of.resolver.resolve({n.replace("_", " "): v for n, v in told.items()}).facts[name]
    assert isinstance(value, float)
    return value


@pytest.mark.parametrize("diameter", [1.5, 2.0, 2.5, 3.0])
@pytest.mark.parametrize("held", [1.0, 3.0, 10.0])
def test_the_next_hold_is_longer_and_not_under_the_guide_for_its_gate(
    of: Consultant, diameter: float, held: float
) -> None:
    tried = to_try(of, "hold to try", hold_time=held, wax_gate_diameter=diameter * 1e-3)
    assert tried >= held + 3.0
    assert tried >= min(1.3 * diameter**2, 20.0)
    assert tried <= max(2.7 * diameter**2, held + 5.0)


def test_a_thick_gate_is_held_no_longer_than_anybody_stands_and_then_pinched(of: Consultant) -> None:
    assert 20.0 <= to_try(of, "hold to try", hold_time=5.0, wax_gate_diameter=6e-3) <= 30.0
    assert to_try(of, "hold to try", hold_time=28.0, wax_gate_diameter=6e-3) == 28.0


def test_without_the_gate_a_step_more_is_tried(of: Consultant) -> None:
    assert 8.0 <= to_try(of, "hold to try", hold_time=5.0) <= 10.0


@pytest.mark.parametrize("section", [4.0, 5.0, 8.0])
def test_a_heavy_section_waits_three_to_six_minutes_at_once(of: Consultant, section: float) -> None:
    assert 180.0 <= to_try(of, "wait to try", time_in_the_mold=40.0, heaviest_section=section * 1e-3) <= 360.0


def test_who_waited_that_long_already_waits_a_step_more(of: Consultant) -> None:
    assert 430.0 <= to_try(of, "wait to try", time_in_the_mold=400.0, heaviest_section=8e-3) <= 460.0


def test_a_page_without_a_mold_temperature_keeps_to_its_own_guide(of: Consultant) -> None:
    case = Case(
        defect="wax.gate-crater",
        settings={
            "hold time": Recorded(typed="5 s", value=5.0),
            "wax gate diameter": Recorded(typed="3 mm", value=0.003),
        },
    )
    hold = {m.setting: m for m in of.diagnose(case).revised_settings}["hold time"]
    assert hold.to_si >= 1.3 * 3.0**2


@pytest.mark.parametrize("name", ["needed flask temperature", "cooler flask"])
@pytest.mark.parametrize(("method", "assumed"), [("spin casting", True), ("vacuum casting", False), ("", False)])
def test_a_colder_flask_for_spinning_is_assumed_for_nobody_else(
    of: Consultant, name: str, method: str, assumed: bool
) -> None:
    resolver: Resolver = of.resolver
    told = {"metal": "sterling", "thinnest section": 0.002, "flask temperature": 813.15}
    done = resolver.run_one(name, {**told, **({"casting method": method} if method else {})})
    assert ("metal spin flask drop" in done.assumed) is assumed
