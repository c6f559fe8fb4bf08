"""Cure of a pressed block against an independent finite-difference march, limits and scaling laws."""

from __future__ import annotations

from math import inf

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad, simpson, solve_ivp

from diagnose.calc.cure import BOTTOM, MIDDLE, TOP, Cooling, History, Press, heat_lag
from diagnose.calc.kinetics import Kinetics
from diagnose.calc.slab import Slab
from diagnose.errors import OutOfRange

CELSIUS = 273.15
GUM = Kinetics(100e3, 153 + CELSIUS)
EVEN = Press(153 + CELSIUS, 153 + CELSIUS)
ROOM = 23 + CELSIUS
PLACES = np.array([-1.0, -0.5, 0.0, 0.5, 1.0])


def march(slab: Slab, start: np.ndarray, press: Press, duration: float) -> tuple[np.ndarray, np.ndarray]:
    """Equivalent times at five places by central differences, and the temperatures at the end."""
    cells = len(start) - 1
    step = slab.thickness / cells
    pace = slab.diffusivity / step**2
    held = np.isinf(press.contact)
    gain = 0.0 if held else press.contact * step / slab.conductivity
    rise = press.sag / press.recovery if press.recovery else 0.0

    def change(t: float, kelvin: np.ndarray) -> np.ndarray:
        slope = np.empty_like(kelvin)
        slope[1:-1] = pace * (kelvin[2:] - 2 * kelvin[1:-1] + kelvin[:-2])
        sag = max(0.0, press.sag - rise * t)
        if held:
            slope[0] = slope[-1] = rise if t < press.recovery else 0.0
        else:
            slope[0] = 2 * pace * (kelvin[1] - kelvin[0] + gain * (press.bottom - sag - kelvin[0]))
            slope[-1] = 2 * pace * (kelvin[-2] - kelvin[-1] + gain * (press.top - sag - kelvin[-1]))
        return slope

    begin = start.copy()
    if held:
        begin[0], begin[-1] = press.bottom - press.sag, press.top - press.sag
    share = np.linspace(0, 1, 1601)
    times = duration * share**2
    solved = solve_ivp(
        change, (0, duration), begin, "LSODA", times, rtol=1e-8, atol=1e-7, lband=1, uband=1, max_step=duration / 50
    )
    rates = GUM.rates(solved.y[[0, cells // 4, cells // 2, 3 * cells // 4, cells]])
    return simpson(rates * 2 * share * duration, x=share, axis=1), solved.y[:, -1]


def fine_doses(slab: Slab, press: Press, duration: float) -> np.ndarray:
    """The same on two grids, extrapolated to a vanishing step (Richardson)."""
    coarse = march(slab, np.full(121, ROOM), press, duration)[0]
    fine = march(slab, np.full(241, ROOM), press, duration)[0]
    return fine + (fine - coarse) / 3


@pytest.mark.parametrize("thickness", [0.006, 0.0254, 0.0508])
@pytest.mark.parametrize(
    "press",
    [
        EVEN,
        Press(153 + CELSIUS, 153 + CELSIUS, 1000.0),
        Press(146 + CELSIUS, 158 + CELSIUS, 300.0),
        Press(150 + CELSIUS, 156 + CELSIUS, 800.0, recovery=400.0, sag=60.0),
    ],
)
def test_doses_agree_with_the_finite_difference_march(thickness: float, press: Press) -> None:
    slab, minutes = Slab(thickness, 0.9e-7, 0.153), 60 * thickness / 0.0254

    found = History(slab, ROOM, press, minutes * 60).doses(GUM, PLACES)[0]

    assert found == pytest.approx(fine_doses(slab, press, minutes * 60), rel=1e-4)


# Equivalent minutes in the middle under the trade's rule of 7.5 min for 1/8 in, from a separate explicit march.
@pytest.mark.parametrize(
    ("thickness", "minutes", "dose"),
    [(0.0127, 30, 20.9), (0.01905, 45, 24.63), (0.0254, 60, 24.53), (0.0381, 90, 18.1), (0.0508, 120, 10.93)],
)
def test_the_shop_rule_leaves_the_middle_what_a_separate_march_found(
    thickness: float, minutes: float, dose: float
) -> None:
    found = History(Slab(thickness, 0.9e-7), ROOM, EVEN, minutes * 60).doses(GUM, PLACES)[0]

    assert found[2] / 60 == pytest.approx(dose, abs=0.06)


@pytest.mark.parametrize(
    ("celsius", "dose"), [(138, 9.0), (143, 12.6), (148, 17.7), (153, 24.5), (158, 33.8), (163, 46.2)]
)
def test_cold_and_hot_platens_change_the_dose_as_a_separate_march_found(celsius: float, dose: float) -> None:
    press = Press(celsius + CELSIUS, celsius + CELSIUS)

    found = History(Slab(0.0254, 0.9e-7), ROOM, press, 3600.0).doses(GUM, PLACES)[0]

    assert found[2] / 60 == pytest.approx(dose, abs=0.06)


@pytest.mark.parametrize(
    ("thickness", "cooling", "after", "total"),
    [
        (0.0254, Cooling(ROOM, 10.0), 90, 33.67),
        (0.0254, Cooling(20 + CELSIUS, 500.0), 90, 28.32),
        (0.0508, Cooling(ROOM, 10.0), 150, 24.77),
    ],
)
def test_the_middle_goes_on_curing_as_it_cools(thickness: float, cooling: Cooling, after: float, total: float) -> None:
    # Totals from a separate explicit march; that thick articles cure on after the press is published (Rubber World).
    slab, minutes = Slab(thickness, 0.9e-7, 0.15), 60 * thickness / 0.0254

    hot, cold = History(slab, ROOM, EVEN, minutes * 60, cooling, after * 60).doses(GUM, PLACES)

    assert (hot + cold)[2] / 60 == pytest.approx(total, abs=0.06)


@pytest.mark.parametrize("transfer", [10.0, 60.0, 500.0])
def test_cooling_doses_agree_with_the_finite_difference_march(transfer: float) -> None:
    slab = Slab(0.0254, 0.9e-7, 0.153)
    heated = march(slab, np.full(241, ROOM), EVEN, 2700.0)[1]
    cooled = march(slab, heated, Press(ROOM, ROOM, transfer), 7200.0)[0]

    cold = History(slab, ROOM, EVEN, 2700.0, Cooling(ROOM, transfer), 7200.0).doses(GUM, PLACES)[1]

    assert cold == pytest.approx(cooled, rel=2e-3, abs=0.5)
    assert cold[2] == pytest.approx(cooled[2], rel=1e-3)


def test_a_skin_on_the_platen_counts_every_minute() -> None:
    doses = History(Slab(0.02, 1e-7), ROOM, EVEN, 1800.0).doses(GUM, PLACES)[0]

    assert doses[[0, 4]] == pytest.approx([1800.0, 1800.0], rel=1e-6)


def test_a_foil_is_at_once_as_hot_as_the_platens() -> None:
    doses = History(Slab(3e-4, 1e-7), ROOM, EVEN, 600.0).doses(GUM, PLACES)[0]

    assert doses == pytest.approx(600.0, rel=1e-3)


@pytest.mark.parametrize(("energy", "lag"), [(80e3, 1.131), (100e3, 1.218), (120e3, 1.290)])
def test_the_lag_is_the_published_integral(energy: float, lag: float) -> None:
    # Integral of what is missing of the full rate, over Fourier number, with scipy and the series for the middle.
    slab, kinetics = Slab(0.0254, 0.9e-7), Kinetics(energy, 153 + CELSIUS)

    def missing(fourier: float) -> float:
        odd = np.arange(1, 601, 2)
        share = float(np.sum(4 / np.pi * (-1.0) ** (odd // 2) / odd * np.exp(-((odd * np.pi / 2) ** 2) * fourier)))
        return 1 - kinetics.rate(153 + CELSIUS - 130 * share)

    expected = quad(missing, 1e-9, 12, epsrel=1e-9, limit=500)[0]
    assert expected == pytest.approx(lag, abs=1e-3)
    assert heat_lag(slab, ROOM, EVEN, kinetics) / slab.lag == pytest.approx(expected, rel=1e-5)


def test_doses_along_the_way_end_at_the_dose_and_never_fall() -> None:
    history = History(Slab(0.0254, 0.9e-7, 0.153), ROOM, EVEN, 3600.0, Cooling(ROOM, 10.0), 7200.0)
    times = np.linspace(0, 10800, 241)[1:]

    curve = history.doses_until(GUM, times, PLACES)

    hot, cold = history.doses(GUM, PLACES)
    assert curve[-1] == pytest.approx(hot + cold, rel=1e-3)
    assert np.all(np.diff(curve, axis=0) >= 0)


settings_for_cure = settings(max_examples=40, deadline=None)


@settings_for_cure
@given(
    thickness=st.floats(0.002, 0.08),
    time=st.floats(120, 20000),
    more=st.floats(1.01, 2.0),
    contact=st.sampled_from([inf, 1000.0, 50.0]),
)
def test_more_time_and_less_thickness_never_cure_the_middle_less(
    thickness: float, time: float, more: float, contact: float
) -> None:
    def middle(d: float, t: float) -> float:
        press = Press(153 + CELSIUS, 153 + CELSIUS, contact)
        return float(History(Slab(d, 0.9e-7, 0.153), ROOM, press, t).doses(GUM, np.array([MIDDLE]))[0][0])

    assert middle(thickness, time * more) >= middle(thickness, time) * (1 - 1e-4)
    assert middle(thickness * more, time) <= middle(thickness, time) * (1 + 1e-4)


@settings_for_cure
@given(time=st.floats(300, 10000), hotter=st.floats(0.5, 20), warmer=st.floats(0.5, 30))
def test_hotter_platens_and_a_warmer_start_never_cure_less(time: float, hotter: float, warmer: float) -> None:
    slab = Slab(0.0254, 0.9e-7)

    def doses(start: float, platens: float) -> np.ndarray:
        return History(slab, start, Press(platens, platens), time).doses(GUM, PLACES)[0]

    base = doses(ROOM, 420.0)
    assert np.all(doses(ROOM, 420.0 + hotter) >= base * (1 - 1e-4))
    assert np.all(doses(ROOM + warmer, 420.0) >= base * (1 - 1e-4))


@settings_for_cure
@given(factor=st.floats(0.3, 3.0), time=st.floats(300, 7200))
def test_time_and_dose_scale_with_the_square_of_thickness(factor: float, time: float) -> None:
    one = History(Slab(0.02, 0.9e-7), ROOM, EVEN, time).doses(GUM, PLACES)[0]
    other = History(Slab(0.02 * factor, 0.9e-7), ROOM, EVEN, time * factor**2).doses(GUM, PLACES)[0]

    assert other == pytest.approx(one * factor**2, rel=1e-4)


@settings_for_cure
@given(bottom=st.floats(400, 440), top=st.floats(400, 440), time=st.floats(600, 7200))
def test_the_hotter_platen_has_the_more_cured_skin(bottom: float, top: float, time: float) -> None:
    places = np.array([BOTTOM, TOP])
    low, high = History(Slab(0.02, 0.9e-7, 0.153), ROOM, Press(bottom, top, 500.0), time).doses(GUM, places)[0]

    assert (high >= low) == (top >= bottom)


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: History(Slab(0.5, 1e-7), ROOM, EVEN, 60.0), "the thickness is 0.5 m"),
        (lambda: History(Slab(0.02, 1e-7), ROOM, EVEN, 0.0), "the time in the press is 0"),
        (lambda: History(Slab(0.02, 1e-7), ROOM, EVEN, 1e6), "the time in the press"),
        (lambda: History(Slab(0.02, 1e-7), 153.0, EVEN, 60.0), "starting temperature is 153 K"),
        (lambda: Press(153.0, 426.0), "the bottom platen's temperature"),
        (lambda: Press(426.0, 800.0), "the top platen's temperature"),
        (lambda: Press(426.0, 426.0, 500.0, recovery=-1.0), "recovery time"),
    ],
)
def test_what_cannot_be_is_refused(call, says: str) -> None:
    with pytest.raises(OutOfRange, match=says):
        call()
