"""Wax pressure against the clamp: what opens a mold, what must hold it, and how far rubber gives."""

from __future__ import annotations

from diagnose.calc.allowed_range import above_zero, within


def opening_force(pressure: float, area: float) -> float:
    """Force with which injected wax pushes the halves of a mold apart.

    Parameters
    ----------
    pressure
        Injection pressure above room air. [Pa]
    area
        Area that the wax covers, seen square to the parting: cavity and feed. [m^2]

    Returns
    -------
    float
        Force. [N]

    Raises
    ------
    OutOfRange
        If the pressure is not between 0 and 1 MPa or the area not above zero.

    Notes
    -----
    Pressure times area, with the pot's pressure reaching everywhere: the most that can happen. Wax that has
    crept into the parting covers more area, so that flash feeds itself.

    Examples
    --------
    One bar on 10 cm2:

    >>> round(opening_force(1e5, 10e-4), 6)
    100.0
    """
    within("the injection pressure", pressure, 0.0, 1e6, "Pa", "Never go above what the pot is marked for.")
    above_zero("the area that the wax covers", area, "m2")
    return pressure * area


def stiffness_from_hardness(shore_a: float) -> float:
    r"""Young's modulus that goes with a hardness reading.

    Parameters
    ----------
    shore_a
        Hardness, Shore A. [-]

    Returns
    -------
    float
        Young's modulus at small strain. [Pa]

    Raises
    ------
    OutOfRange
        If the hardness is not between 20 and 80, where readings and relation hold.

    Notes
    -----
    .. math:: E = \frac{0.0981\,(56 + 7.62336\,S)}{0.137505\,(254 - 2.54\,S)}\ \text{MPa}

    Other conversions differ by 20 to 30 %.

    References
    ----------
    A. N. Gent, On the relation between indentation hardness and Young's modulus, Inst. Rubber Ind. Trans.
    34, 46, 1958 (from memory).

    Examples
    --------
    >>> round(stiffness_from_hardness(40.0) / 1e6, 1)
    1.7
    """
    within("the hardness", shore_a, 20.0, 80.0, "Shore A")
    return 1e6 * 0.0981 * (56.0 + 7.62336 * shore_a) / (0.137505 * (254.0 - 2.54 * shore_a))


def cavity_growth(pressure: float, stiffness: float) -> float:
    r"""Order of size of the strain by which a round cavity deep in rubber widens under wax pressure.

    Parameters
    ----------
    pressure
        Injection pressure above room air. [Pa]
    stiffness
        Young's modulus of the rubber. [Pa]

    Returns
    -------
    float
        Growth of the width over the width: an order of size only. [-]

    Raises
    ------
    OutOfRange
        If the pressure is over 1 MPa or over 0.3 of the modulus, where small strains end.

    Notes
    -----
    A round hole in a wide body that cannot lengthen and keeps its volume (Poisson's ratio one half, plane
    strain) widens by :math:`(1 + \nu) P / E = 1.5\,P/E`. Backing plates, the frame's confinement and wax
    that stiffens before the pressure is all there make it less; a thin wall makes it more.

    References
    ----------
    G. Lame's solution for a pressurised thick cylinder, in the limit of a wide body (any text on elasticity).

    Examples
    --------
    >>> cavity_growth(0.7e5, 1.69e6) < 0.1
    True
    """
    within("the injection pressure", pressure, 0.0, 1e6, "Pa", "Never go above what the pot is marked for.")
    above_zero("the rubber's stiffness", stiffness, "Pa")
    within("the pressure over the rubber's stiffness", pressure / stiffness, 0.0, 0.3)
    return 1.5 * pressure / stiffness
