"""Vacuum and altitude, against the standard atmosphere, two libraries and arithmetic by hand."""

import CoolProp.CoolProp as coolprop
import pint
import pytest
from fluids import ATMOSPHERE_1976
from hypothesis import given
from hypothesis import strategies as st

from diagnose.calc.vacuum import (
    altitude_of_pressure,
    bubble_growth,
    chamber_pressure,
    gauge_to_boil,
    pressure_at_depth,
    standard_air_pressure,
)
from diagnose.calc.water_vapour import boiling_temperature
from diagnose.errors import OutOfRange

INHG = 3386.389  # Pa, mercury at 0 degrees C: NIST SP 811, appendix B

# ISO 2533 / U.S. Standard Atmosphere 1976, by geopotential altitude [m]: [hPa]
STANDARD = {
    0: 1013.25, 500: 954.608, 1000: 898.746, 1500: 845.560, 1524: 843.07, 2000: 794.952, 2500: 746.825,
    3000: 701.085, 3048: 696.82,
}  # fmt: skip


def test_an_inch_of_mercury_is_that_of_the_unit_library() -> None:
    assert pint.UnitRegistry()("1 inHg").to("Pa").magnitude == pytest.approx(INHG, rel=1e-6)


@pytest.mark.parametrize(("metres", "hpa"), STANDARD.items())
def test_air_pressure_is_that_of_the_standard(metres: int, hpa: float) -> None:
    assert standard_air_pressure(metres) / 100 == pytest.approx(hpa, rel=1e-5)


@pytest.mark.parametrize(("feet", "inhg"), [(2000, 27.82), (4000, 25.84), (6000, 23.98), (8000, 22.22)])
def test_air_pressure_is_that_of_the_table_in_feet(feet: int, inhg: float) -> None:
    # printed table of the standard atmosphere in feet and inHg, rounded to 0.01
    assert standard_air_pressure(feet * 0.3048) / INHG == pytest.approx(inhg, abs=0.01)


# A printed altitude table of another hand, rounded to the meter: 950, 900, 850 and 800 hPa.
@pytest.mark.parametrize(("metres", "hpa"), [(540, 950), (988, 900), (1457, 850), (1949, 800)])
def test_round_pressures_lie_at_the_altitudes_of_a_second_table(metres: int, hpa: float) -> None:
    assert standard_air_pressure(metres) / 100 == pytest.approx(hpa, abs=0.1)


# Subtraction from one standard atmosphere: what a mold's vacuum gauge leaves in it.
@pytest.mark.parametrize(("inhg", "kpa"), [(20, 33.6), (25, 16.7), (26, 13.3), (28, 6.5), (29, 3.1)])
def test_a_gauge_reading_leaves_what_is_left_of_the_air(inhg: float, kpa: float) -> None:
    assert chamber_pressure(101325.0, inhg * INHG) / 1000 == pytest.approx(kpa, abs=0.05)


@pytest.mark.parametrize("metres", [0, 700, 1600, 3000, 4500])
def test_air_pressure_agrees_with_a_library_that_counts_geometric_height(metres: int) -> None:
    assert standard_air_pressure(metres) == pytest.approx(ATMOSPHERE_1976(metres).P, rel=5e-4)


@pytest.mark.parametrize(
    ("metres", "inhg", "kpa", "boils", "enough"),
    [
        (0, 29.0, 3.120, 24.7, False),
        (0, 28.0, 6.506, 37.6, False),
        (0, 26.0, 13.279, 51.5, False),
        (0, 25.0, 16.665, 56.2, False),
        (500, 27.0, 4.028, 29.1, False),
        (1000, 25.5, 3.522, 26.8, False),
        (1600, 24.0, 2.250, 19.4, True),
        (2240, 22.0, 2.654, 22.1, False),
    ],
)
def test_gauge_readings_mean_what_subtraction_and_steam_tables_say(
    metres: int, inhg: float, kpa: float, boils: float, enough: bool
) -> None:
    # standard atmosphere less the reading; boiling points by CoolProp beside the printed ones
    air = standard_air_pressure(metres)
    left = chamber_pressure(air, inhg * INHG)
    assert left / 1000 == pytest.approx(kpa, abs=0.002)
    assert boiling_temperature(left) - 273.15 == pytest.approx(boils, abs=0.06)
    assert boiling_temperature(left) == pytest.approx(coolprop.PropsSI("T", "P", left, "Q", 0, "Water"), abs=0.02)
    assert (inhg * INHG >= gauge_to_boil(air, 295.15)) is enough


