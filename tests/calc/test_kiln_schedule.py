"""Kiln curves, against the same curve sampled and summed."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.calc.kiln_schedule import (
    Schedule,
    Step,
    exposure_above,
    schedule_of,
    steepest,
    time_above,
)
from diagnose.errors import OutOfRange

steps = st.builds(Step, st.floats(300.0, 1100.0), st.floats(0.0, 20000.0), st.floats(0.005, 0.2))
schedules = st.builds(Schedule, st.floats(280.0, 420.0), st.lists(steps, min_size=1, max_size=6).map(tuple))


def sampled(schedule: Schedule) -> tuple[np.ndarray, np.ndarray]:
    """Time and temperature of the kiln at many evenly spaced moments."""
    times, temperatures = [0.0], [schedule.start]
    for step in schedule.steps:
        times.append(times[-1] + abs(step.temperature - temperatures[-1]) / step.rate)
        temperatures.append(step.temperature)
        times.append(times[-1] + step.hold)
        temperatures.append(step.temperature)
    fine = np.linspace(0.0, times[-1], 200001)
    return fine, np.interp(fine, times, temperatures)


@given(schedules)
def test_duration_is_the_sum_of_ramps_and_holds(schedule: Schedule) -> None:
    assert schedule.duration == pytest.approx(sampled(schedule)[0][-1], abs=1e-6)


@given(schedules, st.floats(300.0, 1000.0))
def test_time_and_exposure_above_agree_with_the_sampled_curve(schedule: Schedule, level: float) -> None:
    times, curve = sampled(schedule)
    tick = times[-1] / 200000
    assert time_above(schedule, level) == pytest.approx(
        float((curve >= level).mean() * times[-1]), abs=20 * tick + 1e-6
    )
    area = float(np.trapezoid(np.maximum(curve - level, 0.0), times))
    assert exposure_above(schedule, level) == pytest.approx(area, rel=1e-3, abs=800 * tick + 1.0)


def test_a_three_hold_burnout_by_hand() -> None:
    # 150 degC 2 h, 370 degC 1 h, 732 degC 3 h at 2 degrees a minute from 22 degC: 64 + 110 + 181 min of ramps
    holds = schedule_of(295.15, [423.15, 643.15, 1005.15], [7200.0, 3600.0, 10800.0], [2 / 60] * 3)
    assert holds.duration / 60 == pytest.approx(64 + 110 + 181 + 360)
    assert holds.top == 1005.15
    # over 100 degC up to the end of the hold at 370: 25 min x 25, 120 x 50, 110 x 160, 60 x 270 degree minutes
    assert exposure_above(holds, 373.15, 643.15) / 60 == pytest.approx(25 * 25 + 120 * 50 + 110 * 160 + 60 * 270)


def test_the_steepest_ramp_counts_only_where_it_crosses_the_band() -> None:
    kiln = schedule_of(295.15, [423.15, 1005.15, 800.0], [0.0, 0.0, 0.0], [0.10, 0.02, -0.05])
    assert steepest(kiln, 453.15, 593.15) == pytest.approx(0.02)
    assert steepest(kiln, 813.15, 873.15) == pytest.approx(0.05)
    assert steepest(kiln, 295.15, 400.0) == pytest.approx(0.10)
    assert steepest(kiln, 1010.0, 1020.0) == 0.0


def test_lists_that_do_not_belong_together_are_refused() -> None:
    with pytest.raises(OutOfRange, match="2 hold temperatures, 1 hold times and 2 ramps"):
        schedule_of(295.15, [423.15, 1005.15], [3600.0], [0.02, 0.02])


@pytest.mark.parametrize(
    ("temperature", "hold", "rate"),
    [(100.0, 0.0, 0.02), (1005.15, -1.0, 0.02), (1005.15, 60.0, 0.0), (1005.15, 60.0, 5.0), (float("nan"), 60.0, 0.02)],
)
def test_a_step_that_no_kiln_makes_is_refused(temperature: float, hold: float, rate: float) -> None:
    with pytest.raises(OutOfRange):
        Step(temperature, hold, rate)


def test_a_schedule_without_holds_and_a_band_upside_down_are_refused() -> None:
    with pytest.raises(OutOfRange, match="without a hold"):
        Schedule(295.15, ())
    with pytest.raises(OutOfRange, match="is none"):
        steepest(schedule_of(295.15, [400.0], [0.0], [0.1]), 500.0, 400.0)
