"""Heat that shots of wax leave in a rubber mold, and the rest it needs between shots."""

from __future__ import annotations

from math import ceil

from diagnose.calc.bounds import require_positive
from diagnose.errors import OutOfRange


def shot_heat(wax_mass: float, heat_given: float) -> float:
    r"""Heat that one shot leaves in the mold.

    Parameters
    ----------
    wax_mass
        Mass of wax in the mold, gate included. [kg]
    heat_given
        Heat given up by the wax from the nozzle to opening, latent heat included. [J/kg]

    Returns
    -------
    float
        Heat. [J]

    Raises
    ------
    OutOfRange
        If a value is not above zero.

    Notes
    -----
    :math:`Q = m q`.

    Examples
    --------
    >>> shot_heat(0.002, 2.5e5)
    500.0
    """
    require_positive(wax_mass=wax_mass, heat_given=heat_given)
    return wax_mass * heat_given


def rise_per_shot(heat: float, mold_mass: float, specific_heat: float) -> float:
    r"""Rise of a mold's mean temperature from one shot.

    Parameters
    ----------
    heat
        Heat left by the shot. [J]
    mold_mass
        Mass of the rubber. [kg]
    specific_heat
        Specific heat of the rubber. [J/(kg K)]

    Returns
    -------
    float
        Rise. [K]

    Raises
    ------
    OutOfRange
        If a value is not above zero.

    Notes
    -----
    :math:`\Delta T = Q/(m c)`, once the heat has spread through the block (minutes); near the cavity it is more.

    Examples
    --------
    >>> rise_per_shot(450.0, 0.1, 1500.0)
    3.0
    """
    require_positive(heat=heat, mold_mass=mold_mass, specific_heat=specific_heat)
    return heat / (mold_mass * specific_heat)


def block_surface(length: float, width: float, thickness: float) -> float:
    r"""Surface of a mold block that gives heat to the room.

    Parameters
    ----------
    length, width, thickness
        Sides of the block. [m]

    Returns
    -------
    float
        Surface. [m^2]

    Raises
    ------
    OutOfRange
        If a side is not above zero.

    Notes
    -----
    :math:`2(lw + wt + tl)`; a block lying on wood gives hardly any heat downward.

    Examples
    --------
    >>> round(block_surface(0.05, 0.05, 0.025), 9)
    0.01
    """
    require_positive("m", length=length, width=width, thickness=thickness)
    return 2.0 * (length * width + width * thickness + thickness * length)


def recovery_time(mold_mass: float, specific_heat: float, surface: float, heat_transfer: float) -> float:
    r"""Time in which a resting mold loses about two thirds of its warmth over the room.

    Parameters
    ----------
    mold_mass
        Mass of the rubber. [kg]
    specific_heat
        Specific heat of the rubber. [J/(kg K)]
    surface
        Surface that gives heat to the room. [m^2]
    heat_transfer
        Heat transfer from rubber to room. [W/(m^2 K)]

    Returns
    -------
    float
        Time constant. [s]

    Raises
    ------
    OutOfRange
        If a value is not above zero.

    Notes
    -----
    :math:`\tau = m c/(h A)`, the block warm all through (true in still air; between metal plates the rubber's own
    slowness sets the pace).

    Examples
    --------
    >>> recovery_time(0.1, 1500.0, 0.0125, 10.0)
    1200.0
    """
    require_positive(mold_mass=mold_mass, specific_heat=specific_heat, surface=surface, heat_transfer=heat_transfer)
    return mold_mass * specific_heat / (heat_transfer * surface)


def shot_interval(rise: float, recovery: float, allowed: float) -> float:
    r"""Shortest time between shots into one mold that keeps it cool enough in the long run.

    Parameters
    ----------
    rise
        Rise of the mold from one shot. [K]
    recovery
        Time constant of the mold. [s]
    allowed
        How far over the room its mean temperature may settle. [K]

    Returns
    -------
    float
        Time between shots. [s]

    Raises
    ------
    OutOfRange
        If rise or time is not above zero, or the room leaves nothing to allow.

    Notes
    -----
    In a steady run as much heat must leave as comes in: mean excess :math:`= \Delta T\, \tau / t`, so
    :math:`t = \Delta T\, \tau / \theta`. Right after a shot the mold is up to one rise warmer than the mean.

    Examples
    --------
    >>> shot_interval(3.0, 1200.0, 8.0)
    450.0
    """
    require_positive(rise_per_shot=rise, recovery_time=recovery)
    if not allowed > 0.0:
        raise OutOfRange(
            "the room is {excess:K change} warmer than the mold may be.",
            {"excess": -allowed},
            next_step="Cool the room, or cool the molds between metal plates from a cool place.",
        )
    return rise * recovery / allowed


def settled_excess(rise: float, recovery: float, interval: float) -> float:
    r"""How far over the room a mold's mean temperature settles in a steady run.

    Parameters
    ----------
    rise
        Rise of the mold from one shot. [K]
    recovery
        Time constant of the mold. [s]
    interval
        Time between shots into this mold. [s]

    Returns
    -------
    float
        Mean temperature over the room. [K]

    Raises
    ------
    OutOfRange
        If a value is not above zero.

    Notes
    -----
    :math:`\Delta T\,\tau/t`, reached after about three time constants.

    Examples
    --------
    >>> settled_excess(3.0, 1200.0, 450.0)
    8.0
    """
    require_positive(rise_per_shot=rise, recovery_time=recovery, interval=interval)
    return rise * recovery / interval


def molds_in_turn(interval: float, pace: float) -> int:
    r"""Number of molds to use in turn so that each one gets its rest.

    Parameters
    ----------
    interval
        Time each mold needs between its shots. [s]
    pace
        Time from one shot at the pot to the next. [s]

    Returns
    -------
    int
        Number of molds. [-]

    Raises
    ------
    OutOfRange
        If a time is not above zero.

    Notes
    -----
    The next whole number from :math:`t/p` up.

    Examples
    --------
    >>> molds_in_turn(450.0, 60.0)
    8
    """
    require_positive(interval=interval, pace=pace)
    return max(1, ceil(interval / pace * (1.0 - 1e-12)))
