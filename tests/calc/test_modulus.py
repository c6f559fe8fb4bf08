"""Moduli against textbook geometry and against areas measured on polygons."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.calc import modulus
from diagnose.errors import OutOfRange

sizes = st.floats(1e-4, 0.1)


@pytest.mark.parametrize(
    ("shape", "expected"),
    [
        # A solidification example that stands in several manufacturing textbooks (Kalpakjian & Schmid, from memory):
        # three bodies of volume 1; the moduli printed there are 0.207, 0.181 and 0.167.
        (lambda: modulus.sphere((6 / pi) ** (1 / 3)), 0.2068),
        (lambda: modulus.cylinder((4 / pi) ** (1 / 3), (4 / pi) ** (1 / 3)), 0.1806),
        (lambda: modulus.box(1, 1, 1), 0.1667),
    ],
)
def test_bodies_of_one_volume_have_the_moduli_of_the_textbook(shape, expected: float) -> None:
    assert shape() == pytest.approx(expected, abs=6e-5)


@pytest.mark.parametrize(
    ("surface", "ratio_to_sphere"), [(9.049, 0.286), (8.187, 0.349), (11.140, 0.188), (8.349, 0.336)]
)
def test_slimmer_bodies_of_the_same_volume_freeze_sooner(surface: float, ratio_to_sphere: float) -> None:
    # bar 10:1:1, plates 5:5:1 and 10:10:1, cylinder ten times as high as wide; surfaces by plane geometry
    ratio = (modulus.body(1.0, surface) / modulus.sphere((6 / pi) ** (1 / 3))) ** 2
    assert ratio == pytest.approx(ratio_to_sphere, abs=6e-4)


def test_ball_short_cylinder_and_cube_of_one_width_share_a_sixth_of_it() -> None:
    # worked exercise: D 10 cm and 3.5 min/cm2 give 9.72 min for all three
    moduli = [modulus.sphere(10.0), modulus.cylinder(10.0, 10.0), modulus.box(10.0, 10.0, 10.0)]
    assert moduli == pytest.approx([10 / 6] * 3)
    assert 3.5 * moduli[0] ** 2 == pytest.approx(9.72, abs=0.005)


def test_a_cylinder_as_high_as_its_radius_against_the_cube_round_it() -> None:
    # examination question of 2015: height = radius, cube of twice the height; ratio of times (9/16)
    assert (modulus.cylinder(2.0, 1.0) / modulus.box(2.0, 2.0, 2.0)) ** 2 == pytest.approx(0.5625)


@pytest.mark.parametrize(("slenderness", "share"), [(1.5, 0.1875), (2.0, 0.2), (1e9, 0.25)])
def test_cylinders_come_to_the_rod_as_they_get_longer(slenderness: float, share: float) -> None:
    assert modulus.cylinder(1.0, slenderness) == pytest.approx(share)


def test_a_round_ring_has_the_modulus_of_its_wire() -> None:
    # Pappus: volume 2 pi R * pi r2, surface 2 pi R * 2 pi r
    wire, path = 0.003, 2 * pi * 0.010
    assert modulus.body(path * pi * wire**2 / 4, path * pi * wire) == pytest.approx(modulus.rod(wire))


def test_the_half_round_section_agrees_with_a_polygon_of_its_outline() -> None:
    width, height = 0.004, 0.0013
    radius = (width**2 / 4 + height**2) / (2 * height)
    x = np.linspace(-width / 2, width / 2, 20001)
    y = np.sqrt(radius**2 - x**2) - (radius - height)
    area = float(np.sum((y[1:] + y[:-1]) / 2 * np.diff(x)))
    outline = float(np.sum(np.hypot(np.diff(x), np.diff(y)))) + width
    assert modulus.half_round(width, height) == pytest.approx(area / outline, rel=1e-6)


def test_a_tube_cooled_inside_and_out_is_a_bent_plate() -> None:
    outer, wall = 0.02, 0.003
    inner = outer - 2 * wall
    both = (outer**2 - inner**2) / 4 / (outer + inner)
    assert modulus.tube(outer, wall) == pytest.approx(both)
    outside_only = (outer**2 - inner**2) / 4 / outer
    assert modulus.tube(outer, wall, bore_cools=False) == pytest.approx(outside_only)


@given(sizes, sizes)
def test_a_bar_is_between_its_thinner_plate_and_half_of_it(a: float, b: float) -> None:
    plate = modulus.plate(min(a, b))
    assert plate / 2 <= modulus.bar(a, b) * (1 + 1e-12)
    assert modulus.bar(a, b) < plate
    assert modulus.bar(a, b) == pytest.approx(modulus.bar(b, a))


@given(sizes, sizes, st.floats(1.1, 10))
def test_moduli_scale_with_size(a: float, b: float, times: float) -> None:
    assert modulus.cylinder(a * times, b * times) == pytest.approx(times * modulus.cylinder(a, b))
    assert modulus.section(a * times, b * times) == pytest.approx(times * modulus.section(a, b))


@pytest.mark.parametrize(
    "nonsense",
    [
        lambda: modulus.plate(0.0),
        lambda: modulus.rod(float("nan")),
        lambda: modulus.sphere(float("inf")),
        lambda: modulus.bar(-1.0, 1.0),
        lambda: modulus.tube(0.010, 0.006),
        lambda: modulus.half_round(0.002, 0.003),
        lambda: modulus.body(1.0, 1.0),  # less surface than a ball of that volume has
    ],
)
def test_impossible_sections_are_refused(nonsense) -> None:
    with pytest.raises(OutOfRange):
        nonsense()
