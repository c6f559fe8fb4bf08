"""Whether a mold is dry: by weighing it, and by the heat that its water needed."""

from __future__ import annotations

from diagnose.calc.allowed_range import above_zero, within
from diagnose.errors import OutOfRange

LATENT_HEAT_OF_STEAM = 2256.5e3  # J/kg at 100 degrees C and one atmosphere
STEAM_VOLUME = 1.673  # m3/kg, the same state


def powder_in_flask(slurry: float, water_ratio: float) -> float:
    r"""Powder in a flask, from the weight of the slurry that went in.

    Parameters
    ----------
    slurry
        Mass of slurry in the flask: filled less empty flask, less wax. [kg]
    water_ratio
        Parts of water by mass for 100 parts of powder. [-]

    Returns
    -------
    float
        Mass of powder. [kg]

    Raises
    ------
    OutOfRange
        If the mass is not above zero or the ratio not from 8 to 80.

    Notes
    -----
    :math:`m / (1 + r/100)`. An error of 1 in the ratio moves the result by 0.7 %: weigh the powder where that
    matters.

    Examples
    --------
    140 g of slurry at 40 for 100:

    >>> round(1000 * powder_in_flask(0.140, 40.0), 6)
    100.0
    """
    above_zero("the mass of slurry", slurry, "kg")
    within("the water for 100 of powder", water_ratio, 8.0, 80.0)
    return slurry / (1.0 + water_ratio / 100.0)


def mold_mass_ratio(mold: float, powder: float) -> float:
    r"""Mass of the mold over the mass of its powder.

    Parameters
    ----------
    mold
        Mass of the mold as it is now: flask with mold, less the empty flask. [kg]
    powder
        Mass of the powder in it. [kg]

    Returns
    -------
    float
        About 0.98 when fired, 1.05 when only dried, up to 1.45 when wet. [-]

    Raises
    ------
    OutOfRange
        If the ratio is not from 0.9 to 1.7: something was weighed wrong, or wax is still inside.

    Notes
    -----
    Compare with the stages of `diagnose.calc.gypsum.mold_masses`.

    Examples
    --------
    >>> round(mold_mass_ratio(0.5724, 0.5833), 3)
    0.981
    """
    above_zero("the mass of the mold", mold, "kg")
    above_zero("the mass of the powder", powder, "kg")
    ratio = mold / powder
    if not 0.9 <= ratio <= 1.7:
        raise OutOfRange(
            "a mold of {mold:kg} from {powder:kg} of powder cannot be.",
            {"mold": mold, "powder": powder},
            next_step="Check the three weights; the wax does not count, and the base is off each time.",
        )
    return ratio


def steam_volume(water: float) -> float:
    r"""Steam that water becomes at the boil.

    Parameters
    ----------
    water
        Mass of water. [kg]

    Returns
    -------
    float
        Volume at 100 degrees C and one atmosphere; at a pour it is several times that. [m^3]

    Raises
    ------
    OutOfRange
        If the mass is below zero.

    Notes
    -----
    1.673 m3/kg, saturated steam.

    References
    ----------
    from memory of iapws-1997.

    Examples
    --------
    One gram makes more than a litre and a half:

    >>> round(steam_volume(0.001) * 1000, 3)
    1.673
    """
    within("the mass of water", water, 0.0, 1e4, "kg")
    return water * STEAM_VOLUME


def drying_dose(radius: float, water: float, conductivity: float) -> float:
    r"""Heat exposure that dries a round mold to its middle.

    Parameters
    ----------
    radius
        Radius of the mold. [m]
    water
        Mass of water that must go, for the volume of the mold. [kg/m^3]
    conductivity
        Conductivity of the dried mold. [W/m/K]

    Returns
    -------
    float
        Degrees of the outside above boiling, times seconds. [K s]

    Raises
    ------
    OutOfRange
        If an input is not above zero, or the radius over 0.25 m.

    Notes
    -----
    A front at the boiling point moves inwards; what heat the dried shell lets through boils water off at the front:

    .. math:: \int (T_s - T_b)\,dt = \frac{w L R^2}{4 k}

    Long cylinder, the outside at kiln temperature. The heat that warms the mold itself, vapour that moves
    ahead of the front, and the ends of the flask are left out: an order of magnitude, on the slow side for
    short flasks. Water bound in the plaster takes about a third more heat than free water.

    References
    ----------
    computed from a heat balance; Stefan's problem for a cylinder.

    Examples
    --------
    3 in across, 435 kg/m3 of water, 0.35 W/m/K: some 5.7 hours at 150 degrees C.

    >>> round(drying_dose(0.0381, 435.0, 0.35) / 50.0 / 3600, 1)
    5.7
    """
    above_zero("the radius", radius, "m")
    within("the radius", radius, 0.0, 0.25, "m")
    above_zero("the water in the mold", water, "kg/m3")
    above_zero("the conductivity", conductivity, "W/m/K")
    return water * LATENT_HEAT_OF_STEAM * radius**2 / (4.0 * conductivity)
