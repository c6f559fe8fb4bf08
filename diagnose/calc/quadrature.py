"""Integrals over time of several smooth curves at once, to a stated accuracy."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from diagnose.errors import OutOfRange

Floats = NDArray[np.float64]

_HALF_NODES = (
    0.991455371120812639206854697526,
    0.949107912342758524526189684048,
    0.864864423359769072789712788641,
    0.741531185599394439863864773281,
    0.586087235467691130294144691683,
    0.405845151377397166906606412077,
    0.207784955007898467600689403773,
)
_HALF_FINE = (
    0.022935322010529224963732008059,
    0.063092092629978553290700663189,
    0.104790010322250183839876322542,
    0.140653259715525918745189590510,
    0.169004726639267902826583426599,
    0.190350578064785409913256402421,
    0.204432940075298892414161999235,
)
_HALF_COARSE = (
    0.0,
    0.129484966168869693270611432679,
    0.0,
    0.279705391489276667901467771424,
    0.0,
    0.381830050505118944950369775489,
    0.0,
)


def _whole(half: tuple[float, ...], middle: float, sign: float) -> Floats:
    return np.array([*(sign * x for x in half), middle, *reversed(half)])


_NODES = _whole(_HALF_NODES, 0.0, -1.0)
_FINE = _whole(_HALF_FINE, 0.209482141084727828012999174892, 1.0)
_COARSE = _whole(_HALF_COARSE, 0.417959183673469387755102040816, 1.0)
_BOTH = np.stack([_FINE, _COARSE])
_UNIT_NODES = 0.5 + 0.5 * _NODES


def integrals_from_zero(
    curves: Callable[[Floats], Floats], until: float, accuracy: float = 2e-5, panels: int = 3
) -> Floats:
    r"""Integrate several curves from zero to a time.

    Parameters
    ----------
    curves
        Takes times, shape (n,) [s]; returns the values of every curve there, shape (n, curves). [any]
    until
        Upper end of the integral. [s]
    accuracy
        Wanted relative accuracy of every integral. [-]
    panels
        Number of pieces that the range is cut into at first. [-]

    Returns
    -------
    numpy.ndarray
        One integral for each curve. [s times the unit of the curve]

    Raises
    ------
    OutOfRange
        If the curves are so jagged that 40 rounds of halving do not reach the accuracy.

    Notes
    -----
    Gauss rule of 7 points inside Kronrod's of 15; where the two disagree, the piece is halved. Time is
    written as :math:`t = t_{end} u^2` and the pieces are equal in :math:`u`: after a sudden change of
    temperature, heat moves as the square root of time, so the points crowd where the curve bends.

    References
    ----------
    R. Piessens, E. de Doncker-Kapenga, C. W. Ueberhuber, D. K. Kahaner, QUADPACK, 1983 (nodes and weights).

    Examples
    --------
    The area under the square root from 0 to 4 is 16/3, under the square 64/3:

    >>> area = integrals_from_zero(lambda t: np.stack([np.sqrt(t), t**2], axis=1), 4.0)
    >>> [round(float(a), 6) for a in area]
    [5.333333, 21.333333]
    """
    crowded, both = _first_round(panels)
    parts = both @ curves(until * crowded)
    parts *= until
    fine, coarse = parts[:panels], parts[panels:]
    total = fine.sum(axis=0)
    rough = np.abs(fine - coarse) > accuracy * np.abs(total)
    if not rough.any():
        return np.asarray(total)
    return _refined(curves, until, accuracy, fine, rough.any(axis=1))


def _refined(
    curves: Callable[[Floats], Floats], until: float, accuracy: float, fine: Floats, rough: NDArray[np.bool_]
) -> Floats:
    """Halve the pieces on which the two rules disagreed until they agree."""
    low, width = np.arange(len(fine)) / len(fine), np.full(len(fine), 1.0 / len(fine))
    done = np.zeros(fine.shape[1])
    for _ in range(40):
        done = done + fine[~rough].sum(axis=0)
        half = 0.5 * width[rough]
        low = np.concatenate([low[rough], low[rough] + half])
        width = np.concatenate([half, half])
        u = (low[:, None] + width[:, None] * _UNIT_NODES).ravel()
        values = curves(until * u * u) * (2.0 * u)[:, None]
        parts = (0.5 * until * width)[:, None, None] * (_BOTH @ values.reshape(len(low), len(_NODES), -1))
        fine = parts[:, 0]
        total = done + fine.sum(axis=0)
        rough = (np.abs(fine - parts[:, 1]) > accuracy * np.abs(total)).any(axis=1)
        if not rough.any():
            return np.asarray(total)
    raise OutOfRange(
        "the temperature history is too jagged to be added up.",
        next_step="Check the recorded times and temperatures.",
    )


@lru_cache(maxsize=8)
def _first_round(panels: int) -> tuple[Floats, Floats]:
    """Return the squared points of equal pieces, and the weights of both rules with the stretch of time in them."""
    edges = np.arange(panels) / panels
    u = (edges[:, None] + _UNIT_NODES / panels).ravel()
    count = len(_NODES)
    both = np.zeros((2, panels, panels * count))
    for i in range(panels):
        piece = slice(i * count, (i + 1) * count)
        both[:, i, piece] = _BOTH * u[piece] / panels
    return u * u, both.reshape(2 * panels, -1)
