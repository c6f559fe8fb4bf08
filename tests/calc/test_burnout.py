"""Burnout plans: they keep their own limits, whatever the flask, and fit the trade's schedules."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.calc.burnout import BOILING, BurnoutLimits, plan_burnout, ramp_for, scaled_hold, start_time
from diagnose.calc.dryness import drying_dose
from diagnose.calc.flask_heat import Mold, ramp_lag
from diagnose.calc.kiln_schedule import Schedule, exposure_above, steepest
from diagnose.calc.mold_middle import lag_at_end, middle_of_mold
from diagnose.errors import OutOfRange

HOUR = 3600.0


def celsius(temperature: float) -> float:
    return temperature + 273.15


# common practice for plaster molds
PLASTER = BurnoutLimits(
    loading=celsius(22), drain=celsius(150), drain_hold=2 * HOUR, gentle_rate=1.5 / 60, gentle_until=celsius(250),
    dry=celsius(370), dry_hold=HOUR, top=celsius(732), top_hold=3 * HOUR, ceiling=celsius(750), fastest=4 / 60,
    lag=50.0, tolerance=12.0,
)  # fmt: skip

molds = st.builds(
    lambda diameter, a, reach: Mold(diameter / 2, a, reach * diameter / 2),
    st.floats(0.030, 0.130), st.floats(1.2e-7, 5e-7), st.floats(0.8, 3.0),
)  # fmt: skip


@given(molds, st.floats(100.0, 560.0), st.floats(0.1, 0.6), st.floats(130.0, 700.0))
@settings(deadline=None, max_examples=60)
def test_every_plan_keeps_its_own_limits(mold: Mold, water: float, conductivity: float, pour: float) -> None:
    dose = drying_dose(mold.radius, water, conductivity)
    plan = plan_burnout(mold, PLASTER, dose, celsius(pour))
    # ramps: while wet, through both changes, anywhere, and by their lag
    assert steepest(plan, celsius(22), celsius(250), rising=True) <= 1.5 / 60 + 1e-12
    assert steepest(plan, celsius(0), celsius(800)) <= 4 / 60 + 1e-12
    assert ramp_lag(mold, steepest(plan, celsius(180), celsius(320))) <= 50.0 + 1e-9
    assert ramp_lag(mold, steepest(plan, celsius(540), celsius(600))) <= 50.0 + 1e-9
    # drying: the exposure up to the end of the drying hold
    assert exposure_above(plan, BOILING, celsius(370)) >= dose * (1 - 1e-9)
    # top and end
    assert plan.top == celsius(732)
    assert plan.top <= PLASTER.ceiling
    assert plan.steps[3].hold == 3 * HOUR
    assert abs(lag_at_end(plan, mold)) <= 12.0 + 1e-6
    assert plan.steps[-1].hold >= HOUR


@given(molds)
@settings(deadline=None, max_examples=30)
def test_during_the_plan_the_lag_of_a_dry_mold_stays_within_its_limit(mold: Mold) -> None:
    plan = plan_burnout(mold, PLASTER, 0.0, celsius(540))
    ends = iter(middle_of_mold(plan, mold))
    for leg in plan.legs():
        _, middle = next(ends)
        assert abs(leg.end - middle) <= 50.0 + 0.5


@given(st.floats(0.030, 0.10), st.floats(1.05, 1.5))
@settings(deadline=None, max_examples=30)
def test_a_larger_flask_takes_longer(diameter: float, times: float) -> None:
    small, large = (Mold(d / 2, 1.8e-7) for d in (diameter, times * diameter))
    doses = [drying_dose(m.radius, 500.0, 0.23) for m in (small, large)]
    quick, slow = (plan_burnout(m, PLASTER, d, celsius(540)) for m, d in zip((small, large), doses, strict=True))
    assert slow.duration >= quick.duration


def test_a_wetter_mold_is_held_longer_where_it_dries() -> None:
    mold = Mold(0.0508, 1.8e-7)
    dry, wet = (plan_burnout(mold, PLASTER, drying_dose(0.0508, w, 0.2)) for w in (300.0, 550.0))
    assert wet.steps[2].hold > dry.steps[2].hold
    assert wet.steps[3] == dry.steps[3]


def test_the_plan_for_a_2_inch_flask_fits_the_trades_short_cycles() -> None:
    # common practice: 8 to 14 h from loading to the pour for small flasks
    mold = Mold(0.0254, 1.8e-7, 0.032)
    limits = replace(PLASTER, drain_hold=1.5 * HOUR, top_hold=2 * HOUR)
    plan = plan_burnout(mold, limits, drying_dose(0.0254, 520.0, 0.23), celsius(540))
    assert 8 * HOUR <= plan.duration <= 14 * HOUR


@pytest.mark.parametrize(
    ("inches", "top", "drain"), [(2.0, 2.0, 1.5), (2.5, 2.5, 2.0), (3.0, 3.0, 2.25), (3.5, 3.5, 2.75), (4.0, 4.0, 3.0)]
)
def test_holds_follow_the_trades_table(inches: float, top: float, drain: float) -> None:
    # common practice: 1 1/2 to 2 h at the top for 2 in, 2 to 3 for 2 1/2, 3 for 3, 3 to 4 for 3 1/2, 4 for 4 in;
    # draining 1 to 1 1/2, 2, 2, 2 to 3, 3 h. Holds are given for 100 mm, and a quarter of an hour is the step.
    diameter = inches * 0.0254
    assert scaled_hold(4 * HOUR / 1.016, diameter) / HOUR == pytest.approx(top, abs=0.01)
    assert scaled_hold(3 * HOUR / 1.016, diameter) / HOUR == pytest.approx(drain, abs=0.26)


@given(st.floats(0.02, 0.3), st.floats(0.0, 20 * HOUR), st.floats(0.0, 5 * HOUR))
def test_holds_end_on_quarters_and_are_never_rounded_down(diameter: float, hold: float, least: float) -> None:
    found = scaled_hold(hold, diameter, least)
    assert found >= max(least, hold * diameter / 0.1) * (1 - 1e-6) - 1e-5
    assert found <= max(least, hold * diameter / 0.1) + 0.25 * HOUR
    assert found % (0.25 * HOUR) == 0.0


def test_a_top_over_the_ceiling_is_refused() -> None:
    with pytest.raises(OutOfRange, match="over the ceiling"):
        replace(PLASTER, top=celsius(760))


def test_a_top_under_the_drying_hold_is_refused() -> None:
    with pytest.raises(OutOfRange, match="cannot be burned out"):
        replace(PLASTER, top=celsius(300))


def test_a_pour_over_the_top_is_refused() -> None:
    with pytest.raises(OutOfRange, match="over the top"):
        plan_burnout(Mold(0.0381, 1.8e-7), PLASTER, 1e6, celsius(740))


def test_ramps_are_held_by_the_least_of_their_limits() -> None:
    large, small = Mold(0.0508, 1.8e-7), Mold(0.010, 1.8e-7)
    assert ramp_lag(large, ramp_for(large, PLASTER)) == pytest.approx(50.0)
    assert ramp_for(small, PLASTER) == PLASTER.fastest
    assert ramp_for(small, PLASTER, gentle=True) == PLASTER.gentle_rate


@pytest.mark.parametrize(
    ("pour", "hours", "start", "days"), [(10, 16, 18, 1), (17, 12, 5, 0), (9, 9, 0, 0), (8, 40, 16, 2), (0, 1, 23, 1)]
)
def test_the_kiln_starts_as_counted_back_on_a_clock(pour: int, hours: int, start: int, days: int) -> None:
    assert start_time(pour * HOUR, hours * HOUR) == (start * HOUR, days)


def test_a_25th_hour_is_refused() -> None:
    with pytest.raises(OutOfRange, match="clock time"):
        start_time(25 * HOUR, HOUR)


def test_schedules_are_values() -> None:
    one, two = (plan_burnout(Mold(0.0381, 1.8e-7), PLASTER, 1e6) for _ in range(2))
    assert isinstance(one, Schedule)
    assert one == two
