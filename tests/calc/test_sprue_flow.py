"""Flow down a sprue against a worked textbook example and a library of fluid formulas."""

from __future__ import annotations

import pytest
from fluids.core import head_from_P

from diagnose.calc.sprue_flow import flow_under_head
from diagnose.errors import OutOfRange


def test_the_gating_example_of_the_textbook() -> None:
    # Groover 2010 (from memory): sprue 20 cm, base 2.5 cm2, mold 1560 cm3: 198.1 cm/s, 495.3 cm3/s, 3.2 s
    speed, flow = flow_under_head(0.20, 2.5e-4)
    assert speed * 100 == pytest.approx(198.1, abs=0.05)
    assert flow * 1e6 == pytest.approx(495.2, abs=0.3)
    assert 1560e-6 / flow == pytest.approx(3.15, abs=0.005)


@pytest.mark.parametrize("head", [0.01, 0.05, 0.3])
def test_the_stream_carries_the_pressure_of_its_head(head: float) -> None:
    # Bernoulli: rho v2 / 2 is the pressure of a column of that height
    density = 9300.0
    pressure = density * flow_under_head(head, 1e-5)[0] ** 2 / 2
    assert head_from_P(pressure, density) == pytest.approx(head)


@pytest.mark.parametrize(("head", "area"), [(0.0, 1.0), (1.0, 0.0), (-1.0, 1.0), (float("nan"), 1.0)])
def test_no_head_or_no_section_is_refused(head: float, area: float) -> None:
    with pytest.raises(OutOfRange):
        flow_under_head(head, area)
