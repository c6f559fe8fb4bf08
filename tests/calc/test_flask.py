"""Room in the flask and the mold round the tree, against geometry, plate theory and the trade's cases."""

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.calc.flask import check_flask, needed_end_cover, plate_edge_stress, room_for_slurry
from diagnose.errors import OutOfRange


@pytest.mark.parametrize(
    ("diameter", "height", "millilitres"),
    [(50.8, 63.5, 128.7), (63.5, 101.6, 321.8), (76.2, 101.6, 463.3), (88.9, 101.6, 630.6), (101.6, 203.2, 1647.4)],
)
def test_room_is_that_of_a_cylinder(diameter: float, height: float, millilitres: float) -> None:
    # pi/4 D^2 H by hand
    assert room_for_slurry(diameter / 1000, height / 1000, 0.0) * 1e6 == pytest.approx(millilitres, abs=0.06)


def test_the_wax_takes_its_room_away() -> None:
    # 603.19 ml less 45 g / 0.95 g/ml, by hand
    assert room_for_slurry(0.080, 0.120, 0.045 / 950) * 1e6 == pytest.approx(555.82, abs=0.01)


@given(st.floats(0.02, 0.3), st.floats(0.02, 0.4))
def test_twice_the_height_is_twice_the_room(diameter: float, height: float) -> None:
    assert room_for_slurry(diameter, 2 * height, 0.0) == pytest.approx(2 * room_for_slurry(diameter, height, 0.0))


@given(st.floats(0.02, 0.3), st.floats(0.02, 0.4), st.floats(0.5, 3.0))
def test_a_tree_as_large_as_the_flask_is_refused(diameter: float, height: float, times: float) -> None:
    with pytest.raises(OutOfRange, match="does not fit a flask"):
        room_for_slurry(diameter, height, times * pi / 4 * diameter**2 * height)


@pytest.mark.parametrize(("diameter", "height"), [(3.0, 0.1), (76.2, 101.6), (0.0, 0.1), (0.08, float("nan"))])
def test_a_flask_of_no_sense_is_refused(diameter: float, height: float) -> None:
    with pytest.raises(OutOfRange, match="Write the unit"):
        check_flask(diameter, height)


@pytest.mark.parametrize(("thickness", "mpa"), [(6.0, 3.71), (12.5, 0.855), (22.0, 0.276)])
def test_plate_stress_is_that_of_the_plate_formula(thickness: float, mpa: float) -> None:
    # Timoshenko & Woinowsky-Krieger, clamped round plate, from memory: 3/4 p (R/t)^2
    assert plate_edge_stress(0.09e6, 0.0445, thickness / 1000) / 1e6 == pytest.approx(mpa, rel=2e-3)


def test_plate_stress_agrees_with_bending_moment_over_section_modulus() -> None:
    # clamped round plate: edge moment p R^2 / 8 a length, section modulus t^2 / 6
    pressure, radius, thickness = 80e3, 0.04, 0.01
    assert plate_edge_stress(pressure, radius, thickness) == pytest.approx(
        pressure * radius**2 / 8 / (thickness**2 / 6)
    )


@pytest.mark.parametrize(("diameter", "cover"), [(63.5, 15.9), (76.2, 19.05), (88.9, 22.2), (101.6, 25.4)])
def test_the_end_cover_is_a_quarter_inch_for_each_inch(diameter: float, cover: float) -> None:
    # common practice: 1/4 in for each inch of diameter
    assert needed_end_cover(diameter / 1000, 0.012) * 1000 == pytest.approx(cover, abs=0.05)


def test_the_end_cover_covers_the_flasks_that_broke_through_at_6_mm() -> None:
    # common practice: 6 mm over the tree blew out in a 76 mm flask
    assert needed_end_cover(0.076, 0.012) > 0.006


@given(st.floats(0.02, 0.4), st.floats(0.0, 0.05))
def test_the_end_cover_never_goes_under_its_least_and_grows_with_the_flask(diameter: float, least: float) -> None:
    assert needed_end_cover(diameter, least) >= least
    assert needed_end_cover(diameter * 1.1, least) >= needed_end_cover(diameter, least)


@given(st.floats(1e3, 1e5), st.floats(0.02, 0.2), st.floats(1.0, 2.0))
def test_a_thicker_end_is_less_bent_by_the_square(pressure: float, radius: float, times: float) -> None:
    thin, thick = (plate_edge_stress(pressure, radius, t) for t in (radius / 4, times * radius / 4))
    assert thin == pytest.approx(thick * times**2)


def test_a_block_is_no_plate() -> None:
    with pytest.raises(OutOfRange, match="for a plate"):
        plate_edge_stress(90e3, 0.04, 0.06)
