"""Powder and water: how much slurry they make, how dense it is, and how much air is beaten into it."""

from __future__ import annotations

from collections.abc import Sequence
from math import isclose

from diagnose.calc.allowed_range import above_zero, within
from diagnose.errors import OutOfRange

THINNEST, THICKEST = 80.0, 8.0  # parts of water per 100 of powder; beyond, it is no casting slurry


def grain_density(shares: Sequence[float], densities: Sequence[float]) -> float:
    r"""Density of the grains of a powder mixed from several minerals.

    Parameters
    ----------
    shares
        Shares by mass; they sum to 1. [-]
    densities
        Densities of the minerals, in the same order. [kg/m^3]

    Returns
    -------
    float
        Density of the grains, air between them left out. [kg/m^3]

    Raises
    ------
    OutOfRange
        If the lists differ in length, a share is below zero, the shares do not sum to 1, or a density is
        not above zero.

    Notes
    -----
    .. math:: \frac{1}{\rho} = \sum_i \frac{x_i}{\rho_i}

    References
    ----------
    from memory of crc-handbook-2005 (densities of minerals).

    Examples
    --------
    30 parts of hemihydrate (2.70), 35 of quartz (2.65), 35 of cristobalite (2.33):

    >>> round(grain_density([0.30, 0.35, 0.35], [2700.0, 2650.0, 2330.0]))
    2542
    """
    if len(shares) != len(densities) or not shares:
        raise OutOfRange(
            f"{len(shares)} shares and {len(densities)} densities do not belong together.",
            next_step="Give one density for each share.",
        )
    for share, density in zip(shares, densities, strict=True):
        within("a share of the powder", share, 0.0, 1.0)
        above_zero("a density of the powder", density, "kg/m3")
    if not isclose(sum(shares), 1.0, abs_tol=1e-6):
        raise OutOfRange(f"the shares sum to {sum(shares):g}, not to 1.", next_step="Name all minerals.")
    return 1.0 / sum(share / density for share, density in zip(shares, densities, strict=True))


def slurry_volume(powder: float, water_ratio: float, grain: float, water_density: float) -> float:
    r"""Volume of slurry that a mass of powder makes, free of air.

    Parameters
    ----------
    powder
        Mass of powder. [kg]
    water_ratio
        Parts of water by mass for 100 parts of powder. [-]
    grain
        Density of the grains of the powder. [kg/m^3]
    water_density
        Density of the water. [kg/m^3]

    Returns
    -------
    float
        Volume. [m^3]

    Raises
    ------
    OutOfRange
        If the powder mass is below zero, the ratio is not from 8 to 80, or a density cannot be.

    Notes
    -----
    .. math:: V = m \left(\frac{1}{\rho_p} + \frac{r}{100\,\rho_w}\right)

    What sets takes up slightly less room than powder and water had; before it sets, volumes add.

    References
    ----------
    common practice; densities as `grain_density`.

    Examples
    --------
    100 g of powder of 2.5419 g/ml with 40 g of water of 0.9978 g/ml make 79.43 ml:

    >>> round(slurry_volume(0.100, 40.0, 2541.9, 997.8) * 1e6, 2)
    79.43
    """
    within("the powder mass", powder, 0.0, 1e4, "kg")
    _check_mix(water_ratio, grain, water_density)
    return powder * (1.0 / grain + water_ratio / (100.0 * water_density))


def slurry_density(water_ratio: float, grain: float, water_density: float) -> float:
    r"""Density of a slurry without air in it.

    Parameters
    ----------
    water_ratio
        Parts of water by mass for 100 parts of powder. [-]
    grain
        Density of the grains of the powder. [kg/m^3]
    water_density
        Density of the water. [kg/m^3]

    Returns
    -------
    float
        Density. [kg/m^3]

    Raises
    ------
    OutOfRange
        As `slurry_volume`.

    Notes
    -----
    Mass over `slurry_volume`.

    Examples
    --------
    >>> round(slurry_density(40.0, 2541.9, 997.8))
    1763
    """
    return (1.0 + water_ratio / 100.0) / slurry_volume(1.0, water_ratio, grain, water_density)


def powder_for_volume(volume: float, water_ratio: float, grain: float, water_density: float) -> float:
    r"""Mass of powder whose slurry fills a volume.

    Parameters
    ----------
    volume
        Volume to fill. [m^3]
    water_ratio
        Parts of water by mass for 100 parts of powder. [-]
    grain
        Density of the grains of the powder. [kg/m^3]
    water_density
        Density of the water. [kg/m^3]

    Returns
    -------
    float
        Mass of powder; the water is this times the ratio over 100. [kg]

    Raises
    ------
    OutOfRange
        If the volume is below zero, or as `slurry_volume`.

    Notes
    -----
    `slurry_volume` solved for the powder. What sticks to the bowl must be added.

    Examples
    --------
    A flask of 76.2 x 101.6 mm, 463.33 ml, takes 583.3 g:

    >>> round(powder_for_volume(463.33e-6, 40.0, 2541.9, 997.8) * 1000, 1)
    583.3
    """
    within("the volume", volume, 0.0, 1.0, "m3")
    return volume / slurry_volume(1.0, water_ratio, grain, water_density)


def air_share(measured: float, sound: float) -> float:
    r"""Share of air in a slurry, by volume, from its weighed density.

    Parameters
    ----------
    measured
        Density of the slurry as weighed in a cup. [kg/m^3]
    sound
        Density of the same slurry without air. [kg/m^3]

    Returns
    -------
    float
        Volume of air over volume of slurry; slightly below zero when the reference is a little low. [-]

    Raises
    ------
    OutOfRange
        If a density is not above zero, or the slurry is over 3 % denser than without air, or over half air.

    Notes
    -----
    :math:`1 - \rho/\rho_0`. One part of water more per 100 of powder looks like half a part of air in a
    hundred: weigh powder and water, and take the reference from a cup of your own.

    Examples
    --------
    One part in a hundred missing:

    >>> round(air_share(1745.37, 1763.0), 4)
    0.01
    """
    above_zero("the weighed density", measured, "kg/m3")
    above_zero("the density without air", sound, "kg/m3")
    share = 1.0 - measured / sound
    if not -0.03 <= share <= 0.5:
        raise OutOfRange(
            "a slurry of {own slurry density:kg/m3} does not fit one of {sound slurry density:kg/m3} without air.",
            {"own slurry density": measured, "sound slurry density": sound},
            next_step="Check the cup's volume, its empty weight, and the water for 100 of powder.",
        )
    return share


def _check_mix(water_ratio: float, grain: float, water_density: float) -> None:
    within("the water for 100 of powder", water_ratio, THICKEST, THINNEST)
    within("the density of the powder's grains", grain, 1500.0, 5000.0, "kg/m3")
    within("the density of the liquid", water_density, 900.0, 1500.0, "kg/m3")
