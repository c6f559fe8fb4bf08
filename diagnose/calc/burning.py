"""Burning out wax: the air it takes, and the opening through which a hot kiln draws that air."""

from __future__ import annotations

from math import sqrt

from diagnose.calc.allowed_range import above_zero, within
from diagnose.errors import OutOfRange

# Standard atomic weights [kg/mol] and the make-up of dry air.
CARBON, HYDROGEN, OXYGEN = 12.011e-3, 1.008e-3, 15.999e-3
OXYGEN_IN_AIR = 0.2314  # by mass
AIR_DENSITY = 1.204  # kg/m3 at 20 degrees C and one atmosphere
GAS_CONSTANT, AIR_MOLAR_MASS = 8.314463, 28.9647e-3
STANDARD_GRAVITY = 9.80665
SHARP_OPENING = 0.6  # share of the ideal flow that a plain hole passes


def air_to_burn(mass: float, hydrogen: float = 2.0) -> float:
    r"""Air that burns a mass of wax, or of the carbon left by it, without remainder.

    Parameters
    ----------
    mass
        Mass to burn. [kg]
    hydrogen
        Atoms of hydrogen for one of carbon: 2 for wax, 0 for carbon. [-]

    Returns
    -------
    float
        Volume of air at 20 degrees C and one atmosphere. [m^3]

    Raises
    ------
    OutOfRange
        If the mass is below zero or there are not 0 to 4 atoms of hydrogen for one of carbon.

    Notes
    -----
    :math:`\mathrm{CH}_x + (1 + x/4)\,\mathrm{O}_2`. Oxygen in the pattern itself (as in printed resin) lowers the
    need and is left out. In a kiln several times this must pass, since most of it misses the wax.

    References
    ----------
    from memory of iupac-2013 (standard atomic weights).

    Examples
    --------
    A gram of wax takes 12.3 litres, a gram of carbon 9.6:

    >>> [round(air_to_burn(0.001, x) * 1000, 1) for x in (2.0, 0.0)]
    [12.3, 9.6]
    """
    within("the mass to burn", mass, 0.0, 1e4, "kg")
    within("the hydrogen for one carbon", hydrogen, 0.0, 4.0)
    oxygen = (1.0 + hydrogen / 4.0) * 2.0 * OXYGEN / (CARBON + hydrogen * HYDROGEN)
    return mass * oxygen / OXYGEN_IN_AIR / AIR_DENSITY


def kiln_refills(air: float, kiln: float, temperature: float) -> float:
    r"""How often the air of a hot kiln must be replaced to bring in a volume of air.

    Parameters
    ----------
    air
        Air wanted, measured at 20 degrees C. [m^3]
    kiln
        Volume of the kiln's chamber. [m^3]
    temperature
        Temperature of the kiln. [K]

    Returns
    -------
    float
        Number of times. [-]

    Raises
    ------
    OutOfRange
        If a volume cannot be or the temperature is not one of a kiln.

    Notes
    -----
    Hot air is thin: a chamber holds less of it by the ratio of the temperatures.

    Examples
    --------
    123 litres through 30 litres at 500 degrees C:

    >>> round(kiln_refills(0.123, 0.030, 773.15), 1)
    10.8
    """
    within("the air wanted", air, 0.0, 1e6, "m3")
    within("the kiln's volume", kiln, 1e-4, 100.0, "m3", "Write the unit: l or ft3.")
    within("the kiln temperature", temperature, 250.0, 1600.0, "K")
    return air / kiln * temperature / 293.15


def vent_area(flow: float, height: float, inside: float, outside: float) -> float:
    r"""Opening, in and out alike, through which a hot kiln draws an air flow.

    Parameters
    ----------
    flow
        Flow of air, measured as it comes in. [m^3/s]
    height
        Height of the upper opening over the lower one. [m]
    inside
        Temperature of the kiln. [K]
    outside
        Temperature of the room. [K]

    Returns
    -------
    float
        Area of each of two equal openings. [m^2]

    Raises
    ------
    OutOfRange
        If the flow is not above zero, the height not from 2 cm to 5 m, or the kiln not at least 20 K hotter than
        the room.

    Notes
    -----
    Two equal openings share the pull of the hot column. With :math:`\rho_o` and :math:`\rho_i` the density of
    cold and hot air and *m* the mass flow

    .. math:: (\rho_o - \rho_i) g H = \frac{m^2}{2 C^2 A^2}\left(\frac{1}{\rho_o} + \frac{1}{\rho_i}\right)

    and C = 0.6. Wind, fans, ducts and leaks at the door are left out. The kiln's maker knows better: never
    widen an opening of a kiln that is not made for it.

    References
    ----------
    from memory of ashrae-2005, ch. 27 (stack flow through openings).

    Examples
    --------
    Twice the flow takes twice the area:

    >>> one, two = (vent_area(q, 0.3, 800.0, 295.0) for q in (0.001, 0.002))
    >>> round(two / one, 9)
    2.0
    """
    above_zero("the air flow", flow, "m3/s")
    within("the height between the openings", height, 0.02, 5.0, "m")
    within("the room temperature", outside, 250.0, 350.0, "K")
    within("the kiln temperature", inside, 250.0, 1600.0, "K")
    if inside < outside + 20.0:
        raise OutOfRange(
            "a kiln at {kiln:K} draws no air into a room of {room:K}.",
            {"kiln": inside, "room": outside},
            next_step="Check both temperatures: the kiln must be the hotter one.",
        )
    cold, hot = (101325.0 * AIR_MOLAR_MASS / (GAS_CONSTANT * t) for t in (outside, inside))
    mass_flow = flow * cold
    pull = (cold - hot) * STANDARD_GRAVITY * height
    return mass_flow / SHARP_OPENING * sqrt((1.0 / cold + 1.0 / hot) / (2.0 * pull))
