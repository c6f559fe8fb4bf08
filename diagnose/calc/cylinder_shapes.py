"""Bessel functions, and the wave numbers and weights of the temperature shapes of a round bar."""

from __future__ import annotations

from functools import lru_cache
from math import isinf, pi, sqrt

import numpy as np
from numpy.typing import NDArray

from diagnose.calc.allowed_range import above_zero, within
from diagnose.errors import OutOfRange

Floats = NDArray[np.float64]

MOST_TERMS = 200


def bessel(order: int, x: Floats) -> Floats:
    r"""Bessel function of the first kind.

    Parameters
    ----------
    order
        0 or 1. [-]
    x
        Where; from 0 to 700. [rad]

    Returns
    -------
    numpy.ndarray
        Its values. [-]

    Raises
    ------
    OutOfRange
        If a value lies outside 0 to 700.

    Notes
    -----
    Bessel's integral over a whole turn, with evenly spaced points: for a periodic function their sum is exact to
    rounding as soon as there are somewhat more points than `x`.

    .. math:: J_n(x) = \frac{1}{2\pi}\int_0^{2\pi} \cos(n\tau - x\sin\tau)\,d\tau

    References
    ----------
    from memory of abramowitz-1964, eq. 9.1.21.

    Examples
    --------
    J0 at its first root, 2.404825557695773:

    >>> abs(float(bessel(0, np.array([2.404825557695773]))[0])) < 1e-15
    True
    """
    values = np.asarray(x, dtype=np.float64)
    most = float(values.max(initial=0.0))
    within("the argument", most, 0.0, 700.0)
    within("the argument", float(values.min(initial=0.0)), 0.0, 700.0)
    points = int(1.15 * most) + 48
    turn = 2.0 * pi * np.arange(points) / points
    waves = np.cos(order * turn - np.multiply.outer(values, np.sin(turn)))
    return np.asarray(waves.mean(axis=-1))


@lru_cache(maxsize=8)
def bessel_roots(order: int, count: int) -> Floats:
    r"""First roots above zero of the Bessel function of order 0 or 1.

    Parameters
    ----------
    order
        0 or 1. [-]
    count
        How many. [-]

    Returns
    -------
    numpy.ndarray
        Roots, ascending. [rad]

    Raises
    ------
    OutOfRange
        If more than 200 are asked for.

    Notes
    -----
    McMahon's expansion starts, Newton steps finish.

    References
    ----------
    from memory of abramowitz-1964, eq. 9.5.12.

    Examples
    --------
    >>> [round(float(r), 6) for r in bessel_roots(0, 2)]
    [2.404826, 5.520078]
    """
    within("the number of roots", count, 1, MOST_TERMS)
    start = (np.arange(1, count + 1) + 0.5 * order - 0.25) * pi
    root = start - (4.0 * order - 1.0) / (8.0 * start)
    for _ in range(5):
        j0, j1 = bessel(0, root), bessel(1, root)
        root = root + j0 / j1 if order == 0 else root - j1 / (j0 - j1 / root)
    return _locked(root)


@lru_cache(maxsize=256)
def round_roots(biot: float, count: int) -> Floats:
    r"""Wave numbers of the temperature shapes of a round bar.

    Parameters
    ----------
    biot
        Heat transfer at the surface times the radius over conductivity; `inf` for a surface held at its
        temperature. [-]
    count
        How many are wanted. [-]

    Returns
    -------
    numpy.ndarray
        Roots of :math:`\zeta J_1(\zeta) = Bi\,J_0(\zeta)`, ascending. [rad]

    Raises
    ------
    OutOfRange
        If the Biot number is not above zero or more than 200 roots are asked for.

    Notes
    -----
    Each root lies between a root of :math:`J_1` (0 the first) and the next root of :math:`J_0`. Halving the
    interval closes in on it, Newton steps finish.

    References
    ----------
    from memory of carslaw-jaeger-1959, sec. 7.7.

    Examples
    --------
    The textbook table of first roots has 1.2558 at a Biot number of 1:

    >>> round(float(round_roots(1.0, 1)[0]), 4)
    1.2558
    """
    high = bessel_roots(0, count)
    if isinf(biot) and biot > 0.0:
        return high
    above_zero("the Biot number", biot)
    low = np.concatenate(([0.0], bessel_roots(1, count)[:-1])) if count > 1 else np.zeros(1)
    bottom, top = low, high
    sign = np.where(np.arange(count) % 2 == 0, 1.0, -1.0)
    for _ in range(14):
        middle = 0.5 * (bottom + top)
        short = sign * (middle * bessel(1, middle) - biot * bessel(0, middle)) < 0.0
        bottom, top = np.where(short, middle, bottom), np.where(short, top, middle)
    root = 0.5 * (bottom + top)
    for _ in range(4):
        j0, j1 = bessel(0, root), bessel(1, root)
        root = np.clip(root - (root * j1 - biot * j0) / (root * j0 + biot * j1), low, high)
    return _locked(root)


def round_weights(roots: Floats) -> Floats:
    r"""How strongly a uniform start excites each shape of a round bar.

    Parameters
    ----------
    roots
        What `round_roots` returned. [rad]

    Returns
    -------
    numpy.ndarray
        :math:`C_n = 2 J_1(\zeta) / (\zeta (J_0^2(\zeta) + J_1^2(\zeta)))`. [-]

    References
    ----------
    from memory of incropera-2007, table 5.1.

    Examples
    --------
    >>> from math import inf
    >>> round(float(round_weights(round_roots(inf, 1))[0]), 4)
    1.602
    """
    j0, j1 = bessel(0, roots), bessel(1, roots)
    return np.asarray(2.0 * j1 / (roots * (j0 * j0 + j1 * j1)))


def round_terms(fourier: float) -> int:
    r"""Number of terms after which the series of a round bar has died out.

    Parameters
    ----------
    fourier
        Diffusivity times time over the square of the radius. [-]

    Returns
    -------
    int
        The first term left out is smaller than 1e-14. [-]

    Raises
    ------
    OutOfRange
        If the Fourier number is so small that more than 200 terms would be needed (under about 9e-5).

    Examples
    --------
    >>> round_terms(0.2) <= 6
    True
    """
    count = 2 + int(sqrt(35.0 / fourier) / pi) if fourier > 0.0 else MOST_TERMS + 1
    if count > MOST_TERMS:
        raise OutOfRange(
            f"a Fourier number of {fourier:g} is too short a time for this series.",
            next_step="Ask for a later time.",
        )
    return count


def _locked(roots: Floats) -> Floats:
    # kept between calls and shared, so nobody may write into them
    roots.flags.writeable = False
    return roots
