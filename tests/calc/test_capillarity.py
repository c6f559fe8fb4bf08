"""Back-pressure of surface tension against the work of moving a surface."""

from __future__ import annotations

from math import cos, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.calc.capillarity import (
    edge_back_pressure,
    rod_back_pressure,
    sheet_back_pressure,
    smallest_rod_radius,
)
from diagnose.errors import OutOfRange

TENSION = st.floats(0.3, 2.0)
SIZE = st.floats(1e-5, 1e-2)
ANGLE = st.floats(1.6, pi)


# Surface tensions from memory of Keene, Int. Mater. Rev. 38, 157 (1993): silver 0.91, gold 1.14, copper 1.30 N/m;
# kilopascal by 2 gamma/r.
@pytest.mark.parametrize(
    ("tension", "millimetre", "kilopascal"),
    [
        (0.91, 0.10, 18.2),
        (0.91, 0.05, 36.4),
        (0.91, 0.25, 7.28),
        (0.91, 0.5, 3.64),
        (1.14, 0.1, 22.8),
        (1.30, 0.1, 26.0),
    ],
)
def test_worked_back_pressures(tension, millimetre, kilopascal):
    assert rod_back_pressure(tension, pi, millimetre / 1000) / 1000 == pytest.approx(kilopascal)


def test_ten_centimetres_of_silver_fill_a_wire_of_a_fifth_of_a_millimetre_radius():
    # 9022 Pa of head: 2 x 0.91/9022
    assert smallest_rod_radius(0.91, pi, 9022.0) * 1000 == pytest.approx(0.2017, abs=5e-5)


def test_surface_tension_of_copper_at_its_melting_point():
    # Aziz, Schmon & Pottlacher, High Temp. High Press. 43, 193 (2014), abstract: 1.633 - 0.00021 T, here at
    # 1357.77 K, 1.348 N/m.
    assert edge_back_pressure(1.633 - 0.00021 * 1357.77, 1.0) == pytest.approx(1.3479, abs=5e-5)


@given(tension=TENSION, radius=SIZE, angle=ANGLE, step=st.floats(1e-4, 1e-2))
def test_the_pressure_does_the_work_of_covering_the_wall(tension, radius, angle, step):
    # Moving on by a step covers 2 pi r dl of wall, at -gamma cos(theta) each, with p pi r^2 dl of work.
    work = rod_back_pressure(tension, angle, radius) * pi * radius**2 * step

    assert work == pytest.approx(-tension * cos(angle) * 2 * pi * radius * step)


@given(tension=TENSION, thickness=SIZE, angle=ANGLE)
def test_a_gap_covers_two_walls(tension, thickness, angle):
    # Per metre of width: p t dl = 2 (-gamma cos theta) dl
    assert sheet_back_pressure(tension, angle, thickness) * thickness == pytest.approx(-2 * tension * cos(angle))


@given(tension=TENSION, radius=SIZE)
def test_an_edge_needs_half_of_what_a_hole_needs(tension, radius):
    assert 2 * edge_back_pressure(tension, radius) == pytest.approx(rod_back_pressure(tension, pi, radius))


@given(tension=TENSION, pressure=st.floats(1e3, 1e6), angle=ANGLE)
def test_the_smallest_hole_holds_back_exactly_that_pressure(tension, pressure, angle):
    radius = smallest_rod_radius(tension, angle, pressure)

    assert rod_back_pressure(tension, angle, radius) == pytest.approx(pressure)


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: rod_back_pressure(0.9, 1.0, 1e-3), "contact angle of 1.00"),
        (lambda: rod_back_pressure(0.9, 4.0, 1e-3), "contact angle of 4.00"),
        (lambda: rod_back_pressure(0.9, pi, 0.0), "radius of 0"),
        (lambda: sheet_back_pressure(0.0, pi, 1e-3), "tension of 0"),
        (lambda: sheet_back_pressure(0.9, pi, float("inf")), "thickness of inf"),
        (lambda: smallest_rod_radius(0.9, pi, -5.0), "pressure of -5"),
    ],
)
def test_metals_that_wet_and_sizes_of_nothing_are_refused(call, says):
    with pytest.raises(OutOfRange, match=says):
        call()
