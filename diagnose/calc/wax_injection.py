"""Wax going into a mold: its temperature window, the air it traps, how far it reaches, what pushes it."""

from __future__ import annotations

from math import pi, sqrt

from diagnose.calc.allowed_range import within
from diagnose.calc.bounds import require_not_negative, require_positive
from diagnose.errors import OutOfRange


def temperature_window(congealing: float, least: float, most: float, ceiling: float) -> tuple[float, float]:
    """Range of wax temperatures at the nozzle that keeps clear of freezing and of harm to the wax.

    Parameters
    ----------
    congealing
        Congealing point of the wax. [K]
    least, most
        Least and most margin over the congealing point. [K]
    ceiling
        Temperature the pot should never exceed. [K]

    Returns
    -------
    tuple of float
        Lowest and highest temperature. [K]

    Raises
    ------
    OutOfRange
        If the margins run from high to low, or the ceiling leaves no room over the lowest temperature.

    Notes
    -----
    Lowest = congealing + least; highest = congealing + most, cut off at the ceiling. The congealing point is
    where a drop on a turning bulb stops running (astm-d938); a melting plateau does not exist in blended waxes.

    Examples
    --------
    >>> temperature_window(335.0, 4.0, 15.0, 345.0)
    (339.0, 345.0)
    """
    require_positive(congealing_point=congealing, least_margin=least, ceiling=ceiling)
    if most <= least:
        raise OutOfRange(
            "a most margin of {most wax margin:K change} is not above a least margin of {least wax margin:K change}.",
            {"most wax margin": most, "least wax margin": least},
            next_step="Check the two margins.",
        )
    if congealing + least >= ceiling:
        raise OutOfRange(
            "wax that congeals at {congealing:K} leaves no room under {ceiling:K}.",
            {"congealing": congealing, "ceiling": ceiling},
            next_step="Check the congealing point; wax this hard is not for injection into rubber.",
        )
    return congealing + least, min(congealing + most, ceiling)


def pocket_filled(pressure: float, air: float, vacuum: float = 0.0) -> float:
    r"""Share of a blind pocket without a vent that wax can fill.

    Parameters
    ----------
    pressure
        Injection pressure above the air around. [Pa]
    air
        Pressure of the air around. [Pa]
    vacuum
        How far the mold was evacuated below the air around before the shot. [Pa]

    Returns
    -------
    float
        Share of the pocket's volume. [-]

    Raises
    ------
    OutOfRange
        If a pressure is not possible, or the vacuum is deeper than the air pressure allows.

    Notes
    -----
    Boyle's law, the trapped air at one temperature: :math:`1 - (p_0 - v)/(p_0 + P)`. Rubber that lets some air
    out through its cut is left out, so this is the least that fills.

    References
    ----------
    Boyle's law, any physics text.

    Examples
    --------
    A push of one atmosphere halves the air:

    >>> pocket_filled(101325.0, 101325.0)
    0.5
    """
    require_not_negative("Pa", injection_pressure=pressure, vacuum=vacuum)
    require_positive("Pa", air_pressure=air)
    within("mold vacuum", vacuum, 0.0, air, "Pa", "Check the gauge, the unit and the altitude.")
    return 1.0 - (air - vacuum) / (air + pressure)


def bubble_diameter_ratio(pressure: float, air: float, vacuum: float = 0.0) -> float:
    r"""Diameter of a trapped bubble under pressure, over its diameter when it was shut in.

    Parameters
    ----------
    pressure
        Injection pressure above the air around. [Pa]
    air
        Pressure of the air around. [Pa]
    vacuum
        How far the mold was evacuated before the shot. [Pa]

    Returns
    -------
    float
        Ratio of diameters. [-]

    Raises
    ------
    OutOfRange
        As `pocket_filled`.

    Notes
    -----
    Cube root of the volume that is left: pressure makes bubbles smaller, hardly fewer.

    Examples
    --------
    Seven atmospheres of push halve the diameter:

    >>> round(bubble_diameter_ratio(7.0 * 101325.0, 101325.0), 9)
    0.5
    """
    return float((1.0 - pocket_filled(pressure, air, vacuum)) ** (1.0 / 3.0))


