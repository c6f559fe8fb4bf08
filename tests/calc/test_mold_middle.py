"""The middle of a mold through a burnout, against finite differences and the step and ramp formulas."""

from math import inf

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.sparse import diags, identity, kron
from scipy.sparse.linalg import splu

from diagnose.calc.flask_heat import Mold, mold_missing_share, ramp_lag
from diagnose.calc.kiln_schedule import Schedule, Step
from diagnose.calc.mold_middle import lag_at_end, middle_of_mold, soak_needed
from diagnose.errors import OutOfRange

BURNOUT = Schedule(
    295.15,
    (
        Step(423.15, 7200.0, 0.06),
        Step(643.15, 3600.0, 0.05),
        Step(1005.15, 5400.0, 0.04),
        Step(813.15, 1800.0, 0.05),
    ),
)


def by_finite_differences(schedule: Schedule, mold: Mold, rings: int, layers: int, tick: float) -> list[float]:
    """Temperature of the middle at the end of each leg: rings and layers (upper half), Crank-Nicolson in time."""
    dr = mold.radius / rings
    edges = np.linspace(0.0, mold.radius, rings + 1)
    volume = 0.5 * (edges[1:] ** 2 - edges[:-1] ** 2)
    inner, outer = edges[:-1] / dr / volume, edges[1:] / dr / volume
    outer[-1] *= 2.0
    cells = diags([inner[1:], -(inner + outer), outer[:-1]], [-1, 0, 1])
    feed = np.zeros((rings, layers))
    feed[-1, :] += outer[-1]
    operator = kron(cells, identity(layers))
    if mold.half_height != inf:
        dz = mold.half_height / layers
        middle = np.full(layers, -2.0)
        middle[0], middle[-1] = -1.0, -3.0
        along = diags([np.ones(layers - 1), middle, np.ones(layers - 1)], [-1, 0, 1]) / dz**2
        operator = operator + kron(identity(rings), along)
        feed[:, -1] += 2.0 / dz**2
    operator, source = (mold.diffusivity * operator).tocsc(), mold.diffusivity * feed.ravel()
    state, found = np.full(rings * layers, schedule.start), []
    for leg in schedule.legs():
        count = max(1, round(leg.time / tick))
        step = leg.time / count
        ahead = splu((identity(rings * layers) - 0.5 * step * operator).tocsc())
        behind = identity(rings * layers) + 0.5 * step * operator
        for n in range(count):
            kiln = leg.start + leg.rate * (n + 0.5) * step
            state = ahead.solve(behind @ state + step * kiln * source)
        found.append(float(state[0]))
    return found


def test_a_long_mold_agrees_with_finite_differences() -> None:
    mold = Mold(0.0445, 1.8e-7)
    ours = [temperature for _, temperature in middle_of_mold(BURNOUT, mold)]
    assert ours == pytest.approx(by_finite_differences(BURNOUT, mold, 200, 1, 10.0), abs=0.15)


def test_a_short_mold_agrees_with_finite_differences() -> None:
    mold = Mold(0.0381, 2.5e-7, 0.0445)
    ours = [temperature for _, temperature in middle_of_mold(BURNOUT, mold)]
    assert ours == pytest.approx(by_finite_differences(BURNOUT, mold, 40, 40, 30.0), abs=0.2)


def test_a_very_steep_ramp_is_a_step() -> None:
    mold = Mold(0.0381, 3e-7)
    stepped = Schedule(1005.15, (Step(773.15, 1800.0, 2.0),))
    share = mold_missing_share(mold, 1800.0 + 0.5 * 232.0 / 2.0)
    assert middle_of_mold(stepped, mold)[-1][1] == pytest.approx(773.15 + 232.0 * share, abs=0.1)


@given(st.floats(0.02, 0.05), st.floats(1.2e-7, 4e-7), st.floats(0.005, 0.1), st.floats(0.6, 4.0))
@settings(deadline=None)
def test_on_a_long_ramp_the_lag_is_that_of_the_handbook(
    radius: float, diffusivity: float, rate: float, reach: float
) -> None:
    mold = Mold(radius, diffusivity, reach * radius)
    time = 3.0 * radius**2 / diffusivity
    ramp = Schedule(300.0, (Step(min(300.0 + rate * time, 1490.0), 0.0, rate),))
    if ramp.duration >= 0.9 * time:
        assert lag_at_end(ramp, mold) == pytest.approx(ramp_lag(mold, rate), rel=2e-3)


@given(st.floats(0.02, 0.06), st.floats(1e-7, 4e-7), st.floats(5.0, 40.0), st.floats(0.005, 0.1))
@settings(deadline=None, max_examples=40)
def test_after_the_needed_soak_the_middle_is_as_near_as_asked(
    radius: float, diffusivity: float, tolerance: float, rate: float
) -> None:
    mold = Mold(radius, diffusivity)
    ending = Schedule(1005.15, (Step(1005.15, 0.0, rate), Step(773.15, 0.0, rate)))
    soak = soak_needed(ending, mold, tolerance)
    done = Schedule(1005.15, (Step(773.15, soak, rate),))
    assert abs(lag_at_end(done, mold)) <= tolerance * 1.001
    if soak > 0.0:
        short = Schedule(1005.15, (Step(773.15, 0.95 * soak, rate),))
        assert abs(lag_at_end(short, mold)) > tolerance


@given(st.floats(0.02, 0.06), st.floats(1e-7, 4e-7))
@settings(deadline=None, max_examples=40)
def test_the_middle_never_leaves_the_range_of_the_kiln(radius: float, diffusivity: float) -> None:
    for _, temperature in middle_of_mold(BURNOUT, Mold(radius, diffusivity, 1.3 * radius)):
        assert 295.0 <= temperature <= 1005.2


def test_coming_down_too_short_a_soak_leaves_the_middle_hotter() -> None:
    assert lag_at_end(BURNOUT, Mold(0.0508, 1.8e-7)) < -12.0


def test_a_tolerance_of_nothing_is_refused() -> None:
    with pytest.raises(OutOfRange, match="tolerance"):
        soak_needed(BURNOUT, Mold(0.0381, 2e-7), 0.0)
