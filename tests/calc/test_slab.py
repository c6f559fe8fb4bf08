"""Temperatures of a slab through several phases, against an independent method of lines."""

from __future__ import annotations

from math import inf

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from diagnose.calc.slab import Faces, Phase, Profile, Slab
from diagnose.errors import OutOfRange

INCH = Slab(0.0254, 0.9e-7, 0.153)
PLACES = np.array([-1.0, -0.5, 0.0, 0.5, 1.0])


def lines(slab: Slab, faces: Faces, begin: np.ndarray, times: np.ndarray) -> np.ndarray:
    """Temperatures at every node over time, by central differences across the slab and a stiff integrator."""
    cells = len(begin) - 1
    step = slab.thickness / cells
    pace = slab.diffusivity / step**2
    held = np.isinf(faces.heat_transfer)
    gain = 0.0 if held else faces.heat_transfer * step / slab.conductivity

    def change(t: float, kelvin: np.ndarray) -> np.ndarray:
        slope = np.empty_like(kelvin)
        slope[1:-1] = pace * (kelvin[2:] - 2 * kelvin[1:-1] + kelvin[:-2])
        low, high = faces.bottom + faces.bottom_rate * t, faces.top + faces.top_rate * t
        if held:
            slope[0], slope[-1] = faces.bottom_rate, faces.top_rate
        else:
            slope[0] = 2 * pace * (kelvin[1] - kelvin[0] + gain * (low - kelvin[0]))
            slope[-1] = 2 * pace * (kelvin[-2] - kelvin[-1] + gain * (high - kelvin[-1]))
        return slope

    start = begin.copy()
    if held:
        start[0], start[-1] = faces.bottom, faces.top
    solved = solve_ivp(change, (0, times[-1]), start, "LSODA", times, rtol=1e-8, atol=1e-7, lband=1, uband=1)
    return solved.y


@pytest.mark.parametrize("transfer", [inf, 1000.0, 100.0, 10.0])
@pytest.mark.parametrize(("rise", "other"), [(0.0, 0.0), (0.02, 0.02), (0.03, 0.01)])
def test_unequal_and_rising_platens_agree_with_the_method_of_lines(transfer: float, rise: float, other: float) -> None:
    faces = Faces(400.0, 430.0, transfer, rise, other)
    times = np.array([60.0, 300.0, 900.0, 1800.0])

    found = Phase(INCH, faces, Profile(296.15), 80).temperatures(times, PLACES)

    nodes = lines(INCH, faces, np.full(401, 296.15), times)
    assert found == pytest.approx(nodes[[0, 100, 200, 300, 400]].T, abs=0.01)


@pytest.mark.parametrize("transfer", [10.0, 500.0, inf])
def test_cooling_from_a_half_heated_profile_agrees_with_the_method_of_lines(transfer: float) -> None:
    hot = Phase(INCH, Faces(420.0, 430.0, 1000.0), Profile(296.15), 80)
    cold = Phase(INCH, Faces(293.15, 293.15, transfer), hot.profile(900.0), 120)
    times = np.array([60.0, 600.0, 3600.0])

    found = cold.temperatures(times, PLACES)

    heated = lines(INCH, Faces(420.0, 430.0, 1000.0), np.full(401, 296.15), np.array([900.0]))[:, -1]
    nodes = lines(INCH, Faces(293.15, 293.15, transfer), heated, times)
    assert found == pytest.approx(nodes[[0, 100, 200, 300, 400]].T, abs=0.02)


@settings(max_examples=30, deadline=None)
@given(
    first=st.sampled_from([inf, 2000.0, 50.0]),
    then=st.sampled_from([inf, 500.0, 10.0]),
    bottom=st.floats(380, 440),
    top=st.floats(380, 440),
)
def test_a_profile_handed_over_is_where_the_next_phase_begins(
    first: float, then: float, bottom: float, top: float
) -> None:
    hot = Phase(INCH, Faces(bottom, top, first), Profile(296.15), 60)
    inside = np.linspace(-0.9, 0.9, 7)

    handed = Phase(INCH, Faces(300.0, 300.0, then), hot.profile(700.0), 200)

    assert handed.temperatures(np.array([1e-6]), inside)[0] == pytest.approx(hot.profile(700.0).at(inside), abs=2.0)
    # nothing is lost to the middle in the first second: heat needs many minutes to get there
    assert handed.temperatures(np.array([1.0]), np.array([0.0]))[0, 0] == pytest.approx(
        hot.temperatures(np.array([700.0]), np.array([0.0]))[0, 0], abs=0.1
    )


@settings(max_examples=40, deadline=None)
@given(
    bottom=st.floats(350, 450),
    top=st.floats(350, 450),
    transfer=st.sampled_from([inf, 800.0, 20.0]),
    time=st.floats(30, 7200),
)
def test_turning_the_press_over_turns_the_temperatures_over(
    bottom: float, top: float, transfer: float, time: float
) -> None:
    one = Phase(INCH, Faces(bottom, top, transfer), Profile(296.15)).temperatures(np.array([time]), PLACES)
    other = Phase(INCH, Faces(top, bottom, transfer), Profile(296.15)).temperatures(np.array([time]), PLACES)

    assert one[0] == pytest.approx(other[0][::-1], abs=1e-9)


def test_a_middle_between_unequal_platens_warms_as_between_equal_ones_at_their_mean() -> None:
    # By symmetry the difference has no share in the middle plane.
    times = np.array([100.0, 1000.0, 5000.0])
    unequal = Phase(INCH, Faces(416.15, 436.15, 700.0), Profile(296.15)).temperatures(times, np.array([0.0]))
    equal = Phase(INCH, Faces(426.15, 426.15, 700.0), Profile(296.15)).temperatures(times, np.array([0.0]))

    assert unequal == pytest.approx(equal, abs=1e-9)


def test_unequal_platens_end_in_a_straight_line_with_a_step_at_each_contact() -> None:
    # Steady heat flow through two contacts and the slab in series: 30 K over 2/h + d/k (any heat transfer text).
    flow = 30.0 / (2 / 500.0 + 0.0254 / 0.153)

    ends = Phase(INCH, Faces(400.0, 430.0, 500.0), Profile(296.15)).temperatures(np.array([1e6]), PLACES)[0]

    assert ends[0] == pytest.approx(400.0 + flow / 500.0)
    assert ends[4] == pytest.approx(430.0 - flow / 500.0)
    assert ends[2] == pytest.approx(415.0)


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: Slab(0.0, 1e-7), "the thickness is 0"),
        (lambda: Slab(0.02, -1e-7), "diffusivity"),
        (lambda: Slab(0.02, 1e-7).biot(100.0), "conductivity is inf"),
        (lambda: Slab(0.02, 1e-7, 0.15).biot(0.0), "heat transfer at the face"),
        (lambda: Phase(INCH, Faces(5000.0, 400.0), Profile(300.0)), "the bottom face"),
        (lambda: Phase(INCH, Faces(400.0, float("nan")), Profile(300.0)), "the top face"),
        (lambda: Phase(INCH, Faces(400.0, 400.0), Profile(20.0)), "starting temperature is 20 K"),
    ],
)
def test_what_cannot_be_is_refused(call, says: str) -> None:
    with pytest.raises(OutOfRange, match=says):
        call()
