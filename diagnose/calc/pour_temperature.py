"""Trade advice that runs between heavy and fine sections."""

from __future__ import annotations

from math import isfinite, log

from diagnose.calc.allowed_range import within
from diagnose.errors import OutOfRange

HEAVY = 7e-3
"""Section [m] from which on advice for heavy pieces holds: the middle of over 5 mm."""
FINE = 0.7e-3
"""Section [m] down from which advice for filigree holds: the middle of under 1 mm."""


def by_section(section: float, heavy: float, fine: float) -> float:
    r"""Value between the one for heavy and the one for fine sections.

    Parameters
    ----------
    section
        Thickness of the section. [m]
    heavy
        Value for sections of 7 mm and more. [any]
    fine
        Value for sections of 0.7 mm and less. [any]

    Returns
    -------
    float
        Value for this section. [any]

    Raises
    ------
    OutOfRange
        If the section is not from 0.1 mm to 50 mm, or a value is not a number.

    Notes
    -----
    Straight in the logarithm of the thickness, because the trade's tables step by factors (1, 2, 5 mm):

    .. math:: y = y_h + (y_f - y_h) \frac{\ln(s_h / s)}{\ln(s_h / s_f)}

    and flat beyond both ends. A smooth line avoids a jump of 50 K at the edge of a class.

    Examples
    --------
    Half way in the logarithm, the geometric mean of 7 and 0.7 mm:

    >>> round(by_section(2.2136e-3, 400.0, 600.0))
    500
    """
    within("the thinnest section", section, 0.1e-3, 50e-3, "m", "Check the unit.")
    if not (isfinite(heavy) and isfinite(fine)):
        raise OutOfRange(
            "the advice for heavy or fine sections is not a number.", next_step="Check the alloy's values."
        )
    position = log(HEAVY / section) / log(HEAVY / FINE)
    return heavy + (fine - heavy) * min(1.0, max(0.0, position))
