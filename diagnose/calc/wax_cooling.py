"""Cooling and freezing of wax in a rubber mold: enthalpy method for slabs, bars, rods and balls."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from math import inf, isfinite, pi, sqrt

import numpy as np
from numpy.typing import NDArray

from diagnose.calc.allowed_range import within
from diagnose.calc.bounds import require_positive
from diagnose.errors import OutOfRange

SLAB, ROD, BALL = 0.0, 1.0, 2.0
Array = NDArray[np.float64]

_WAX_CELLS = 14
_MOLD_CELLS = 26
_DEEP = 60.0
_GROWTH = 1.08  # each time step ends at this multiple of the time before; keeps times right to 5 %


@dataclass(frozen=True)
class Wax:
    """What the heat balance needs to know of a wax.

    Parameters
    ----------
    density
        Density, taken as the same liquid and solid. [kg/m^3]
    specific_heat
        Specific heat away from freezing. [J/(kg K)]
    conductivity
        Heat conductivity. [W/(m K)]
    latent_heat
        Heat given up in freezing, spread evenly over the freezing range. [J/kg]
    freezing_start, freezing_end
        Upper and lower end of the freezing range. [K]

    Raises
    ------
    OutOfRange
        If a property is not one of a wax or the range runs from cold to hot.
    """

    density: float
    specific_heat: float
    conductivity: float
    latent_heat: float
    freezing_start: float
    freezing_end: float

    def __post_init__(self) -> None:
        require_positive(**vars(self))
        within("the density of the wax", self.density, 300.0, 5000.0, "kg/m3")
        within("the specific heat of the wax", self.specific_heat, 100.0, 2e4, "J/kg/K")
        within("the conductivity of the wax", self.conductivity, 0.01, 10.0, "W/m/K")
        within("the latent heat of the wax", self.latent_heat, 0.0, 1e6, "J/kg")
        if self.freezing_end >= self.freezing_start:
            raise OutOfRange(
                "wax that begins to freeze at {start:K} cannot be frozen through at {end:K}.",
                {"start": self.freezing_start, "end": self.freezing_end},
                next_step="Check which end of the freezing range is which.",
            )

    def heat(self, temperature: float) -> float:
        """Return the heat held above absolute zero, latent heat included. [J/kg]"""
        span = self.freezing_start - self.freezing_end
        liquid = min(1.0, max(0.0, (temperature - self.freezing_end) / span))
        return self.specific_heat * temperature + self.latent_heat * liquid


@dataclass(frozen=True)
class Rubber:
    """What the heat balance needs to know of the mold around a section.

    Parameters
    ----------
    conductivity
        Heat conductivity. [W/(m K)]
    diffusivity
        Heat diffusivity. [m^2/s]
    depth
        From the middle of the section to the outside of the mold, where no heat leaves; infinite for a mold
        much deeper than the section. [m]

    Raises
    ------
    OutOfRange
        If a property is not one of a mold, or the depth not above zero.
    """

    conductivity: float
    diffusivity: float
    depth: float = inf

    def __post_init__(self) -> None:
        within("the conductivity of the mold", self.conductivity, 0.01, 500.0, "W/m/K")
        within("the diffusivity of the mold", self.diffusivity, 1e-9, 1e-3, "m2/s")
        if not self.depth > 0.0:
            raise OutOfRange(
                "a mold {depth:m} deep is not above zero.", {"depth": self.depth}, next_step="Check the mold."
            )


def settled_temperature(
    half: float, shape: float, wax: Wax, rubber: Rubber, wax_temperature: float, mold_temperature: float
) -> float:
    r"""Temperature that wax and mold come to together when no heat leaves the mold.

    Parameters
    ----------
    half
        Half of the thickness, or the radius, of the section. [m]
    shape
        SLAB, ROD, BALL, or between slab and rod for a bar (see `bar_shape`). [-]
    wax, rubber
        Properties.
    wax_temperature
        Temperature of the wax as it arrives. [K]
    mold_temperature
        Temperature of the mold before. [K]

    Returns
    -------
    float
        Common temperature in the end. [K]

    Raises
    ------
    OutOfRange
        If the section does not fit in the mold or a size is not above zero.

    Notes
    -----
    Heat balance, solved by halving. A deep mold stays at its temperature.

    Examples
    --------
    In a deep mold:

    >>> wax = Wax(900.0, 2300.0, 0.24, 150e3, 335.15, 323.15)
    >>> settled_temperature(0.001, SLAB, wax, Rubber(0.2, 1.2e-7), 343.15, 295.15)
    295.15
    """
    require_positive(half_thickness=half, mold_temperature=mold_temperature)
    if rubber.depth <= half:
        raise OutOfRange(
            "a section {heaviest section:m} thick does not fit in a mold {mold round the heaviest section:m} thick.",
            {"heaviest section": 2.0 * half, "mold round the heaviest section": 2.0 * rubber.depth},
            next_step="Check both thicknesses.",
        )
    if not isfinite(rubber.depth):
        return mold_temperature
    share = (rubber.depth / half) ** (shape + 1) - 1.0
    capacity = rubber.conductivity / rubber.diffusivity * share / wax.density
    low, high = sorted((mold_temperature, wax_temperature))
    for _ in range(60):
        middle = 0.5 * (low + high)
        if wax.heat(wax_temperature) - wax.heat(middle) > capacity * (middle - mold_temperature):
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


def bar_shape(thickness: float, width: float | None = None) -> tuple[float, float]:
    r"""Shape and half size that stand for a bar with a rectangular section.

    Parameters
    ----------
    thickness
        Thickness of the section. [m]
    width
        Its width, or None for a wall that is wide in both directions. [m]

    Returns
    -------
    tuple of float
        Shape between SLAB and ROD [-], and half size [m].

    Raises
    ------
    OutOfRange
        If a size is not above zero.

    Notes
    -----
    A bar lies between a slab (:math:`s = 0`) and a rod (:math:`s = 1`). A square bar becomes the round rod of the
    same section, so that it holds the same heat; with q = thin side over wide side, :math:`s = q^{1.2}` and half
    size :math:`\frac{t}{2}(1 + (2/\sqrt\pi - 1) q)`. The power is fitted to calculations in two dimensions, which
    the stand-in meets within 15 % from square to five times as wide as thick.

    Examples
    --------
    >>> bar_shape(0.002)
    (0.0, 0.001)
    >>> tuple(round(v, 6) for v in bar_shape(0.002, 0.002))
    (1.0, 0.001128)
    """
    if width is None:
        require_positive("m", thickness=thickness)
        return SLAB, thickness / 2.0
    require_positive("m", thickness=thickness, width=width)
    share = min(thickness, width) / max(thickness, width)
    return share**1.2, min(thickness, width) / 2.0 * (1.0 + (2.0 / sqrt(pi) - 1.0) * share)


@lru_cache(maxsize=4096)
def cooling_times(
    half: float,
    shape: float,
    wax: Wax,
    rubber: Rubber,
    wax_temperature: float,
    mold_temperature: float,
    targets: tuple[float, ...],
) -> tuple[float | None, ...]:
    r"""Times until the middle of a wax section in a rubber mold has cooled to given temperatures.

    Parameters
    ----------
    half
        Half of the thickness of a slab, or the radius of a rod or ball. [m]
    shape
        SLAB, ROD, BALL, or between slab and rod for a bar (see `bar_shape`). [-]
    wax, rubber
        Properties.
    wax_temperature
        Temperature of the wax as it arrives. [K]
    mold_temperature
        Temperature of the mold before the shot. [K]
    targets
        Temperatures wanted in the middle, from hot to cold. [K]

    Returns
    -------
    tuple of float or None
        Times from the end of filling [s]; None where a mold that gives off no heat to the room settles
        above the target: then waiting does not help and the mold must rest.

    Raises
    ------
    OutOfRange
        If a target does not lie between mold and wax, or the section does not fit in the mold.

    Notes
    -----
    .. math:: \frac{\partial H}{\partial t} = \frac{1}{r^s}\frac{\partial}{\partial r}
              \left(r^s k \frac{\partial T}{\partial r}\right)

    with s the shape; H holds specific and latent heat, the latent part spread evenly over the freezing range.
    Finite volumes, implicit steps, Newton's method. The contact between wax and rubber is taken as perfect,
    filling as instant. As properties of waxes are known to a third, seconds are good to about a half, while
    ratios (twice the thickness, a warmer mold) are good to a few hundredths.

    References
    ----------
    voller-1990, from memory, for the enthalpy method.

    Examples
    --------
    Twice as thick takes four times as long in a deep mold:

    >>> wax, rubber = Wax(900.0, 2300.0, 0.24, 150e3, 335.15, 323.15), Rubber(0.2, 1.16e-7)
    >>> one, two = (cooling_times(h, SLAB, wax, rubber, 343.15, 295.15, (323.15,)) for h in (0.001, 0.002))
    >>> round(two[0] / one[0], 6)
    4.0
    """
    # Sixty half sizes away nothing is felt in any time worth waiting, so a deep mold may end there.
    rubber = replace(rubber, depth=min(rubber.depth, _DEEP * half))
    settled = settled_temperature(half, shape, wax, rubber, wax_temperature, mold_temperature)
    for target in targets:
        if not mold_temperature < target < wax_temperature:
            raise OutOfRange(
                "{asked:K} does not lie between the mold at {mold:K} and the wax at {wax:K}.",
                {"asked": target, "mold": mold_temperature, "wax": wax_temperature},
                next_step="Check the three temperatures; a mold this warm must rest first.",
            )
    reachable = tuple(t for t in targets if settled < t - 0.05 * (t - mold_temperature))
    grid = _Grid(half, shape, wax, rubber)
    found = dict(zip(reachable, _march(grid, wax_temperature, mold_temperature, reachable), strict=True))
    return tuple(found.get(target) for target in targets)


class _Grid:
    """Cells from the middle of the wax to the outside of the mold, with the conductances between them."""

    def __init__(self, half: float, shape: float, wax: Wax, rubber: Rubber) -> None:
        faces = np.concatenate((np.linspace(0.0, half, _WAX_CELLS + 1), _stretched(half, rubber.depth)[1:]))
        middles = 0.5 * (faces[1:] + faces[:-1])
        self.size = half**2 * wax.density * wax.specific_heat / wax.conductivity
        self.volume = np.diff(faces ** (shape + 1)) / (shape + 1)
        inside = middles < half
        conductivity = np.where(inside, wax.conductivity, rubber.conductivity)
        inner, outer = faces[1:-1] - middles[:-1], middles[1:] - faces[1:-1]
        through = faces[1:-1] ** shape / (inner / conductivity[:-1] + outer / conductivity[1:])
        self.conduction = np.diag(np.append(through, 0.0) + np.insert(through, 0, 0.0))
        self.conduction -= np.diag(through, 1) + np.diag(through, -1)
        rubber_heat = rubber.conductivity / rubber.diffusivity
        self.inside = inside
        self.capacity = np.where(inside, wax.density * wax.specific_heat, rubber_heat)
        self.start, self.span = wax.freezing_start, wax.freezing_start - wax.freezing_end
        self.latent = np.where(inside, wax.density * wax.latent_heat, 0.0)

    def heat(self, temperature: Array) -> tuple[Array, Array, NDArray[np.int_]]:
        """Return the heat per volume, its slope with temperature, and the piece of the broken line it is on."""
        liquid = 1.0 - (self.start - temperature) / self.span
        piece = (liquid > 0.0).astype(np.int_) + (liquid >= 1.0)
        held = self.capacity * temperature + self.latent * np.clip(liquid, 0.0, 1.0)
        return held, self.capacity + (piece == 1) * (self.latent / self.span), piece


def _stretched(half: float, depth: float) -> Array:
    """Return faces of mold cells that widen from the wax to the outside."""
    first = half / _WAX_CELLS
    low, high = 1.0, 3.0
    for _ in range(50):
        ratio = 0.5 * (low + high)
        length = first * float(np.sum(ratio ** np.arange(_MOLD_CELLS)))
        low, high = (ratio, high) if length < depth - half else (low, ratio)
    widths = ratio ** np.arange(_MOLD_CELLS)
    steps: Array = np.concatenate(([0.0], np.cumsum(widths / np.sum(widths))))
    faces: Array = half + (depth - half) * steps
    return faces


def _march(grid: _Grid, wax: float, mold: float, targets: tuple[float, ...]) -> list[float]:
    """Step forward in time until the middle has passed every target; interpolate the moments."""
    now = np.where(grid.inside, wax, mold).astype(np.float64)
    time, step = 0.0, 0.002 * grid.size
    found: list[float] = []
    waiting = sorted(targets, reverse=True)
    while waiting:
        ahead = _step(grid, now, step)
        while waiting and ahead[0] <= waiting[0]:
            target = waiting.pop(0)
            found.append(float(time + step * (now[0] - target) / (now[0] - ahead[0])))
        now, time, step = ahead, time + step, max(step, (_GROWTH - 1.0) * (time + step))
    return [found[sorted(targets, reverse=True).index(t)] for t in targets]


def _step(grid: _Grid, before: Array, step: float) -> Array:
    """Solve one implicit step for the temperatures; halve it where Newton's method does not settle."""
    held, slope, piece = grid.heat(before)
    heat, now, flow = held, before, step * grid.conduction
    for _ in range(25):
        matrix = flow.copy()
        np.fill_diagonal(matrix, flow.diagonal() + grid.volume * slope)
        now = now - np.linalg.solve(matrix, grid.volume * (heat - held) + flow @ now)
        used = piece
        heat, slope, piece = grid.heat(now)
        # Heat is a broken line over temperature: where no cell changed its piece, the solution is exact.
        if np.array_equal(used, piece):
            return now
    halfway = _step(grid, before, 0.5 * step)
    return _step(grid, halfway, 0.5 * step)
