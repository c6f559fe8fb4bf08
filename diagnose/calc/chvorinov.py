"""Chvorinov's rule turned round: mold constants from castings, moduli from times wanted."""

from __future__ import annotations

from math import sqrt

from diagnose.calc.bounds import require_positive


def constant_from_time(modulus: float, time: float) -> float:
    r"""Mold constant from one casting whose freezing time is known.

    Parameters
    ----------
    modulus
        Volume over cooling surface of that casting. [m]
    time
        Its freezing time. [s]

    Returns
    -------
    float
        Mold constant. [s/m^2]

    Raises
    ------
    OutOfRange
        If a value is not above zero.

    Notes
    -----
    :math:`B = t / M^2`, for the same metal, mold and temperatures only.

    Examples
    --------
    A plate 7.5 x 12.5 x 2.0 cm that freezes in 1.6 min has 3.26 min/cm2 (groover-2010, from memory):

    >>> modulus = 187.5 / (2 * (7.5 * 12.5 + 7.5 * 2 + 12.5 * 2)) / 100
    >>> round(constant_from_time(modulus, 96.0) / 60e4, 2)
    3.26
    """
    require_positive(modulus=modulus, freezing_time=time)
    return time / modulus**2


def modulus_ratio_for(time_ratio: float) -> float:
    r"""Ratio of moduli that makes one section freeze so many times as long as another.

    Parameters
    ----------
    time_ratio
        Freezing time wanted over freezing time of the other section. [-]

    Returns
    -------
    float
        Modulus over the other's modulus. [-]

    Raises
    ------
    OutOfRange
        If the ratio is not above zero.

    Notes
    -----
    :math:`\sqrt{t_1/t_2}`.

    Examples
    --------
    To freeze a quarter later takes 12 % more modulus:

    >>> round(modulus_ratio_for(1.25), 3)
    1.118
    """
    require_positive(time_ratio=time_ratio)
    return sqrt(time_ratio)


def time_ratio(modulus: float, other: float) -> float:
    r"""How many times as long a section takes to freeze as another in the same mold.

    Parameters
    ----------
    modulus
        Modulus of the section. [m]
    other
        Modulus of the other. [m]

    Returns
    -------
    float
        Ratio of freezing times. [-]

    Raises
    ------
    OutOfRange
        If a modulus is not above zero.

    Notes
    -----
    :math:`(M_1/M_2)^2`; the metal, the mold and their temperatures drop out, so this is far better known
    than either time.

    Examples
    --------
    A fifth more modulus:

    >>> round(time_ratio(0.0012, 0.0010), 2)
    1.44
    """
    require_positive("m", modulus=modulus, other_modulus=other)
    return (modulus / other) ** 2
