"""Heat soaking through a flat slab whose two faces meet plates, air or water alike."""

from __future__ import annotations

from functools import lru_cache
from math import inf

import numpy as np

from diagnose.calc.allowed_range import above_zero, within
from diagnose.calc.slab_shapes import even_roots, even_weights, terms_needed
from diagnose.errors import OutOfRange

# At a depth of 0.9 a face held at its temperature brings the share down to 0.999 only later than this.
_FIRST_FOURIER = 4e-4


def missing_share(depth: float, fourier: float, biot: float = inf) -> float:
    r"""Share of the temperature step that a point of the slab has still to go.

    Parameters
    ----------
    depth
        Place: 0 in the middle, 1 at a face. [-]
    fourier
        Diffusivity times time over the square of half the thickness. [-]
    biot
        Heat transfer at a face times half the thickness over conductivity. [-]

    Returns
    -------
    float
        1 at the start, 0 in the end. [-]

    Raises
    ------
    OutOfRange
        If the place is outside the slab, the Fourier number under about 2.2e-5 or over 1e6, or the
        Biot number not above zero.

    Notes
    -----
    .. math:: \theta = \sum_n C_n \exp(-\zeta_n^2 Fo) \cos(\zeta_n x / L)

    Properties that change with temperature, and heat set free by the slab itself, are left out.

    References
    ----------
    H. S. Carslaw, J. C. Jaeger, Conduction of Heat in Solids, 2nd ed., 1959, sec. 3.3 to 3.4 (from memory).

    Examples
    --------
    The middle has half of its way to go at a Fourier number of 0.3787:

    >>> round(missing_share(0.0, 0.3787), 3)
    0.5
    """
    within("the depth", depth, 0.0, 1.0)
    within("the Fourier number", fourier, 0.0, 1e6)
    roots = even_roots(biot, terms_needed(fourier))
    shapes = np.exp(-(roots**2) * fourier) * np.cos(roots * depth)
    return float(even_weights(roots) @ shapes)


def mean_missing_share(fourier: float, biot: float = inf) -> float:
    r"""Share of the temperature step that the slab as a whole has still to go.

    Parameters
    ----------
    fourier
        Diffusivity times time over the square of half the thickness. [-]
    biot
        Heat transfer at a face times half the thickness over conductivity. [-]

    Returns
    -------
    float
        1 at the start, 0 in the end. [-]

    Raises
    ------
    OutOfRange
        As `missing_share`.

    References
    ----------
    H. S. Carslaw, J. C. Jaeger, Conduction of Heat in Solids, 2nd ed., 1959, sec. 3.3 (from memory).

    Examples
    --------
    At a Fourier number of 1 with faces held at a temperature, :math:`(8/\pi^2)\exp(-\pi^2/4)`:

    >>> from math import pi
    >>> abs(mean_missing_share(1.0) - 8 / pi**2 * float(np.exp(-(pi**2) / 4))) < 1e-9
    True
    """
    within("the Fourier number", fourier, 0.0, 1e6)
    roots = even_roots(biot, terms_needed(fourier))
    return float((even_weights(roots) * np.sin(roots) / roots) @ np.exp(-(roots**2) * fourier))


def fourier_number(diffusivity: float, time: float, half_thickness: float) -> float:
    """Time, counted in units of what heat needs to cross half the slab.

    Parameters
    ----------
    diffusivity
        Thermal diffusivity. [m^2/s]
    time
        Time since the faces changed temperature. [s]
    half_thickness
        Half of the slab's thickness. [m]

    Returns
    -------
    float
        Diffusivity times time over the square of half the thickness. [-]

    Raises
    ------
    OutOfRange
        If diffusivity or half thickness is not above zero, or the time is negative.

    Examples
    --------
    An inch of rubber at 0.09 mm2/s for an hour:

    >>> round(fourier_number(0.9e-7, 3600.0, 0.0127), 4)
    2.0088
    """
    above_zero("diffusivity", diffusivity, "m2/s")
    above_zero("half the thickness", half_thickness, "m")
    within("the time", time, 0.0, 1e9, "s")
    return diffusivity * time / half_thickness**2


@lru_cache(maxsize=256)
def fourier_at_share(share: float, depth: float = 0.0, biot: float = inf) -> float:
    r"""Fourier number at which a point has a given share of the temperature step still to go.

    Parameters
    ----------
    share
        Share left to go. [-]
    depth
        Place: 0 in the middle, up to 0.9 near a face. [-]
    biot
        Heat transfer at a face times half the thickness over conductivity. [-]

    Returns
    -------
    float
        The Fourier number. [-]

    Raises
    ------
    OutOfRange
        If the share is not between 1e-9 and 0.999, or the place is nearer to the face than 0.9.

    Notes
    -----
    Bisection on `missing_share`, which falls steadily with time.

    Examples
    --------
    One tenth is left at 1.031, from the one-term formula :math:`(4/\pi^2)\ln(40/\pi)`:

    >>> round(fourier_at_share(0.1), 3)
    1.031
    """
    within("the share left to go", share, 1e-9, 0.999)
    within("the depth", depth, 0.0, 0.9)
    roots = even_roots(biot, terms_needed(_FIRST_FOURIER))
    squares, parts = roots**2, even_weights(roots) * np.cos(roots * depth)
    low, high = _FIRST_FOURIER, _FIRST_FOURIER + 30.0 / float(squares[0])
    while high - low > 1e-12 * high:
        middle = 0.5 * (low + high)
        if np.exp(-squares * middle) @ parts > share:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


def heating_time(
    half_thickness: float,
    diffusivity: float,
    start: float,
    surroundings: float,
    target: float,
    biot: float = inf,
) -> float:
    r"""Time for the middle of a flat slab to reach a temperature, heating up or cooling down.

    Parameters
    ----------
    half_thickness
        Half of the slab's thickness. [m]
    diffusivity
        Thermal diffusivity of the slab. [m^2/s]
    start
        Uniform temperature at time zero. [K]
    surroundings
        Temperature of the plates, air or water at both faces from time zero. [K]
    target
        Temperature wanted at the middle. [K]
    biot
        Heat transfer at a face times half the thickness over conductivity. [-]

    Returns
    -------
    float
        Time until the middle reaches `target`. [s]

    Raises
    ------
    OutOfRange
        If the target does not lie between start and surroundings, or lies closer to either than the
        series can tell.

    References
    ----------
    H. S. Carslaw, J. C. Jaeger, Conduction of Heat in Solids, 2nd ed., 1959, sec. 3.3 to 3.4 (from memory).

    Examples
    --------
    The middle of an inch of rubber reaches 140 degrees C between plates at 153 after some 31 minutes:

    >>> round(heating_time(0.0127, 0.9e-7, 296.15, 426.15, 413.15) / 60)
    31
    """
    above_zero("diffusivity", diffusivity, "m2/s")
    above_zero("half the thickness", half_thickness, "m")
    step = surroundings - start
    share = (surroundings - target) / step if step else 2.0
    if not 0.0 < share < 1.0:
        raise OutOfRange(
            "the middle goes from {start:K} towards {surroundings:K} and never passes {target:K}.",
            {"start": start, "surroundings": surroundings, "target": target},
            next_step="Ask for a temperature in between.",
        )
    return fourier_at_share(share, 0.0, biot) * half_thickness**2 / diffusivity
