"""What plaster does with water and heat, counted in atoms: setting, drying, firing, and its gas."""

from __future__ import annotations

from typing import NamedTuple

from diagnose.calc.allowed_range import within
from diagnose.errors import OutOfRange

# Molar masses from the abridged standard atomic weights: Ca 40.078, S 32.06, O 15.999, H 1.008. [kg/mol]
WATER = 18.015e-3
SULFATE = 136.134e-3
HALF_HYDRATE = SULFATE + 0.5 * WATER
SET_PLASTER = SULFATE + 2.0 * WATER
SULFUR_DIOXIDE = 64.058e-3


class MoldMasses(NamedTuple):
    """Mass of a mold over the mass of its dry powder, at the stages of drying."""

    dried: float
    """Only the free water gone."""
    half_dried: float
    """Back to what the powder was."""
    fired: float
    """All water gone."""


def water_to_set(binder: float) -> float:
    r"""Water that powder binds in setting.

    Parameters
    ----------
    binder
        Share of plaster (hemihydrate) in the powder, by mass. [-]

    Returns
    -------
    float
        Mass of water over mass of powder. [-]

    Raises
    ------
    OutOfRange
        If the share is not from 0 to 1.

    Notes
    -----
    CaSO4 (1/2 H2O) + 3/2 H2O -> CaSO4 (2 H2O), carried to its end.

    References
    ----------
    from memory of iupac-2013 (standard atomic weights).

    Examples
    --------
    Pure plaster binds 18.62 parts for 100:

    >>> round(100 * water_to_set(1.0), 2)
    18.62
    """
    within("the share of plaster", binder, 0.0, 1.0)
    return binder * 1.5 * WATER / HALF_HYDRATE


def free_water(water_ratio: float, binder: float) -> float:
    r"""Water that is only there to pour the slurry, and has to leave as steam.

    Parameters
    ----------
    water_ratio
        Parts of water by mass for 100 parts of powder. [-]
    binder
        Share of plaster (hemihydrate) in the powder, by mass. [-]

    Returns
    -------
    float
        Mass of free water in the set mold over mass of powder. [-]

    Raises
    ------
    OutOfRange
        If there is less water than setting takes, or an input cannot be.

    Notes
    -----
    Water poured in, less `water_to_set`.

    Examples
    --------
    At 40 for 100 with 30 % plaster, 34.415 of the 40 are free:

    >>> round(100 * free_water(40.0, 0.30), 3)
    34.415
    """
    within("the water for 100 of powder", water_ratio, 0.0, 200.0)
    left = water_ratio / 100.0 - water_to_set(binder)
    if left < 0.0:
        raise OutOfRange(
            f"{water_ratio:g} of water for 100 of powder is less than setting takes, {100 * water_to_set(binder):.1f}.",
            next_step="Check the weights.",
        )
    return left


def mold_masses(binder: float) -> MoldMasses:
    r"""Mass of a mold at the stages of drying, each over the mass of its powder.

    Parameters
    ----------
    binder
        Share of plaster (hemihydrate) in the powder, by mass. [-]

    Returns
    -------
    MoldMasses
        Dried of free water; back to hemihydrate; fired to anhydrite. [-]

    Raises
    ------
    OutOfRange
        If the share is not from 0 to 1.

    Notes
    -----
    The silica keeps its mass. Wax, and what the powder itself burns off, are left out.

    Examples
    --------
    With 30 % plaster, 100 g of powder weigh 105.585, 100 and 98.138 g:

    >>> [round(100 * m, 3) for m in mold_masses(0.30)]
    [105.585, 100.0, 98.138]
    """
    return MoldMasses(1.0 + water_to_set(binder), 1.0, 1.0 - binder * 0.5 * WATER / HALF_HYDRATE)


def sulfate_in_mold(powder: float, binder: float) -> float:
    r"""Calcium sulfate in a fired mold.

    Parameters
    ----------
    powder
        Mass of powder in the mold. [kg]
    binder
        Share of plaster (hemihydrate) in the powder, by mass. [-]

    Returns
    -------
    float
        Mass of calcium sulfate. [kg]

    Raises
    ------
    OutOfRange
        If the powder mass is below zero or the share is not from 0 to 1.

    Notes
    -----
    Molar masses of the sulfate over that of the hemihydrate.

    Examples
    --------
    583.3 g of powder with 30 % plaster hold 164 g:

    >>> round(1000 * sulfate_in_mold(0.5833, 0.30))
    164
    """
    within("the powder mass", powder, 0.0, 1e4, "kg")
    within("the share of plaster", binder, 0.0, 1.0)
    return powder * binder * SULFATE / HALF_HYDRATE


def sulfur_dioxide(sulfate: float) -> float:
    r"""Sulfur dioxide that calcium sulfate gives off when it breaks down.

    Parameters
    ----------
    sulfate
        Mass of calcium sulfate that breaks down. [kg]

    Returns
    -------
    float
        Mass of sulfur dioxide. [kg]

    Raises
    ------
    OutOfRange
        If the mass is below zero.

    Notes
    -----
    One molecule for one. How much breaks down is not computed here: clean plaster stays whole below about
    900 degrees C, carbon lets it go from about 750.

    References
    ----------
    from memory of iupac-2013 (standard atomic weights).

    Examples
    --------
    >>> round(sulfur_dioxide(1.0), 4)
    0.4706
    """
    within("the mass of sulfate", sulfate, 0.0, 1e4, "kg")
    return sulfate * SULFUR_DIOXIDE / SULFATE
