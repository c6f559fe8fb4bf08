"""When a flask may go into water."""

from __future__ import annotations

from math import isfinite

from diagnose.calc.allowed_range import within
from diagnose.errors import OutOfRange

USUAL_FLASK = 0.0625  # m; advice in minutes is meant for flasks of 50 to 75 mm
SMALLER, LARGER = 1.15, 1.45  # powers of the diameter; see quench_wait


def quench_wait(wait: float, diameter: float, least: float) -> float:
    r"""Waiting time before the quench, moved from the usual flask to another.

    Parameters
    ----------
    wait
        Waiting time that is right for a flask of 50 to 75 mm. [s]
    diameter
        Diameter of the flask. [m]
    least
        Time under which no flask is quenched, whatever its size. [s]

    Returns
    -------
    float
        Waiting time. [s]

    Raises
    ------
    OutOfRange
        If a time is below zero or the diameter is not from 25 to 200 mm.

    Notes
    -----
    Heat goes with the volume and leaves by the surface (power 1 of the diameter) or through the thickness of
    the mold (power 2). The trade's figures lie between: 0.6 of the time at 40 mm and 1.7 at 90 mm are

    .. math:: t = t_{62.5} (D / 62.5\,\mathrm{mm})^n,\quad n = 1.15\ (\text{smaller}),\ 1.45\ (\text{larger})

    never under ``least``. The look of the button comes before any number of minutes: no red glow in shade.

    References
    ----------
    common practice.

    Examples
    --------
    The usual flask keeps its time, and a small one does not go below the least:

    >>> quench_wait(600.0, 0.0625, 180.0), quench_wait(200.0, 0.030, 180.0)
    (600.0, 180.0)
    """
    if not (wait >= 0.0 and least >= 0.0 and isfinite(wait) and isfinite(least)):
        raise OutOfRange(
            "a wait of {wait:s}, at least {least:s}: neither may be below zero.",
            {"wait": wait, "least": least},
            next_step="Check both times.",
        )
    within("the flask diameter", diameter, 0.025, 0.200, "m", "Check the unit.")
    ratio = diameter / USUAL_FLASK
    power = SMALLER if ratio < 1.0 else LARGER
    return max(least, wait * float(ratio**power))