def reach_ratio(gap: float, other_gap: float, pressure: float, other_pressure: float) -> float:
    r"""How far wax runs into a thin gap, over how far it ran in another shot of the same wax and mold.

    Parameters
    ----------
    gap, other_gap
        Thickness of the gap or wall now and in the other shot. [m]
    pressure, other_pressure
        Injection pressures. [Pa]

    Returns
    -------
    float
        Ratio of reaches. [-]

    Raises
    ------
    OutOfRange
        If a value is not above zero.

    Notes
    -----
    Laminar flow in a slot until it is frozen: reach is :math:`h\sqrt{\Delta P\, t/(6\mu)}` and the time to freeze
    goes with :math:`h^2`, so

    .. math:: x/x' = (h/h')^2 \sqrt{P/P'}

    Ratios only. The reach in millimetres from the same formula is several times too long (the gap narrows as it
    freezes, and air pushes back), so it never decides whether a wall fills.

    Examples
    --------
    Half the gap, a quarter of the reach; half the pressure, seven tenths:

    >>> reach_ratio(0.5, 1.0, 1.0, 1.0), round(reach_ratio(1.0, 1.0, 0.5, 1.0), 2)
    (0.25, 0.71)
    """
    require_positive(gap=gap, other_gap=other_gap, pressure=pressure, other_pressure=other_pressure)
    return (gap / other_gap) ** 2 * sqrt(pressure / other_pressure)


def pressure_for_same_reach(gap: float, other_gap: float, other_pressure: float) -> float:
    r"""Pressure that would carry wax as far in one gap as another pressure did in another gap.

    Parameters
    ----------
    gap, other_gap
        Thickness of the gap or wall now and in the other shot. [m]
    other_pressure
        Pressure of the other shot. [Pa]

    Returns
    -------
    float
        Pressure. [Pa]

    Raises
    ------
    OutOfRange
        If a value is not above zero.

    Notes
    -----
    :math:`P = P' (h'/h)^4`: it shows when pressure is the wrong lever, and is never a setting to dial in without
    looking at what the pot is marked for.

    Examples
    --------
    >>> pressure_for_same_reach(0.5, 1.0, 1.0)
    16.0
    """
    require_positive(gap=gap, other_gap=other_gap, other_pressure=other_pressure)
    return other_pressure * (other_gap / gap) ** 4


def nozzle_pressure(pot_pressure: float, wax_density: float, level: float) -> float:
    r"""Pressure of the wax at the nozzle.

    Parameters
    ----------
    pot_pressure
        Pressure on the wax above the air around. [Pa]
    wax_density
        Density of the liquid wax. [kg/m^3]
    level
        Height of the wax surface over the nozzle; below zero if under it. [m]

    Returns
    -------
    float
        Pressure above the air around, before losses in valve and nozzle. [Pa]

    Raises
    ------
    OutOfRange
        If pressure or density is not possible, or the level is more than a metre off.

    Notes
    -----
    :math:`P + \rho g h`. The head of a bench pot is under a kilopascal: worth knowing, not worth trimming.

    Examples
    --------
    >>> round(nozzle_pressure(0.0, 1000.0, 0.1))
    981
    """
    require_not_negative("Pa", pot_pressure=pot_pressure)
    require_positive("kg/m3", wax_density=wax_density)
    within("wax level over the nozzle", level, -1.0, 1.0, "m")
    return pot_pressure + wax_density * 9.80665 * level


def lid_force(pressure: float, diameter: float) -> float:
    r"""Force with which a pot under pressure pushes on its lid.

    Parameters
    ----------
    pressure
        Pressure in the pot above the air around. [Pa]
    diameter
        Diameter of the lid inside its seal. [m]

    Returns
    -------
    float
        Force. [N]

    Raises
    ------
    OutOfRange
        If the pressure is below zero or the diameter not above zero.

    Notes
    -----
    :math:`F = P \pi D^2/4`.

    Examples
    --------
    A lid 20 cm across at 10 psi pushes with the weight of 221 kg:

    >>> round(lid_force(68947.57, 0.20) / 9.80665)
    221
    """
    require_not_negative("Pa", pressure=pressure)
    require_positive("m", diameter=diameter)
    return pressure * pi * diameter**2 / 4.0


def wax_mass(volume: float, density: float) -> float:
    r"""Mass of wax that fills a volume.

    Parameters
    ----------
    volume
        Volume of the part with its gate. [m^3]
    density
        Density of the cold wax. [kg/m^3]

    Returns
    -------
    float
        Mass. [kg]

    Raises
    ------
    OutOfRange
        If a value is not above zero.

    Notes
    -----
    :math:`m = \rho V`. A wax of a drawn volume comes out lighter by three times its linear shrinkage.

    Examples
    --------
    >>> round(wax_mass(2.0e-6, 950.0), 6)
    0.0019
    """
    require_positive(volume=volume, density=density)
    return volume * density
