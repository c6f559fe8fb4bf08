"""Water caught in a wax pot: when it boils, and whether vacuum can drive it off without too much heat."""

from __future__ import annotations

from diagnose.calc.bounds import require_not_negative, require_positive
from diagnose.calc.vacuum import chamber_pressure
from diagnose.calc.water_vapour import boiling_pressure, boiling_temperature
from diagnose.errors import OutOfRange


def boiling_margin(wax_temperature: float, air: float, vacuum: float = 0.0) -> float:
    r"""How far the wax is below the temperature at which water in it boils.

    Parameters
    ----------
    wax_temperature
        Temperature of the hottest wax, usually at the bottom. [K]
    air
        Pressure of the air around. [Pa]
    vacuum
        How far the pot is evacuated below the air around. [Pa]

    Returns
    -------
    float
        Boiling point of water minus wax temperature; below zero water boils. [K]

    Raises
    ------
    OutOfRange
        If the vacuum is deeper than the air allows or the temperature is outside the steam formula.

    Notes
    -----
    Saturation pressure of water against the pressure over the wax. The few centimetres of wax over the water
    (about 1 kPa) and the need for a first bubble are left out: water may start late and then boil all at once,
    which throws hot wax out of the pot.

    References
    ----------
    iapws-1997, section 8.1, from memory.

    Examples
    --------
    At sea level and 85 °C there are 15 K left:

    >>> round(boiling_margin(358.15, 101325.0))
    15
    """
    pressure = chamber_pressure(air, vacuum)
    require_positive("Pa", pressure_left_in_the_pot=pressure)
    return boiling_temperature(pressure) - wax_temperature


def vacuum_that_boils_water(wax_temperature: float, air: float) -> float:
    r"""Vacuum at which water in wax of a temperature begins to boil.

    Parameters
    ----------
    wax_temperature
        Temperature of the wax. [K]
    air
        Pressure of the air around. [Pa]

    Returns
    -------
    float
        Vacuum below the air around. [Pa]

    Raises
    ------
    OutOfRange
        If water boils at that temperature without any vacuum.

    Notes
    -----
    :math:`p_{air} - p_{boil}(T)`. Air dissolved in the wax froths at any vacuum, and stops.

    Examples
    --------
    Steam tables give 31.2 kPa at 70 °C (from memory of iapws-1997):

    >>> round((101325.0 - vacuum_that_boils_water(343.15, 101325.0)) / 1000, 1)
    31.2
    """
    require_positive("Pa", air_pressure=air)
    boils = boiling_pressure(wax_temperature)
    if boils >= air:
        raise OutOfRange(
            "at {wax:K} and {local air pressure:Pa} of air water in the wax boils without vacuum "
            "and can throw wax out of the pot.",
            {"wax": wax_temperature, "local air pressure": air},
            next_step="Switch off, let it cool with the lid on, keep away from the top, and drain it at the bottom.",
        )
    return air - boils


def drying_temperature(air: float, vacuum: float, ceiling: float) -> float:
    r"""Coolest wax in which water boils off under a given vacuum.

    Parameters
    ----------
    air
        Pressure of the air around. [Pa]
    vacuum
        How far the pot is evacuated. [Pa]
    ceiling
        Temperature the pot should never exceed. [K]

    Returns
    -------
    float
        Temperature. [K]

    Raises
    ------
    OutOfRange
        If the pressures are not possible, or water would boil only over the ceiling.

    Notes
    -----
    Boiling temperature at the pressure left over the wax. Droplets only: a pool under the wax must be drained.

    Examples
    --------
    With 31.2 kPa left, 70 °C:

    >>> round(drying_temperature(101325.0, 70125.0, 358.15) - 273.15)
    70
    """
    require_not_negative("Pa", vacuum=vacuum)
    needed = boiling_temperature(chamber_pressure(air, vacuum))
    if needed > ceiling:
        raise OutOfRange(
            "this vacuum boils water only at {boils at:K}, over the ceiling of {ceiling:K}.",
            {"boils at": needed, "ceiling": ceiling},
            next_step="Never add heat to boil water out of wax: drain it at the bottom, then use a deeper vacuum.",
        )
    return needed
