"""How the middle of a mold follows the kiln through a whole burnout, and the last soak it needs."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from math import inf, isinf

import numpy as np

from diagnose.calc.allowed_range import within
from diagnose.calc.cylinder_shapes import Floats, round_roots, round_weights
from diagnose.calc.flask_heat import Mold
from diagnose.calc.kiln_schedule import Leg, Schedule
from diagnose.calc.slab_shapes import even_roots, even_weights

_ROUND_MODES, _FLAT_MODES = 40, 16
_MOMENTS = 80


def middle_of_mold(schedule: Schedule, mold: Mold) -> tuple[tuple[float, float], ...]:
    r"""Temperature of the middle of a dry mold at the end of every leg of a schedule.

    Parameters
    ----------
    schedule
        The kiln's curve; the mold starts at its first temperature.
    mold
        The mold.

    Returns
    -------
    tuple of (float, float)
        Time since loading and temperature of the middle, for the end of each leg. [s], [K]

    Raises
    ------
    OutOfRange
        If schedule or mold are absurd.

    Notes
    -----
    Each temperature shape of the mold lags behind the kiln by itself: on a leg of slope *b* and length *t*

    .. math:: y \to y e^{-\lambda t} + b\,(1 - e^{-\lambda t})/\lambda,\quad T_m = T_k - \sum C y

    with the wave numbers and weights of `round_roots` and `even_roots` (Duhamel's principle). The outside is taken
    at kiln temperature; boiling water, which holds the middle at 100 degrees C until it is gone, is left out.

    References
    ----------
    from memory of carslaw-jaeger-1959, sec. 1.14, 7.6 and 8.4.

    Examples
    --------
    After a very long hold the middle is as hot as the kiln:

    >>> from diagnose.calc.kiln_schedule import Step
    >>> round(middle_of_mold(Schedule(300.0, (Step(500.0, 1e6, 0.05),)), Mold(0.04, 2e-7))[-1][1], 6)
    500.0
    """
    decay, weight = _modes(mold)
    state = np.zeros_like(decay)
    time, found = 0.0, []
    for leg in schedule.legs():
        state = _after(leg, state, decay)
        time += leg.time
        found.append((time, leg.end - float(weight @ state)))
    return tuple(found)


def lag_at_end(schedule: Schedule, mold: Mold) -> float:
    """How far the middle is from the kiln when the last hold ends; above zero when it is colder.

    Parameters
    ----------
    schedule
        The kiln's curve.
    mold
        The mold.

    Returns
    -------
    float
        Kiln less middle. [K]

    Raises
    ------
    OutOfRange
        As `middle_of_mold`.

    Examples
    --------
    Coming down from the top, the middle is still hotter:

    >>> from diagnose.calc.kiln_schedule import Step
    >>> lag_at_end(Schedule(1000.0, (Step(800.0, 600.0, 0.05),)), Mold(0.04, 2e-7)) < 0.0
    True
    """
    path = middle_of_mold(schedule, mold)
    return schedule.steps[-1].temperature - path[-1][1] if path else 0.0


def soak_needed(schedule: Schedule, mold: Mold, tolerance: float) -> float:
    """Last hold after which the middle is as near to the kiln as wanted.

    Parameters
    ----------
    schedule
        The kiln's curve; its last hold is replaced.
    mold
        The mold.
    tolerance
        Difference that is near enough. [K]

    Returns
    -------
    float
        Hold. [s]

    Raises
    ------
    OutOfRange
        If the tolerance is not from 0.1 to 100 K.

    Notes
    -----
    Halving the interval round the last moment at which the lag is larger.

    Examples
    --------
    A schedule that never moves needs none:

    >>> from diagnose.calc.kiln_schedule import Step
    >>> soak_needed(Schedule(700.0, (Step(700.0, 0.0, 0.05),)), Mold(0.04, 2e-7), 10.0)
    0.0
    """
    within("the tolerance", tolerance, 0.1, 100.0, "K change")
    decay, weight = _modes(mold)
    last = schedule.steps[-1]
    state = np.zeros_like(decay)
    for leg in Schedule(schedule.start, (*schedule.steps[:-1], replace(last, hold=0.0))).legs():
        state = _after(leg, state, decay)

    def lag(hold: float) -> float:
        return abs(float(weight @ (state * np.exp(-decay * hold))))

    # the lag can pass through nothing and grow again, so it is the last crossing that counts
    moments = np.linspace(0.0, 4.0 * mold.radius**2 / mold.diffusivity, _MOMENTS)
    far = [moment for moment in moments if lag(moment) > tolerance]
    if not far:
        return 0.0
    early, late = far[-1], far[-1] + moments[1]
    while late - early > 0.5:
        middle = 0.5 * (early + late)
        if lag(middle) > tolerance:
            early = middle
        else:
            late = middle
    return float(late)


def _after(leg: Leg, state: Floats, decay: Floats) -> Floats:
    """Return how far each shape lags after a leg, from how far it lagged before."""
    fade = np.exp(-decay * leg.time)
    return np.asarray(state * fade + leg.rate * (1.0 - fade) / decay)


@lru_cache(maxsize=64)
def _modes(mold: Mold) -> tuple[Floats, Floats]:
    """Return decay rates [1/s] and weights at the middle of the shapes of a mold."""
    across = round_roots(inf, _ROUND_MODES)
    decay = mold.diffusivity * (across / mold.radius) ** 2
    weight = round_weights(across)
    if isinf(mold.half_height):
        return decay, weight
    along = even_roots(inf, _FLAT_MODES)
    decay = np.add.outer(decay, mold.diffusivity * (along / mold.half_height) ** 2).ravel()
    return decay, np.multiply.outer(weight, even_weights(along)).ravel()
