"""Gas that comes out of metal or water: how much room it takes."""

from __future__ import annotations

from math import isfinite, sqrt

from diagnose.errors import OutOfRange

GAS_CONSTANT = 8.314462618  # J/mol/K, CODATA 2018


def gas_volume(mass: float, molar_mass: float, temperature: float, pressure: float) -> float:
    r"""Volume that a mass of gas takes up.

    Parameters
    ----------
    mass
        Mass of the gas. [kg]
    molar_mass
        Molar mass. [kg/mol]
    temperature
        Temperature. [K]
    pressure
        Pressure. [Pa]

    Returns
    -------
    float
        Volume. [m^3]

    Raises
    ------
    OutOfRange
        If the mass is below zero or another value is not above zero.

    Notes
    -----
    Ideal gas, :math:`V = m R T / (M p)`. For steam at its boiling point this reads 2 % high.

    Examples
    --------
    One mole at 0 degC and one atmosphere:

    >>> round(gas_volume(0.032, 0.032, 273.15, 101325.0) * 1000, 3)
    22.414
    """
    if not (mass >= 0.0 and isfinite(mass)):
        raise OutOfRange("a mass of {mass:kg} of gas is below zero.", {"mass": mass}, next_step="Check the mass.")
    if not (molar_mass > 0.0 and temperature > 0.0 and pressure > 0.0):
        raise OutOfRange(
            "molar mass {molar mass:kg/mol}, {temperature:K} and {pressure:Pa} must be above zero.",
            {"molar mass": molar_mass, "temperature": temperature, "pressure": pressure},
            next_step="Check all three; temperatures count from absolute zero.",
        )
    return mass * GAS_CONSTANT * temperature / (molar_mass * pressure)


def dissolved_share(at_one: float, gas_share: float) -> float:
    r"""Share of a two-atom gas that a melt holds under a mixture of gases.

    Parameters
    ----------
    at_one
        Mass share the melt holds under the pure gas. [-]
    gas_share
        Share of the gas in the mixture above the melt, at the same pressure. [-]

    Returns
    -------
    float
        Mass share dissolved. [-]

    Raises
    ------
    OutOfRange
        If a share is not from 0 to 1.

    Notes
    -----
    Sieverts: a molecule of two atoms splits on dissolving, so the amount goes with the root of its pressure.
    Balance with the gas is taken as reached; a flux or cover keeps the melt under it.

    References
    ----------
    from memory of asm-handbook-15-2008.

    Examples
    --------
    A quarter of the pressure, half the gas:

    >>> dissolved_share(0.004, 0.25)
    0.002
    """
    if not 0.0 <= at_one <= 1.0 or not 0.0 <= gas_share <= 1.0:
        raise OutOfRange(
            f"shares of {at_one:g} and {gas_share:g} must be from 0 to 1.",
            next_step="Write both as shares or in per cent.",
        )
    return at_one * sqrt(gas_share)
