"""Water in a wax pot against two independent steam libraries and the old trade figures."""

from __future__ import annotations

import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st
from iapws import IAPWS95

from diagnose.calc import wax_water
from diagnose.errors import OutOfRange

SEA, INHG = 101325.0, 3386.389


@pytest.mark.parametrize("celsius", [50, 60, 65, 70, 75, 85, 95])
def test_the_vacuum_that_boils_water_agrees_with_steam_libraries(celsius: float) -> None:
    left = SEA - wax_water.vacuum_that_boils_water(celsius + 273.15, SEA)
    assert left == pytest.approx(PropsSI("P", "T", celsius + 273.15, "Q", 0, "Water"), rel=5e-4)
    assert left == pytest.approx(IAPWS95(T=celsius + 273.15, x=0).P * 1e6, rel=5e-4)


@pytest.mark.parametrize(("celsius", "inches"), [(60, 24.1), (65, 22.6), (70, 20.7), (75, 18.6)])
def test_free_water_froths_once_the_gauge_is_deeper(celsius: float, inches: float) -> None:
    # from an Antoine equation at sea level (common practice); a steam formula agrees to a tenth of an inch
    assert wax_water.vacuum_that_boils_water(celsius + 273.15, SEA) / INHG == pytest.approx(inches, abs=0.1)


@pytest.mark.parametrize("pressure", [20e3, 50e3, 70e3, 101325.0])
def test_the_margin_ends_at_the_boiling_point_of_the_library(pressure: float) -> None:
    boils = PropsSI("T", "P", pressure, "Q", 0, "Water")
    assert wax_water.boiling_margin(boils, SEA, SEA - pressure) == pytest.approx(0.0, abs=0.02)


def test_at_a_high_place_water_boils_under_the_usual_ceiling() -> None:
    # standard atmosphere at 5000 m: 54.0 kPa (ISO 2533, from memory), water boils at 83 degC
    assert wax_water.boiling_margin(358.15, 54.0e3) < 0
    with pytest.raises(OutOfRange, match="throw wax out"):
        wax_water.vacuum_that_boils_water(358.15, 54.0e3)


@given(st.floats(40.0, 90.0), st.floats(55e3, 105e3))
def test_under_the_vacuum_found_the_margin_is_nothing(celsius: float, air: float) -> None:
    try:
        vacuum = wax_water.vacuum_that_boils_water(celsius + 273.15, air)
    except OutOfRange:
        assert PropsSI("T", "P", air, "Q", 0, "Water") <= celsius + 273.15 + 0.05
        return
    assert wax_water.boiling_margin(celsius + 273.15, air, vacuum) == pytest.approx(0.0, abs=1e-6)
    assert wax_water.boiling_margin(celsius + 273.15, air) > 0


def test_no_heat_over_the_ceiling_is_ever_offered_to_dry_wax() -> None:
    assert wax_water.drying_temperature(SEA, 22.6 * INHG, 358.15) == pytest.approx(338.15, abs=0.3)
    with pytest.raises(OutOfRange, match="Never add heat"):
        wax_water.drying_temperature(SEA, 5 * INHG, 358.15)
    with pytest.raises(OutOfRange, match="Never add heat"):
        wax_water.drying_temperature(SEA, 0.0, 358.15)


@pytest.mark.parametrize("vacuum", [-1.0, 1.02e5, float("nan")])
def test_a_vacuum_that_no_place_has_is_refused(vacuum: float) -> None:
    with pytest.raises(OutOfRange):
        wax_water.boiling_margin(340.0, SEA, vacuum)
