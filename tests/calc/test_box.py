"""The middle of a block in its frame against separate products of slabs and a march in three dimensions."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.sparse import diags, identity, kron
from scipy.sparse.linalg import splu

from diagnose.calc.box import Box, middle_dose, middle_temperatures
from diagnose.calc.kinetics import Kinetics
from diagnose.calc.slab import Slab
from diagnose.errors import OutOfRange

CELSIUS = 273.15
GUM = Kinetics(100e3, 153 + CELSIUS)
ROOM, HOT = 23 + CELSIUS, 153 + CELSIUS
RING = Box(Slab(0.0254, 0.9e-7, 0.153), 0.0476, 0.073)


# Product of three slabs (Carslaw and Jaeger, sec. 1.15), multiplied out separately.
@pytest.mark.parametrize(
    ("thickness", "readings"),
    [
        (0.0254, {20: 128.6, 30: 145.0, 40: 150.5, 60: 152.7}),
        (0.0508, {60: 142.6, 90: 151.0, 120: 152.6}),
    ],
)
def test_hot_sides_agree_with_the_product_of_three_slabs(thickness: float, readings: dict[int, float]) -> None:
    box = Box(Slab(thickness, 0.9e-7), 0.0476, 0.073)

    found = middle_temperatures(box, ROOM, HOT, HOT, 60.0 * np.array(list(readings), dtype=float))

    assert found - CELSIUS == pytest.approx(list(readings.values()), abs=0.06)


def march(box: Box, sides: float, times: list[float], cells: int = 16) -> np.ndarray:
    """Middle temperature by implicit steps on an eighth of the block, mirrored at the three middle planes."""

    def second_difference(half: float) -> tuple[object, np.ndarray]:
        pace = box.slab.diffusivity / (half / cells) ** 2
        up = np.full(cells - 1, pace)
        up[0] *= 2  # mirror in the middle plane
        matrix = diags([np.full(cells - 1, pace), np.full(cells, -2 * pace), up], [-1, 0, 1])
        edge = np.zeros(cells)
        edge[-1] = pace
        return matrix, edge

    one = identity(cells)
    x, x_edge = second_difference(box.length / 2)
    y, y_edge = second_difference(box.width / 2)
    z, z_edge = second_difference(box.slab.thickness / 2)
    matrix = kron(kron(x, one), one) + kron(kron(one, y), one) + kron(kron(one, one), z)
    ones = np.ones(cells)
    fed = sides * (np.kron(np.kron(x_edge, ones), ones) + np.kron(np.kron(ones, y_edge), ones))
    fed = fed + HOT * np.kron(np.kron(ones, ones), z_edge)
    step = times[0] / 40
    solve = splu((identity(cells**3) - step / 2 * matrix).tocsc())
    kelvin, found = np.full(cells**3, ROOM), []
    for n in range(1, round(times[-1] / step) + 1):
        kelvin = solve.solve(kelvin + step / 2 * (matrix @ kelvin) + step * fed)
        if any(abs(n * step - t) < step / 2 for t in times):
            found.append(kelvin[0])
    return np.array(found)


@pytest.mark.parametrize("sides", [HOT, HOT - 20.0, HOT - 80.0])
def test_cool_sides_agree_with_a_march_in_three_dimensions(sides: float) -> None:
    box = Box(Slab(0.0254, 0.9e-7), 0.03, 0.04)
    times = [600.0, 1200.0, 3600.0]

    found = middle_temperatures(box, ROOM, HOT, sides, np.array(times))

    assert found == pytest.approx(march(box, sides, times), abs=0.35)


def test_sides_have_two_thirds_of_the_say_in_a_cube() -> None:
    # By symmetry: each of three pairs of faces has one third in the middle once all is steady.
    cube = Box(Slab(0.02, 1e-7), 0.02, 0.02)

    end = middle_temperatures(cube, 300.0, 400.0, 340.0, np.array([1e6]))[0]

    assert end == pytest.approx(400.0 / 3 + 2 * 340.0 / 3)


@settings(max_examples=25, deadline=None)
@given(
    length=st.floats(0.02, 0.12), width=st.floats(0.02, 0.12), short=st.floats(1.0, 120.0), time=st.floats(600, 7200)
)
def test_hot_sides_help_and_cool_sides_hinder(length: float, width: float, short: float, time: float) -> None:
    box = Box(Slab(0.0254, 0.9e-7), length, width)
    alone = middle_dose(Box(box.slab, 0.6, 0.6), ROOM, HOT, HOT, GUM, time)

    hot = middle_dose(box, ROOM, HOT, HOT, GUM, time)
    cool = middle_dose(box, ROOM, HOT, HOT - short, GUM, time)

    assert hot >= alone * (1 - 1e-4)
    assert cool <= hot * (1 + 1e-6)


def test_the_middle_stands_still_at_first() -> None:
    assert middle_temperatures(RING, ROOM, HOT, ROOM, np.array([0.0, 1.0, 10.0])) == pytest.approx(ROOM)


def test_poor_contact_slows_a_block_in_its_frame() -> None:
    good = middle_dose(RING, ROOM, HOT, HOT, GUM, 3600.0)

    assert middle_dose(RING, ROOM, HOT, HOT, GUM, 3600.0, contact=100.0) < good


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: Box(Slab(0.02, 1e-7), 0.0, 0.1), "inner length"),
        (lambda: Box(Slab(0.02, 1e-7), 0.1, -0.1), "inner width"),
        (lambda: middle_temperatures(RING, 20.0, HOT, HOT, np.array([1.0])), "temperature of the start"),
        (lambda: middle_dose(RING, ROOM, HOT, HOT, GUM, 0.0), "the time in the press"),
    ],
)
def test_what_cannot_be_is_refused(call, says: str) -> None:
    with pytest.raises(OutOfRange, match=says):
        call()
