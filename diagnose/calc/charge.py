"""How much metal a tree needs, and how much of it may be metal that was cast before."""

from __future__ import annotations

from math import isfinite

from diagnose.errors import OutOfRange


def metal_for_wax(wax_mass: float, wax_density: float, metal_density: float) -> float:
    r"""Mass of metal that fills the space the wax leaves.

    Parameters
    ----------
    wax_mass
        Mass of all wax that becomes metal, sprues included. [kg]
    wax_density
        Density of the wax. [kg/m^3]
    metal_density
        Density of the cold metal. [kg/m^3]

    Returns
    -------
    float
        Mass of metal. [kg]

    Raises
    ------
    OutOfRange
        If a value is not above zero, or the metal is not denser than the wax.

    Notes
    -----
    Same volume: :math:`m = m_w \rho / \rho_w`. That the metal part ends up 1 to 2 % shorter than the wax
    (3 to 6 % less volume) is left out, which errs on the side of enough metal.

    Examples
    --------
    A metal ten times as dense needs ten times the mass:

    >>> metal_for_wax(0.012, 950.0, 9500.0)
    0.12
    """
    for name, value in (
        ("wax mass", wax_mass),
        ("wax density", wax_density),
        ("metal density", metal_density),
    ):
        _check_above_zero(name, value)
    if metal_density <= wax_density:
        raise OutOfRange(
            "a metal of {metal density:kg/m3} is not denser than the wax, {wax density:kg/m3}.",
            {"metal density": metal_density, "wax density": wax_density},
            next_step="Check whether the two densities were exchanged.",
        )
    return wax_mass * metal_density / wax_density


def charge_mass(tree: float, button: float, allowance: float) -> float:
    r"""Mass of metal to put in the crucible.

    Parameters
    ----------
    tree
        Metal that fills the pieces and sprues. [kg]
    button
        Metal left in the pouring cup to feed the tree. [kg]
    allowance
        What is added on top for losses in melting, as a share of tree and button. [-]

    Returns
    -------
    float
        Mass of the charge. [kg]

    Raises
    ------
    OutOfRange
        If the tree is not above zero, the button is below zero, or the allowance is not from 0 to under 0.2.

    Notes
    -----
    :math:`m = (m_t + m_b)(1 + a)`. An allowance of a fifth or more would mean that something else is wrong.

    Examples
    --------
    >>> round(charge_mass(0.10, 0.02, 0.05), 6)
    0.126
    """
    _check_above_zero("metal for the tree", tree)
    if not (button >= 0.0 and isfinite(button)):
        raise OutOfRange(
            "a button of {button weight:kg} is below zero.", {"button weight": button}, next_step="Weigh the button."
        )
    if not 0.0 <= allowance < 0.2:
        raise OutOfRange(
            f"a loss allowance of {allowance:.0%} is not from 0 to under 20 %.",
            next_step="Write the loss as a few per cent.",
        )
    return (tree + button) * (1.0 + allowance)


def fresh_metal(charge: float, highest_recycled: float) -> float:
    """Least mass of new metal in a charge.

    Parameters
    ----------
    charge
        Mass of the charge. [kg]
    highest_recycled
        Largest share of the charge that may be metal cast before. [-]

    Returns
    -------
    float
        Mass of new metal. [kg]

    Raises
    ------
    OutOfRange
        If the charge is not above zero or the share is not from 0 to 1.

    Examples
    --------
    >>> fresh_metal(0.16, 0.5)
    0.08
    """
    _check_above_zero("charge", charge)
    _check_share("highest recycled share", highest_recycled)
    return charge * (1.0 - highest_recycled)


def share_older_than(recycled: float, casts: int) -> float:
    r"""Share of a steadily topped-up charge that has been melted at least so many times before.

    Parameters
    ----------
    recycled
        Share of metal cast before, the same in every charge. [-]
    casts
        How many earlier melts. [-]

    Returns
    -------
    float
        Share of the charge. [-]

    Raises
    ------
    OutOfRange
        If the share is not from 0 to 1 or the number of casts is below one.

    Notes
    -----
    Every charge takes a well mixed share r of the one before: :math:`r^n`. At r = 1 nothing is ever renewed.

    Examples
    --------
    >>> share_older_than(0.5, 3)
    0.125
    """
    _check_share("recycled share", recycled)
    if casts < 1:
        raise OutOfRange(f"{casts} earlier melts is not one or more.", next_step="Count the melts that went before.")
    return float(recycled**casts)


def _check_share(name: str, value: float) -> None:
    """Refuse a share that is not from 0 to 1."""
    if not 0.0 <= value <= 1.0:
        raise OutOfRange(f"a {name} of {value:g} is not from 0 to 1.", next_step="Write it as a share or in per cent.")


def _check_above_zero(name: str, value: float) -> None:
    """Refuse a mass or density that nothing can have."""
    if not (value > 0.0 and isfinite(value)):
        raise OutOfRange(f"a {name} of {value:g} is not above zero.", next_step=f"Check the {name} and its unit.")