@pytest.mark.parametrize(
    ("metres", "inhg"),
    [(0, 29.14), (300, 28.09), (500, 27.41), (1000, 25.76), (1500, 24.19), (2000, 22.69), (2500, 21.27), (3000, 19.92)],
)
def test_the_reading_that_boils_water_falls_with_altitude(metres: int, inhg: float) -> None:
    # ISO 2533 less the CRC Handbook's 2.6447 kPa at 22 degrees C
    assert gauge_to_boil(standard_air_pressure(metres), 295.15) / INHG == pytest.approx(inhg, abs=0.006)


def test_a_fixed_reading_of_28_inches_is_the_whole_air_at_556_m() -> None:
    assert altitude_of_pressure(28 * INHG) == pytest.approx(556, abs=1)


def test_a_fixed_reading_of_28_inches_boils_water_at_326_m() -> None:
    assert gauge_to_boil(standard_air_pressure(326), 295.15) == pytest.approx(28 * INHG, abs=30)


def test_more_vacuum_than_there_is_air_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"94[0-9.]+ Pa does not fit air of 94[0-9.]+ Pa"):
        chamber_pressure(standard_air_pressure(600), 27.9 * INHG)


def test_a_sea_level_pressure_in_psi_or_mbar_by_mistake_is_refused() -> None:
    with pytest.raises(OutOfRange, match="not reduced to sea level"):
        chamber_pressure(1013.25, 100.0)


def test_a_bubble_grows_as_boyle_says() -> None:
    growth = bubble_growth(101325.0, 2645.0)
    assert growth == pytest.approx(101.325 / 2.645)
    assert growth == pytest.approx(38.3, abs=0.05)
    assert growth ** (1 / 3) == pytest.approx(3.37, abs=0.005)


def test_150_mm_of_slurry_add_as_much_as_their_weight() -> None:
    added = pressure_at_depth(2645.0, 1771.0, 0.150) - 2645.0
    assert added == pytest.approx(9.80665 * 1771.0 * 0.150)
    # steam tables: 5.250 kPa boils at 33.7 degrees C
    assert boiling_temperature(2645.0 + added) - 273.15 == pytest.approx(33.7, abs=0.05)


@given(st.floats(-400.0, 5400.0), st.floats(1.0, 100.0))
def test_air_gets_thinner_upwards_and_altitude_is_found_again(metres: float, step: float) -> None:
    assert standard_air_pressure(metres + step) < standard_air_pressure(metres)
    assert altitude_of_pressure(standard_air_pressure(metres)) == pytest.approx(metres, abs=1e-6)


@given(st.floats(60e3, 105e3), st.floats(275.0, 310.0), st.floats(0.5, 10.0))
def test_warmer_slurry_boils_at_a_smaller_reading(air: float, kelvin: float, warmer: float) -> None:
    assert gauge_to_boil(air, kelvin + warmer) < gauge_to_boil(air, kelvin)


@given(st.floats(0.0, 1.0), st.floats(1.0, 2.0))
def test_pressure_grows_evenly_with_depth(depth: float, times: float) -> None:
    one, more = (pressure_at_depth(0.0, 1760.0, d) for d in (depth, min(depth * times, 2.0)))
    assert more == pytest.approx(one * (min(depth * times, 2.0) / depth if depth else 1.0), abs=1e-9)


@pytest.mark.parametrize("metres", [-1000.0, 9000.0, float("nan"), float("inf")])
def test_an_altitude_without_workshops_is_refused(metres: float) -> None:
    with pytest.raises(OutOfRange, match="altitude"):
        standard_air_pressure(metres)


def test_hot_water_that_boils_without_vacuum_is_refused() -> None:
    with pytest.raises(OutOfRange, match="without any vacuum"):
        gauge_to_boil(101325.0, 375.0)


def test_no_bubble_is_left_in_an_empty_space() -> None:
    with pytest.raises(OutOfRange):
        bubble_growth(101325.0, 0.0)
