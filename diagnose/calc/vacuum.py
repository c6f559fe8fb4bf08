"""What a vacuum gauge means: the air of the place, what is left in the chamber, what bubbles do."""

from __future__ import annotations

from diagnose.calc.allowed_range import within
from diagnose.calc.water_vapour import boiling_pressure
from diagnose.errors import OutOfRange

STANDARD_GRAVITY = 9.80665  # m/s2, by definition
SEA_LEVEL_PRESSURE = 101325.0  # Pa
_SEA_LEVEL_TEMPERATURE, _LAPSE = 288.15, 0.0065  # K, K/m
_EXPONENT = STANDARD_GRAVITY * 0.0289644 / (8.31432 * _LAPSE)

LOWEST_AIR, HIGHEST_AIR = 50e3, 110e3  # Pa, what a barometer can show where people work


def standard_air_pressure(altitude: float) -> float:
    r"""Air pressure of the standard atmosphere at an altitude.

    Parameters
    ----------
    altitude
        Height above the sea. [m]

    Returns
    -------
    float
        Absolute pressure. [Pa]

    Raises
    ------
    OutOfRange
        If the altitude is under -450 m or over 5500 m, where nobody casts.

    Notes
    -----
    .. math:: p = p_0 \left(1 - \frac{L h}{T_0}\right)^{g M / (R L)}

    Weather moves the pressure of a place by about 2 kPa either way. The altitude is taken as geopotential; up
    to 5500 m the geometric one differs by less than 0.1 %.

    References
    ----------
    from memory of iso-2533-1975.

    Examples
    --------
    The tables give 898.746 hPa at 1000 m:

    >>> round(standard_air_pressure(1000.0) / 100, 2)
    898.75
    """
    within("the altitude", altitude, -450.0, 5500.0, "m", "Write the unit: feet or metres.")
    return float(SEA_LEVEL_PRESSURE * (1.0 - _LAPSE * altitude / _SEA_LEVEL_TEMPERATURE) ** _EXPONENT)


def chamber_pressure(air: float, gauge: float) -> float:
    r"""Pressure left in a chamber, from what its vacuum gauge shows.

    Parameters
    ----------
    air
        Air pressure of the place. [Pa]
    gauge
        Gauge reading: how far the chamber is below that air. [Pa]

    Returns
    -------
    float
        Absolute pressure. [Pa]

    Raises
    ------
    OutOfRange
        If the air pressure cannot be (under 50 or over 110 kPa), the reading is below zero, or it is
        more than the air has to give.

    Notes
    -----
    :math:`p = p_{air} - p_{gauge}`.

    Examples
    --------
    At standard pressure a gauge at 29 inHg (98.205 kPa) leaves 3.12 kPa:

    >>> round(chamber_pressure(101325.0, 98205.0))
    3120
    """
    _check_air(air)
    if not 0.0 <= gauge <= air:
        raise OutOfRange(
            "a vacuum reading of {reading against local air pressure:Pa} does not fit air of {local air pressure:Pa}.",
            {"reading against local air pressure": gauge, "local air pressure": air},
            next_step="No gauge can truly read more than the air of the place: check it with boiling water.",
        )
    return air - gauge


def gauge_to_boil(air: float, temperature: float) -> float:
    r"""Gauge reading at which water of a temperature boils in the chamber.

    Parameters
    ----------
    air
        Air pressure of the place. [Pa]
    temperature
        Temperature of the water or slurry. [K]

    Returns
    -------
    float
        Vacuum below the air of the place. [Pa]

    Raises
    ------
    OutOfRange
        If the air pressure cannot be, or the water would boil without any vacuum.

    Notes
    -----
    :math:`p_{gauge} = p_{air} - p_{boil}(T)`.

    References
    ----------
    from memory of iapws-1997, section 8.1.

    Examples
    --------
    Water of 22 degrees C at sea level needs 29.14 inHg of 3386.389 Pa:

    >>> round(gauge_to_boil(101325.0, 295.15) / 3386.389, 2)
    29.14
    """
    _check_air(air)
    boils = boiling_pressure(temperature)
    if boils >= air:
        raise OutOfRange(
            "water at {water:K} boils at {local air pressure:Pa} without any vacuum.",
            {"water": temperature, "local air pressure": air},
            next_step="Check the slurry temperature.",
        )
    return air - boils


