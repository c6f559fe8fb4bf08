"""How fast the cure calculation is against a method-of-lines solve of the same accuracy with scipy.

Both find the equivalent time in the middle, at a quarter and at the skin of a pressed block. The yardstick is a
collocation at Chebyshev points with a very tight stiff integrator: independent of both. Of scipy's stiff
integrators, grids and tolerances, the fastest solve that is within the accuracy wanted is taken.

Run: python -m tests.bench.cure
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from math import inf

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import simpson, solve_ivp
from scipy.sparse import diags

from diagnose.calc.cure import History, Press
from diagnose.calc.kinetics import Kinetics
from diagnose.calc.slab import Slab
from diagnose.calc.slab_shapes import even_roots, even_shapes, odd_roots

Floats = NDArray[np.float64]

WANTED, TARGET_RATIO = 1e-4, 50.0
GUM = Kinetics(100e3, 426.15)
START = 296.15
PLACES = np.array([0.0, 0.5, 1.0])


@dataclass(frozen=True)
class Pressing:
    """One block in the press: what, between what, how long [s]."""

    name: str
    slab: Slab
    press: Press
    duration: float


PRESSINGS = (
    Pressing("inch, full contact", Slab(0.0254, 0.9e-7, 0.153), Press(426.15, 426.15), 3600.0),
    Pressing("inch, 1000 W/m2/K", Slab(0.0254, 0.9e-7, 0.153), Press(426.15, 426.15, 1000.0), 3600.0),
    Pressing("two inches, unequal", Slab(0.0508, 0.9e-7, 0.153), Press(421.15, 431.15, 300.0), 9000.0),
)


def series(p: Pressing) -> Floats:
    """Return the doses by the calculation that ships."""
    return History(p.slab, START, p.press, p.duration).doses(GUM, PLACES)[0]


def series_of_a_new_block(p: Pressing) -> Floats:
    """Return the same with nothing kept from earlier calls: the wave numbers are found afresh."""
    for kept in (even_roots, odd_roots, even_shapes):
        kept.cache_clear()
    return series(p)


def yardstick(p: Pressing, degree: int = 64) -> Floats:
    """Return the doses by Chebyshev collocation, to better than 1e-6."""
    x = np.cos(np.pi * np.arange(degree + 1) / degree)
    c = np.where((np.arange(degree + 1) % degree) == 0, 2.0, 1.0) * (-1.0) ** np.arange(degree + 1)
    gaps = x[:, None] - x + np.eye(degree + 1)
    first = np.outer(c, 1.0 / c) / gaps
    first -= np.diag(first.sum(axis=1))
    pace = 1.0 / p.slab.lag
    biot = p.slab.biot(p.press.contact)

    def faces(inside: Floats) -> Floats:
        whole = np.empty(degree + 1)
        whole[1:-1] = inside
        if biot == inf:
            whole[0], whole[-1] = p.press.top, p.press.bottom
            return whole
        matrix = np.array(
            [
                [first[0, 0] + biot, first[0, -1]],
                [first[-1, 0], first[-1, -1] - biot],
            ]
        )
        right = np.array(
            [
                biot * p.press.top - first[0, 1:-1] @ inside,
                -biot * p.press.bottom - first[-1, 1:-1] @ inside,
            ]
        )
        whole[0], whole[-1] = np.linalg.solve(matrix, right)
        return whole

    second = first @ first

    def change(_: float, inside: Floats) -> Floats:
        return pace * (second @ faces(inside))[1:-1]

    share = np.linspace(0.0, 1.0, 4001)
    times = p.duration * share**2
    solved = solve_ivp(change, (0.0, p.duration), np.full(degree - 1, START), "Radau", times, rtol=1e-10, atol=1e-8)
    whole = np.apply_along_axis(faces, 0, solved.y)
    basis = np.polynomial.chebyshev.chebvander(x, degree)
    at = np.polynomial.chebyshev.chebvander(PLACES, degree)
    kelvin = at @ np.linalg.solve(basis, whole)
    return np.asarray(simpson(GUM.rates(kelvin) * 2 * share * p.duration, x=share, axis=1))


def lines(p: Pressing, cells: int, method: str, tolerance: float) -> Floats:
    """Return the doses by central differences and one of scipy's stiff integrators."""
    step = p.slab.thickness / cells
    pace = p.slab.diffusivity / step**2
    held = p.press.contact == inf
    gain = 0.0 if held else p.press.contact * step / p.slab.conductivity

    def change(_: float, kelvin: Floats) -> Floats:
        slope = np.empty_like(kelvin)
        slope[1:-1] = pace * (kelvin[2:] - 2 * kelvin[1:-1] + kelvin[:-2])
        if held:
            slope[0] = slope[-1] = 0.0
        else:
            slope[0] = 2 * pace * (kelvin[1] - kelvin[0] + gain * (p.press.bottom - kelvin[0]))
            slope[-1] = 2 * pace * (kelvin[-2] - kelvin[-1] + gain * (p.press.top - kelvin[-1]))
        return slope

    start = np.full(cells + 1, START)
    if held:
        start[0], start[-1] = p.press.bottom, p.press.top
    share = np.linspace(0.0, 1.0, 101)
    help_it: dict[str, object] = (
        {"lband": 1, "uband": 1} if method == "LSODA" else {"jac": _jacobian(cells, pace, gain, held)}
    )
    solved = solve_ivp(
        change, (0.0, p.duration), start, method, p.duration * share**2, rtol=tolerance, atol=tolerance, **help_it
    )
    rates = GUM.rates(solved.y[[cells // 2, 3 * cells // 4, cells]])
    return np.asarray(simpson(rates * 2 * share * p.duration, x=share, axis=1))


def _jacobian(cells: int, pace: float, gain: float, held: bool) -> object:
    middle = np.full(cells + 1, -2 * pace)
    below, above = np.full(cells, pace), np.full(cells, pace)
    middle[[0, -1]] = 0.0 if held else -2 * pace * (1 + gain)
    above[0] = below[-1] = 0.0 if held else 2 * pace
    return diags([below, middle, above], [-1, 0, 1], format="csc")


def fastest(run: Callable[[], Floats], times: int) -> float:
    """Return the shortest of several runs [s]: what the work takes when nobody disturbs."""
    best = inf
    for _ in range(times):
        start = time.perf_counter()
        run()
        best = min(best, time.perf_counter() - start)
    return best


def best_lines(p: Pressing, truth: Floats) -> tuple[float, float, str]:
    """Return time [s], error and name of the fastest solve within the accuracy wanted."""
    found = (inf, inf, "none")
    for method in ("LSODA", "BDF", "Radau"):
        for cells in (80, 120, 160, 240):
            for tolerance in (1e-3, 1e-4, 1e-5, 1e-6):
                error = float(np.max(np.abs(lines(p, cells, method, tolerance) / truth - 1)))
                if error > WANTED:
                    continue
                took = fastest(lambda m=method, n=cells, t=tolerance: lines(p, n, m, t), 3)
                found = min(found, (took, error, f"{method}, {cells} cells, tolerance {tolerance:g}"))
    return found


def main() -> int:
    """Print both times, both errors and the ratio; return 1 when a ratio or an accuracy is missed."""
    missed = False
    print(f"{'pressing':20} {'ours ms':>8} {'(new)':>6} {'error':>8} {'lines ms':>9} {'error':>8} {'ratio':>6}  by")
    for p in PRESSINGS:
        truth = yardstick(p)
        error = float(np.max(np.abs(series(p) / truth - 1)))
        ours = fastest(lambda q=p: series(q), 300)
        new = fastest(lambda q=p: series_of_a_new_block(q), 300)
        took, theirs, how = best_lines(p, truth)
        ratio = took / ours
        missed |= ratio < TARGET_RATIO or error > WANTED
        print(
            f"{p.name:20} {ours * 1e3:8.3f} {new * 1e3:6.3f} {error:8.1e} {took * 1e3:9.2f} {theirs:8.1e} "
            f"{ratio:6.0f}  {how}"
        )
    print(f"target: ratio {TARGET_RATIO:g} or more, error {WANTED:g} or less: {'missed' if missed else 'met'}")
    return int(missed)


if __name__ == "__main__":
    sys.exit(main())
