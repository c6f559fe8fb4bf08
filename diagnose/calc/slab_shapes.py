"""Wave numbers and weights of the temperature shapes of a flat slab (the roots that textbooks tabulate)."""

from __future__ import annotations

from functools import lru_cache
from math import isinf, pi, sqrt

import numpy as np
from numpy.typing import NDArray

from diagnose.calc.allowed_range import above_zero
from diagnose.errors import OutOfRange

Floats = NDArray[np.float64]

MOST_TERMS = 400


@lru_cache(maxsize=512)
def even_roots(biot: float, count: int) -> Floats:
    r"""Wave numbers of the temperature shapes that are alike on both sides of the middle.

    Parameters
    ----------
    biot
        Heat transfer at a face times half the thickness over conductivity; `inf` for a face held at its
        temperature. [-]
    count
        How many are wanted. [-]

    Returns
    -------
    numpy.ndarray
        Roots of :math:`\zeta \tan\zeta = Bi`, ascending. [rad]

    Raises
    ------
    OutOfRange
        If the Biot number is not above zero.

    Notes
    -----
    Each root lies in :math:`(n\pi, n\pi + \pi/2)` and is found by Newton's method on
    :math:`\zeta = n\pi + \arctan(Bi/\zeta)`, which is nearly a straight line.

    References
    ----------
    H. S. Carslaw, J. C. Jaeger, Conduction of Heat in Solids, 2nd ed., 1959, ch. 3 (from memory).

    Examples
    --------
    The textbook table of first roots has 0.8603 at a Biot number of 1:

    >>> round(float(even_roots(1.0, 1)[0]), 4)
    0.8603
    """
    n = np.arange(count)
    if isinf(biot):
        return _locked(np.asarray((n + 0.5) * pi))
    above_zero("the Biot number", biot)
    root = n * pi + np.arctan(biot / (n * pi + 0.7))
    root[0] = 0.5 * pi / (1.0 + (0.5 * pi / sqrt(biot)) ** 2.139) ** (1 / 2.139)
    whole, square = n * pi, biot * biot
    for _ in range(3):
        root -= (root - whole - np.arctan(biot / root)) / (1.0 + biot / (root * root + square))
    return _locked(root)


@lru_cache(maxsize=512)
def odd_roots(biot: float, count: int) -> Floats:
    r"""Wave numbers of the temperature shapes that are opposite on the two sides of the middle.

    Parameters
    ----------
    biot
        Heat transfer at a face times half the thickness over conductivity; `inf` for a face held at its
        temperature. [-]
    count
        How many are wanted. [-]

    Returns
    -------
    numpy.ndarray
        Roots of :math:`\eta \cot\eta = -Bi`, ascending. [rad]

    Raises
    ------
    OutOfRange
        If the Biot number is not above zero.

    Notes
    -----
    Each root lies in :math:`((n - 1/2)\pi, n\pi)` for n from 1 and is found by Newton's method on
    :math:`\eta = n\pi - \arctan(\eta/Bi)`.

    References
    ----------
    H. S. Carslaw, J. C. Jaeger, Conduction of Heat in Solids, 2nd ed., 1959, ch. 3 (from memory).

    Examples
    --------
    Faces held at a temperature leave whole multiples of pi:

    >>> from math import inf
    >>> [round(float(r / pi), 6) for r in odd_roots(inf, 3)]
    [1.0, 2.0, 3.0]
    """
    n = np.arange(1, count + 1)
    if isinf(biot):
        return _locked(np.asarray(n * pi))
    above_zero("the Biot number", biot)
    root = n * pi - np.arctan((n - 0.25) * pi / biot)
    whole, square = n * pi, biot * biot
    for _ in range(3):
        root -= (root - whole + np.arctan(root / biot)) / (1.0 + biot / (root * root + square))
    return _locked(root)


def _locked(roots: Floats) -> Floats:
    # kept between calls and shared, so nobody may write into them
    roots.flags.writeable = False
    return roots


def even_weights(roots: Floats) -> Floats:
    r"""How strongly a uniform start excites each even shape.

    Parameters
    ----------
    roots
        What `even_roots` returned. [rad]

    Returns
    -------
    numpy.ndarray
        :math:`C_n = 4\sin\zeta_n / (2\zeta_n + \sin 2\zeta_n)`. [-]

    References
    ----------
    F. P. Incropera, D. P. DeWitt, Fundamentals of Heat and Mass Transfer, sec. 5.5 (from memory).

    Examples
    --------
    With the faces held at a temperature, the first weight is 4/pi:

    >>> from math import inf
    >>> round(float(even_weights(even_roots(inf, 1))[0] * pi), 9)
    4.0
    """
    return np.asarray(4.0 * np.sin(roots) / (2.0 * roots + np.sin(2.0 * roots)))


def terms_needed(fourier: float) -> int:
    r"""Number of terms after which the series has died out.

    Parameters
    ----------
    fourier
        Diffusivity times time over the square of half the thickness. [-]

    Returns
    -------
    int
        The first term left out is smaller than 1e-15. [-]

    Raises
    ------
    OutOfRange
        If the Fourier number is so small that more than 400 terms would be needed (under about 2.2e-5).

    Examples
    --------
    From a Fourier number of 0.2 on a handful does:

    >>> terms_needed(0.2) <= 6
    True
    """
    count = 2 + int(sqrt(35.0 / fourier) / pi) if fourier > 0.0 else MOST_TERMS + 1
    if count > MOST_TERMS:
        raise OutOfRange(
            f"a Fourier number of {fourier:g} is too short a time for this series.",
            next_step="Ask for a later time.",
        )
    return count


@lru_cache(maxsize=512)
def even_shapes(biot: float, count: int) -> tuple[Floats, Floats]:
    """Wave numbers of the even shapes with their weights, kept between calls.

    Parameters
    ----------
    biot
        Heat transfer at a face times half the thickness over conductivity; `inf` for a face held at its
        temperature. [-]
    count
        How many are wanted. [-]

    Returns
    -------
    tuple of numpy.ndarray
        `even_roots` [rad] and their `even_weights` [-].

    Raises
    ------
    OutOfRange
        If the Biot number is not above zero.

    Examples
    --------
    >>> roots, weights = even_shapes(1.0, 1)
    >>> round(float(roots[0]), 4), round(float(weights[0]), 4)
    (0.8603, 1.1191)
    """
    roots = even_roots(biot, count)
    return roots, _locked(even_weights(roots))
