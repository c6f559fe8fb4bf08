"""What pushes the metal into the mold: its own weight, a spinning arm, or the air above a vacuum."""

from __future__ import annotations

from math import isfinite

from diagnose.calc.allowed_range import within
from diagnose.errors import OutOfRange

STANDARD_GRAVITY = 9.80665  # m/s2, by definition
HIGHEST_AIR = 110e3  # Pa, more than any weather brings


def gravity_head(density: float, height: float) -> float:
    r"""Pressure under a column of molten metal.

    Parameters
    ----------
    density
        Density of the liquid metal. [kg/m^3]
    height
        Height of metal above the place. [m]

    Returns
    -------
    float
        Pressure over that at the free surface. [Pa]

    Raises
    ------
    OutOfRange
        If the density is not above zero or the height is below zero.

    Notes
    -----
    :math:`P = \rho g h`, at rest.

    Examples
    --------
    A metre of water:

    >>> round(gravity_head(1000.0, 1.0), 2)
    9806.65
    """
    _check_density(density)
    if not (height >= 0.0 and isfinite(height)):
        raise OutOfRange(
            "a metal height of {metal head:m} is below zero.",
            {"metal head": height},
            next_step="Measure from the metal's surface down to the piece.",
        )
    return density * STANDARD_GRAVITY * height


def spin_pressure(density: float, spin: float, surface: float, place: float) -> float:
    r"""Pressure at a place in a spinning mold.

    Parameters
    ----------
    density
        Density of the liquid metal. [kg/m^3]
    spin
        Speed of rotation. [rad/s]
    surface
        Distance from the pivot to the free surface of the metal. [m]
    place
        Distance from the pivot to the place. [m]

    Returns
    -------
    float
        Pressure over that at the free surface. [Pa]

    Raises
    ------
    OutOfRange
        If density or spin is not above zero, or the place is not farther out than the surface.

    Notes
    -----
    A liquid that turns with the arm, at rest in it:

    .. math:: P = \tfrac{1}{2}\,\rho\,\omega^2\,(r_2^2 - r_1^2)

    Multiplying the acceleration at the outer end by the whole length of the metal reads too high. Weight, the
    time to reach speed, and the push sideways while speeding up are left out.

    References
    ----------
    from memory of nielsen-1978.

    Examples
    --------
    Water from 0.1 m to 0.2 m at 10 rad/s: half of 1000 x 100 x 0.03.

    >>> round(spin_pressure(1000.0, 10.0, 0.1, 0.2), 6)
    1500.0
    """
    _check_density(density)
    if not (spin > 0.0 and isfinite(spin)):
        raise OutOfRange(
            "a spin of {spin speed:rad/s} is not above zero.", {"spin speed": spin}, next_step="Check the speed."
        )
    if not (0.0 <= surface < place and isfinite(place)):
        raise OutOfRange(
            "the place, {arm radius:m} from the pivot, is not outside the metal surface, {metal surface radius:m}.",
            {"arm radius": place, "metal surface radius": surface},
            next_step="Measure both from the pivot; the metal must flow outwards.",
        )
    return 0.5 * density * spin**2 * (place**2 - surface**2)


def spin_acceleration(spin: float, radius: float) -> float:
    r"""Outward acceleration on a spinning arm.

    Parameters
    ----------
    spin
        Speed of rotation. [rad/s]
    radius
        Distance from the pivot. [m]

    Returns
    -------
    float
        Acceleration. [m/s^2]

    Raises
    ------
    OutOfRange
        If spin or radius is not above zero.

    Notes
    -----
    :math:`a = \omega^2 r`.

    Examples
    --------
    >>> spin_acceleration(10.0, 0.25)
    25.0
    """
    if not (spin > 0.0 and radius > 0.0 and isfinite(spin) and isfinite(radius)):
        raise OutOfRange(
            "spin of {spin speed:rad/s} at {arm radius:m}: both must be above zero.",
            {"spin speed": spin, "arm radius": radius},
            next_step="Check speed and radius.",
        )
    return spin**2 * radius


def vacuum_pressure(pull: float, density: float, height: float) -> float:
    r"""Pressure on metal poured into a mold from which the air is drawn.

    Parameters
    ----------
    pull
        Gauge reading: how far the pressure under the flask is below that of the air. [Pa]
    density
        Density of the liquid metal. [kg/m^3]
    height
        Height of metal above the place. [m]

    Returns
    -------
    float
        Pressure over that in the mold. [Pa]

    Raises
    ------
    OutOfRange
        If the pull is below zero or more than any air has (110 kPa), or density or height cannot be.

    Notes
    -----
    :math:`P = p_{pull} + \rho g h`. The mold wall throttles the air, so the cavity of a tight mold sees less
    than the gauge shows.

    Examples
    --------
    A gauge of 85 kPa alone:

    >>> vacuum_pressure(85e3, 9000.0, 0.0)
    85000.0
    """
    within("the vacuum at pour", pull, 0.0, HIGHEST_AIR, "Pa", "Check the unit.")
    return pull + gravity_head(density, height)


def vacuum_share(pull: float, air: float) -> float:
    """Vacuum reached, as a share of all the air there is.

    Parameters
    ----------
    pull
        Gauge reading: how far the pressure is below that of the air. [Pa]
    air
        Pressure of the air in the shop. [Pa]

    Returns
    -------
    float
        Share. [-]

    Raises
    ------
    OutOfRange
        If the air pressure is absurd (outside 50 to 110 kPa), the pull is below zero, or it is more than
        the air by over 1 %.

    Notes
    -----
    A fixed gauge number cannot be asked for: high above the sea the whole air weighs less than that.

    Examples
    --------
    >>> vacuum_share(68e3, 80e3)
    0.85
    """
    within(
        "the local air pressure", air, 50e3, HIGHEST_AIR, "Pa",
        "Write the pressure of the place itself, absolute, not reduced to sea level.",
    )  # fmt: skip
    if not 0.0 <= pull <= 1.01 * air:
        raise OutOfRange(
            "a vacuum reading of {vacuum at pour:Pa} is more than the air has, {local air pressure:Pa}.",
            {"vacuum at pour": pull, "local air pressure": air},
            next_step="The gauge or the air pressure is wrong; check the gauge against the altitude.",
        )
    return min(1.0, pull / air)


def _check_density(density: float) -> None:
    """Refuse a density that no metal has."""
    within("the alloy density", density, 500.0, 30e3, "kg/m3", "Write the unit: 9.3 g/cm3 is 9300 kg/m3.")
