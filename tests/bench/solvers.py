"""Heat conduction solved without the series that ship: method of lines with scipy, series with scipy's roots."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from scipy.constants import R
from scipy.integrate import cumulative_simpson, solve_ivp
from scipy.interpolate import CubicSpline
from scipy.optimize import brentq
from scipy.special import j0, j1, jn_zeros

from diagnose.derive.calculator import Facts, number

Floats = NDArray[np.float64]
CELLS = 160
PLACES = {"bottom": 0, "lower": CELLS // 4, "middle": CELLS // 2, "upper": 3 * CELLS // 4, "top": CELLS}


def pace(facts: Facts, kelvin: Floats) -> Floats:
    """Return how fast the rubber cures against its reference temperature (Arrhenius, R of CODATA)."""
    energy = number(facts, "rubber activation energy") / R
    return np.asarray(np.exp(energy * (1.0 / number(facts, "rubber reference temperature") - 1.0 / kelvin)))


def block(
    facts: Facts, start: Floats | float, duration: float, faces: tuple[float, float], transfer: float
) -> tuple[Floats, Floats]:
    """Return times and temperatures of every node of a block between two faces, by the method of lines."""
    thick, spread = number(facts, "rubber thickness"), number(facts, "rubber diffusivity")
    step = thick / CELLS
    rate, gain = spread / step**2, transfer * step / number(facts, "rubber conductivity")

    def change(_: float, kelvin: Floats) -> Floats:
        slope = np.empty_like(kelvin)
        slope[1:-1] = rate * (kelvin[2:] - 2 * kelvin[1:-1] + kelvin[:-2])
        slope[0] = 2 * rate * (kelvin[1] - kelvin[0] + gain * (faces[0] - kelvin[0]))
        slope[-1] = 2 * rate * (kelvin[-2] - kelvin[-1] + gain * (faces[1] - kelvin[-1]))
        return slope

    times = duration * np.linspace(0.0, 1.0, 801) ** 2
    begin = np.full(CELLS + 1, start) if isinstance(start, float) else start
    solved = solve_ivp(change, (0, duration), begin, "LSODA", times, rtol=1e-7, atol=1e-6, lband=1, uband=1)
    return times, np.asarray(solved.y)


@lru_cache(maxsize=64)
def _pressed(frozen: tuple[tuple[str, float], ...], duration: float) -> tuple[Floats, Floats]:
    facts = dict(frozen)
    faces = facts["bottom face temperature"], facts["top face temperature"]
    return block(facts, facts["rubber start temperature"], duration, faces, facts["platen contact"])


def pressed(facts: Facts, duration: float) -> tuple[Floats, Floats]:
    """Return times and node temperatures of a block in the press."""
    names = (
        "bottom face temperature", "top face temperature", "platen contact", "rubber start temperature",
        "rubber thickness", "rubber diffusivity", "rubber conductivity",
    )  # fmt: skip
    return _pressed(tuple((name, number(facts, name)) for name in names), duration)


def dose_curve(facts: Facts, times: Floats, kelvin: Floats) -> CubicSpline:
    """Return the equivalent time at one node as a function of time."""
    grown = cumulative_simpson(pace(facts, kelvin), x=times, initial=0.0)
    return CubicSpline(times, grown)


def time_for(facts: Facts, dose: float, node: int, longest: float) -> float:
    """Return the time in the press after which a node has a dose."""
    times, kelvin = pressed(facts, longest)
    curve = dose_curve(facts, times, kelvin[node])
    return float(brentq(lambda t: float(curve(t)) - dose, 1.0, longest, xtol=1e-6))


def cylinder(
    radius: float, spread: float, start: float, kiln: Callable[[float], float], times: Floats, rings: int = 160
) -> Floats:
    """Return the temperature on the axis of a long round mold whose outside follows a kiln, by the method of lines."""
    step = radius / rings
    edges = np.linspace(0.0, radius, rings + 1)
    volume = 0.5 * (edges[1:] ** 2 - edges[:-1] ** 2)
    inner, outer = edges[:-1] / step / volume, edges[1:] / step / volume
    outer[-1] *= 2.0

    def change(t: float, kelvin: Floats) -> Floats:
        beyond = np.append(kelvin[1:], kiln(t))
        before = np.insert(kelvin[:-1], 0, 0.0)
        return np.asarray(spread * (inner * (before - kelvin) + outer * (beyond - kelvin)))

    solved = solve_ivp(
        change, (0.0, times[-1]), np.full(rings, start), "LSODA", times, rtol=1e-8, atol=1e-6, lband=1, uband=1,
        max_step=times[-1] / 150,
    )  # fmt: skip
    return np.asarray(solved.y[0])


def round_share(fourier: float, place: float = 0.0, biot: float = np.inf) -> float:
    """Return the share of a step still missing in a long cylinder: the whole series, with scipy's Bessel functions."""
    if np.isinf(biot):
        roots = jn_zeros(0, 60)
        weights = 2.0 / (roots * j1(roots))
    else:
        ends = np.concatenate(([1e-9], jn_zeros(1, 60)))
        zeros = jn_zeros(0, 60)
        roots = np.array([brentq(lambda z: z * j1(z) - biot * j0(z), ends[n], zeros[n]) for n in range(60)])
        weights = 2.0 * j1(roots) / (roots * (j0(roots) ** 2 + j1(roots) ** 2))
    return float(np.sum(weights * np.exp(-(roots**2) * fourier) * j0(roots * place)))


def flat_share(fourier: float) -> float:
    """Return the share of a step still missing in the middle of a slab with held faces: the whole series."""
    odd = np.arange(1, 401, 2)
    return float(np.sum(4 / np.pi * (-1.0) ** (odd // 2) / odd * np.exp(-((odd * np.pi / 2) ** 2) * fourier)))
