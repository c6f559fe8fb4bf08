"""The middle of a block in a frame: heat from the platens above and below, and from the frame's sides."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import ceil, inf

import numpy as np
from numpy.typing import NDArray

from diagnose.calc.allowed_range import above_zero, within
from diagnose.calc.kinetics import Kinetics
from diagnose.calc.quadrature import integrals_from_zero
from diagnose.calc.slab import Slab
from diagnose.calc.slab_shapes import even_roots, even_weights

Floats = NDArray[np.float64]

# Before this Fourier number (of the shortest way to the middle) the middle has not moved by a millionth.
STILL = 0.02


@dataclass(frozen=True)
class Box:
    """A block between two platens [m thick], in a frame with inner length and width [m]."""

    slab: Slab
    length: float
    width: float

    def __post_init__(self) -> None:
        above_zero("the frame's inner length", self.length, "m")
        above_zero("the frame's inner width", self.width, "m")

    @property
    def shortest_half(self) -> float:
        """Return the shortest way from a face to the middle [m]."""
        return 0.5 * min(self.length, self.width, self.slab.thickness)


def middle_temperatures(
    box: Box, start: float, platens: float, sides: float, times: Floats, contact: float = inf
) -> Floats:
    r"""Temperature in the middle of a block whose platens and frame sides stand still from time zero.

    Parameters
    ----------
    box
        The block. [m, m^2/s, W/m/K]
    start
        Its uniform temperature at time zero. [K]
    platens
        Mean temperature of the two platens. [K]
    sides
        Temperature of the frame where the rubber touches it. [K]
    times
        Times asked about. [s]
    contact
        Heat transfer between platens and block. [W/m^2/K]

    Returns
    -------
    numpy.ndarray
        Temperature in the middle at each time. [K]

    Raises
    ------
    OutOfRange
        If a size is not above zero, or a temperature not between 100 and 3000 K.

    Notes
    -----
    Sides as hot as the platens: the product of three slabs. Cooler sides subtract their shortfall times the
    share that the sides have in the middle,

    .. math:: w(t) = w_\infty - \sum_{mnp} c_m c_n c_p \frac{k_x^2 + k_y^2}{k_x^2 + k_y^2 + k_z^2}
              e^{-(k_x^2 + k_y^2 + k_z^2) a t}

    whose final value is summed in closed form across the block. Platens that differ by as much above and
    below their mean do not change the middle. Good contact at the sides is taken.

    References
    ----------
    H. S. Carslaw, J. C. Jaeger, Conduction of Heat in Solids, 2nd ed., 1959, sec. 1.15 and 6.4 (from memory).

    Examples
    --------
    With sides as cool as the start, the middle of a cube ends a third of the way up (one pair of three):

    >>> cube = Box(Slab(0.02, 1e-7), 0.02, 0.02)
    >>> round(float(middle_temperatures(cube, 300.0, 360.0, 300.0, np.array([1e5]))[0]), 6)
    320.0
    """
    for name, given in (("start", start), ("platens", platens), ("sides", sides)):
        within(f"the temperature of the {name}", given, 100.0, 3000.0, "K")
    rates, weights = _modes(box, contact)
    per_second = [r * box.slab.diffusivity for r in rates]
    decay = [np.exp(-np.outer(times, r)) @ c for r, c in zip(per_second, weights, strict=True)]
    kelvin = platens + (start - platens) * decay[0] * decay[1] * decay[2]
    if sides != platens:
        kelvin -= (platens - sides) * _side_share(box, rates, weights, times)
    kelvin[times * box.slab.diffusivity < STILL * box.shortest_half**2] = start
    return np.asarray(kelvin)


def _modes(box: Box, contact: float) -> tuple[list[Floats], list[Floats]]:
    """Return squared wave numbers [1/m^2] and weights, for length, width and thickness."""
    halves = (0.5 * box.length, 0.5 * box.width, 0.5 * box.slab.thickness)
    biots = (inf, inf, box.slab.biot(contact))
    counts = [min(80, 2 + ceil(10.0 * h / box.shortest_half)) for h in halves]
    roots = [even_roots(b, n) for b, n in zip(biots, counts, strict=True)]
    return [(r / h) ** 2 for r, h in zip(roots, halves, strict=True)], [even_weights(r) for r in roots]


def _side_share(box: Box, rates: list[Floats], weights: list[Floats], times: Floats) -> Floats:
    x, y, z = rates[0][:, None, None], rates[1][:, None], rates[2]
    share = weights[0][:, None, None] * weights[1][:, None] * weights[2] * (x + y) / (x + y + z)
    fade = [np.exp(-np.outer(times, r * box.slab.diffusivity)) for r in rates]
    fading = np.einsum("mnp,tm,tn,tp->t", share, *fade, optimize=["einsum_path", (0, 1), (0, 1), (0, 1)])
    return np.asarray(_final_share(box, rates, weights) - fading)


def _final_share(box: Box, rates: list[Floats], weights: list[Floats]) -> float:
    across_length = _one_pair(0.5 * box.length, rates[1], weights[1], rates[2], weights[2])
    across_width = _one_pair(0.5 * box.width, rates[0], weights[0], rates[2], weights[2])
    return across_length + across_width


def _one_pair(half: float, first: Floats, first_c: Floats, second: Floats, second_c: Floats) -> float:
    reach = half * np.sqrt(first[:, None] + second[None, :])
    return float(first_c @ (1.0 / np.cosh(np.minimum(reach, 700.0))) @ second_c)


@lru_cache(maxsize=256)
def middle_dose(
    box: Box,
    start: float,
    platens: float,
    sides: float,
    kinetics: Kinetics,
    duration: float,
    contact: float = inf,
) -> float:
    """Cure in the middle of a block that gets heat from its sides too, or loses heat to them.

    Parameters
    ----------
    box
        The block. [m, m^2/s, W/m/K]
    start
        Its uniform temperature when it goes in. [K]
    platens
        Mean temperature of the two platens. [K]
    sides
        Temperature of the frame where the rubber touches it. [K]
    kinetics
        The reaction. [J/mol, K]
    duration
        Time in the press. [s]
    contact
        Heat transfer between platens and block. [W/m^2/K]

    Returns
    -------
    float
        Equivalent time at the reference temperature. [s]

    Raises
    ------
    OutOfRange
        As `middle_temperatures`, or if the duration is not above zero.

    Notes
    -----
    The frame is taken to be at its temperature from the start. A real frame warms up with the pack, so the
    truth lies between this with sides as hot as the platens and the slab that gets nothing from its sides.

    Examples
    --------
    Sides far away do not matter:

    >>> from diagnose.calc.cure import MIDDLE, History, Press
    >>> inch, reaction = Slab(0.0254, 0.9e-7), Kinetics(1e5, 426.15)
    >>> wide = middle_dose(Box(inch, 0.5, 0.5), 296.15, 426.15, 426.15, reaction, 3600.0)
    >>> alone = History(inch, 296.15, Press(426.15, 426.15), 3600.0).doses(reaction, np.array([MIDDLE]))[0]
    >>> abs(wide / float(alone[0]) - 1) < 1e-5
    True
    """
    above_zero("the time in the press", duration, "s")

    def rates(times: Floats) -> Floats:
        return kinetics.rates(middle_temperatures(box, start, platens, sides, times, contact))[:, None]

    return float(integrals_from_zero(rates, duration)[0])
