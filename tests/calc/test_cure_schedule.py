"""Needed times and temperatures: put back through an independent march they give the cure that was asked for."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import simpson, solve_ivp

from diagnose.calc.cure import MIDDLE, TOP, History, Press
from diagnose.calc.cure_schedule import (
    middle_warm_time,
    needed_time,
    recure,
    schedule_for,
    thickness_limit,
)
from diagnose.calc.kinetics import Kinetics
from diagnose.calc.slab import Slab
from diagnose.errors import OutOfRange

CELSIUS = 273.15
GUM = Kinetics(100e3, 153 + CELSIUS)
EVEN = Press(153 + CELSIUS, 153 + CELSIUS)
ROOM = 23 + CELSIUS
PACE = 450.0 / 0.003175  # the trade's 7.5 min for an eighth of an inch


def inch(count: float) -> Slab:
    return Slab(0.0254 * count, 0.9e-7, 0.153)


def middle_dose(slab: Slab, platens: float, duration: float) -> float:
    """Equivalent time in the middle by central differences over half the slab: independent of the series."""
    cells = 240
    pace = slab.diffusivity / (slab.thickness / 2 / cells) ** 2

    def change(_: float, kelvin: np.ndarray) -> np.ndarray:
        slope = np.empty_like(kelvin)
        slope[1:-1] = pace * (kelvin[2:] - 2 * kelvin[1:-1] + kelvin[:-2])
        slope[0], slope[-1] = 2 * pace * (kelvin[1] - kelvin[0]), 0.0
        return slope

    start = np.full(cells + 1, ROOM)
    start[-1] = platens
    times = np.linspace(0, duration, 1201)
    solved = solve_ivp(change, (0, duration), start, "LSODA", times, rtol=1e-8, atol=1e-7, lband=1, uband=1)
    return float(simpson(GUM.rates(solved.y[0]), x=times))


# Minutes for 7.5, 10, 15 and 22 equivalent minutes in the middle, found separately by a march and bisection.
@pytest.mark.parametrize(
    ("thickness", "minutes"),
    [
        (0.0127, (16.5, 19.0, 24.1, 31.1)),
        (0.01905, (26.5, 29.5, 35.0, 42.3)),
        (0.0254, (39.1, 42.8, 49.2, 57.2)),
        (0.03175, (54.0, 58.4, 66.0, 75.1)),
        (0.0381, (70.8, 76.1, 85.1, 95.6)),
        (0.0508, (110.1, 117.5, 129.6, 143.3)),
    ],
)
def test_needed_times_agree_with_a_separate_search(thickness: float, minutes: tuple[float, ...]) -> None:
    for dose, expected in zip((7.5, 10, 15, 22), minutes, strict=True):
        time = needed_time(Slab(thickness, 0.9e-7), ROOM, EVEN, GUM, dose * 60)
        assert time / 60 == pytest.approx(expected, abs=0.1)


@pytest.mark.parametrize(("thickness", "minutes"), [(0.01905, 64), (0.0254, 79), (0.0508, 174)])
def test_ten_degrees_cooler_costs_less_than_twice_the_time(thickness: float, minutes: float) -> None:
    # The same middle dose of 22 min at 143 degrees C, found separately; the trade says "twice the time".
    cooler = needed_time(Slab(thickness, 0.9e-7), ROOM, EVEN.moved_to(143 + CELSIUS), GUM, 1320.0)

    assert cooler / 60 == pytest.approx(minutes, abs=0.6)


@settings(max_examples=12, deadline=None)
@given(thickness=st.floats(0.006, 0.06), platens=st.floats(408, 438), dose=st.floats(200, 3000))
def test_a_march_over_the_needed_time_gives_the_dose_asked_for(thickness: float, platens: float, dose: float) -> None:
    slab = Slab(thickness, 0.9e-7)
    time = needed_time(slab, ROOM, Press(platens, platens), GUM, dose)

    assert middle_dose(slab, platens, time) == pytest.approx(dose, rel=3e-4)


@settings(max_examples=25, deadline=None)
@given(count=st.floats(0.2, 2.5), dose=st.floats(300, 3000), more=st.floats(1.05, 2.0))
def test_thicker_colder_and_more_cure_all_need_longer(count: float, dose: float, more: float) -> None:
    base = needed_time(inch(count), ROOM, EVEN, GUM, dose)

    assert needed_time(inch(count * more), ROOM, EVEN, GUM, dose) > base
    assert needed_time(inch(count), ROOM, EVEN.moved_to(423.0), GUM, dose) > base
    assert needed_time(inch(count), ROOM, EVEN, GUM, dose * more) > base
    assert needed_time(inch(count), ROOM - 10, EVEN, GUM, dose) > base


def test_thin_molds_stay_as_hot_and_thick_ones_go_cooler_until_the_skin_is_spared() -> None:
    limit = 8 * 480.0
    thin = schedule_for(inch(1), ROOM, EVEN, GUM, 1320.0, limit, 408.15)
    thick = schedule_for(inch(1.5), ROOM, EVEN, GUM, 1320.0, limit, 408.15)

    assert thin.platens == EVEN.mean
    assert thick.platens < EVEN.mean
    assert thick.time > needed_time(inch(1.5), ROOM, EVEN, GUM, 1320.0)
    assert thick.skin_dose == pytest.approx(limit, rel=1e-3)
    assert thick.skin_dose <= limit
    assert middle_dose(inch(1.5), thick.platens, thick.time) == pytest.approx(1320.0, rel=3e-4)


def test_at_143_degrees_the_skin_gets_what_a_separate_search_found() -> None:
    # 38 and 51 mm at 143 degrees C: 7.7 and 11 times the 8 minutes to nine tenths cured.
    for thickness, times in ((0.0381, 7.7), (0.0508, 11.0)):
        cooler = EVEN.moved_to(143 + CELSIUS)
        time = needed_time(Slab(thickness, 0.9e-7), ROOM, cooler, GUM, 1320.0)
        skin = History(Slab(thickness, 0.9e-7), ROOM, cooler, time).doses(GUM, np.array([TOP]))[0][0]
        assert skin / 480 == pytest.approx(times, abs=0.06)


def test_a_block_too_thick_for_the_coolest_cure_is_reported_with_its_skin() -> None:
    plan = schedule_for(inch(4), ROOM, EVEN, GUM, 1320.0, 3840.0, 408.15)

    assert plan.platens == 408.15
    assert plan.skin_dose > 3840.0


# The missing minutes plus 1.22 squares of half the thickness over diffusivity: 20 min at 19 mm, 36 at 25, 57 at 32.
@pytest.mark.parametrize(("thickness", "minutes"), [(0.01905, 20), (0.0254, 36), (0.03175, 57)])
def test_heat_takes_as_long_again_to_get_in_as_found_separately(thickness: float, minutes: float) -> None:
    again = recure(Slab(thickness, 0.9e-7), ROOM, EVEN, GUM, 600.0)

    assert (again.safe_time - 600.0) / 60 == pytest.approx(minutes, abs=0.6)
    assert again.least_time < again.safe_time


@settings(max_examples=15, deadline=None)
@given(count=st.floats(0.3, 2.0), missing=st.floats(30, 2000))
def test_the_safe_second_cure_always_gives_at_least_what_was_missing(count: float, missing: float) -> None:
    again = recure(inch(count), ROOM, EVEN, GUM, missing)

    assert middle_dose(inch(count), EVEN.mean, again.safe_time) >= missing * (1 - 3e-4)
    assert middle_dose(inch(count), EVEN.mean, again.least_time) == pytest.approx(missing, rel=5e-4)


# One-term formula: nine tenths of the way at a Fourier number of 4/pi^2 ln(40/pi) = 1.0311.
@pytest.mark.parametrize("count", [0.3, 1.0, 2.0])
def test_the_middle_is_warm_when_the_one_term_formula_says_so(count: float) -> None:
    assert middle_warm_time(inch(count), ROOM, EVEN) == pytest.approx(1.0311 * inch(count).lag, rel=1e-4)


def test_slow_contact_and_sagging_platens_warm_the_middle_later() -> None:
    plain = middle_warm_time(inch(1), ROOM, EVEN)

    assert middle_warm_time(inch(1), ROOM, Press(EVEN.bottom, EVEN.top, 300.0)) == pytest.approx(
        1.08 * plain,
        rel=0.02,  # 1.08 times slower at 300 W/m2/K, worked out separately with the first root
    )
    assert middle_warm_time(inch(1), ROOM, Press(EVEN.bottom, EVEN.top, recovery=900.0, sag=60.0)) > plain


def test_the_shop_rule_ends_where_a_separate_search_found_it() -> None:
    # Under 16 equivalent minutes at 42 mm, under 12 at some 48 mm.
    assert thickness_limit(ROOM, EVEN, GUM, 0.9e-7, PACE, 960.0) == pytest.approx(0.042, abs=1e-3)
    assert thickness_limit(ROOM, EVEN, GUM, 0.9e-7, PACE, 720.0) == pytest.approx(0.048, abs=1e-3)


def test_a_rule_that_never_cures_has_no_end() -> None:
    assert thickness_limit(ROOM, EVEN.moved_to(400.0), GUM, 0.9e-7, PACE, 1320.0) is None


@pytest.mark.parametrize("dose", [720.0, 960.0])
def test_the_rule_holds_just_inside_its_end_and_fails_just_outside(dose: float) -> None:
    end = thickness_limit(ROOM, EVEN, GUM, 0.9e-7, PACE, dose)
    assert end is not None

    assert middle_dose(Slab(end - 3e-4, 0.9e-7), EVEN.mean, PACE * (end - 3e-4)) > dose
    assert middle_dose(Slab(end + 3e-4, 0.9e-7), EVEN.mean, PACE * (end + 3e-4)) < dose


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: needed_time(inch(1), ROOM, EVEN, GUM, 0.0), "the wanted dose"),
        (lambda: needed_time(inch(1), ROOM, EVEN.moved_to(330.0), GUM, 1320.0), "more than 100 hours"),
        (lambda: needed_time(inch(1), ROOM, EVEN, GUM, 600.0, 2.0), "the place is 2"),
        (lambda: schedule_for(inch(1), ROOM, EVEN, GUM, 600.0, 0.0, 408.0), "allowed at the skin"),
        (lambda: middle_warm_time(inch(1), 430.0, EVEN), "do not warm a block"),
        (lambda: thickness_limit(ROOM, EVEN, GUM, 0.9e-7, 0.0, 600.0), "the pace of the rule"),
    ],
)
def test_what_cannot_be_is_refused(call, says: str) -> None:
    with pytest.raises(OutOfRange, match=says):
        call()


def test_the_middle_is_the_last_to_cure() -> None:
    assert needed_time(inch(1), ROOM, EVEN, GUM, 600.0, MIDDLE) > needed_time(inch(1), ROOM, EVEN, GUM, 600.0, 0.5)