def altitude_of_pressure(pressure: float) -> float:
    r"""Altitude at which the standard atmosphere has a pressure.

    Parameters
    ----------
    pressure
        Air pressure. [Pa]

    Returns
    -------
    float
        Height above the sea. [m]

    Raises
    ------
    OutOfRange
        If no place from -450 m to 5500 m has this pressure.

    Notes
    -----
    `standard_air_pressure` solved for the altitude.

    References
    ----------
    from memory of iso-2533-1975.

    Examples
    --------
    A gauge of 28 inHg is the whole atmosphere at 556 m:

    >>> round(altitude_of_pressure(28 * 3386.389))
    556
    """
    within("the pressure", pressure, standard_air_pressure(5500.0), standard_air_pressure(-450.0), "Pa")
    share = (pressure / SEA_LEVEL_PRESSURE) ** (1.0 / _EXPONENT)
    return float(_SEA_LEVEL_TEMPERATURE / _LAPSE * (1.0 - share))


def bubble_growth(air: float, pressure: float) -> float:
    r"""How many times larger a bubble gets when the pressure on it falls.

    Parameters
    ----------
    air
        Pressure on the bubble before. [Pa]
    pressure
        Pressure on it under vacuum. [Pa]

    Returns
    -------
    float
        Volume after over volume before; the diameter grows by the cube root. [-]

    Raises
    ------
    OutOfRange
        If the air pressure cannot be, or the pressure under vacuum is not above zero and at most that.

    Notes
    -----
    Boyle's law: :math:`V/V_0 = p_0/p`. Water vapour that enters a bubble makes it larger still; it is left
    out.

    Examples
    --------
    One tenth of the pressure, ten times the volume:

    >>> bubble_growth(100e3, 10e3)
    10.0
    """
    _check_air(air)
    if not 0.0 < pressure <= air:
        raise OutOfRange(
            "a pressure of {chamber pressure:Pa} is not above zero and under the air, {local air pressure:Pa}.",
            {"chamber pressure": pressure, "local air pressure": air},
            next_step="Check both pressures: they count from nothing, not from the air around.",
        )
    return air / pressure


def pressure_at_depth(surface: float, density: float, depth: float) -> float:
    r"""Pressure down in a liquid at rest.

    Parameters
    ----------
    surface
        Pressure on its surface. [Pa]
    density
        Density of the liquid. [kg/m^3]
    depth
        Depth below the surface. [m]

    Returns
    -------
    float
        Absolute pressure. [Pa]

    Raises
    ------
    OutOfRange
        If the surface pressure is below zero, the density not from 500 to 30000 kg/m3, or the depth not from
        0 to 2 m.

    Notes
    -----
    :math:`p = p_0 + \rho g h`. A slurry that has begun to stiffen carries part of its weight itself.

    Examples
    --------
    150 mm of slurry of 1.771 g/ml adds 2.605 kPa:

    >>> round(pressure_at_depth(0.0, 1771.0, 0.150))
    2605
    """
    within("the surface pressure", surface, 0.0, 1e7, "Pa")
    within("the density", density, 500.0, 30e3, "kg/m3", "Write the unit: 1.76 g/cm3 is 1760 kg/m3.")
    within("the depth", depth, 0.0, 2.0, "m")
    return surface + density * STANDARD_GRAVITY * depth


def _check_air(air: float) -> None:
    within(
        "the air pressure",
        air,
        LOWEST_AIR,
        HIGHEST_AIR,
        "Pa",
        "Give the pressure at the place itself, not reduced to sea level as weather reports do.",
    )
