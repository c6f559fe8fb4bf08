"""How long metal stays liquid in a hot mold."""

from __future__ import annotations

from math import isfinite, pi

from diagnose.errors import OutOfRange


def freezing_constant(
    density: float,
    heat: float,
    freezing: float,
    mold: float,
    mold_conductivity: float,
    mold_density: float,
    mold_specific_heat: float,
) -> float:
    r"""Freezing time per square of volume over surface, in a thick mold that takes up heat by conduction.

    Parameters
    ----------
    density
        Density of the metal. [kg/m^3]
    heat
        Heat given off from the pour until all is solid. [J/kg]
    freezing
        Temperature at which the metal freezes; see ``effective_freezing`` for a range. [K]
    mold
        Temperature of the mold before the pour. [K]
    mold_conductivity
        Conductivity of the mold. [W/m/K]
    mold_density
        Density of the mold. [kg/m^3]
    mold_specific_heat
        Specific heat of the mold. [J/kg/K]

    Returns
    -------
    float
        Constant B of the square rule. [s/m^2]

    Raises
    ------
    OutOfRange
        If a value is not above zero, or the mold is not colder than the freezing metal by at least 20 K.

    Notes
    -----
    A flat wall held at the freezing temperature gives heat to a half space of mold,

    .. math:: B = \frac{\pi}{4}\,\frac{[\rho H / (T_m - T_0)]^2}{k\,\rho' c'}

    The properties of a burned-out mold are known to perhaps a third, so B is an order of magnitude; ratios
    between two flask temperatures are much better. Left out: resistance at the face, heat that meets in a
    thin core or between neighbours, curvature (bars and beads freeze somewhat sooner), radiation.

    References
    ----------
    from memory of flemings-1974.

    Examples
    --------
    All ones and 100 K between: pi/4 times (1/100) squared.

    >>> round(freezing_constant(1.0, 1.0, 600.0, 500.0, 1.0, 1.0, 1.0) * 1e4, 6)
    0.785398
    """
    for name, value in (
        ("metal density", density),
        ("heat of freezing", heat),
        ("mold conductivity", mold_conductivity),
        ("mold density", mold_density),
        ("mold specific heat", mold_specific_heat),
        ("mold temperature", mold),
    ):
        if not (value > 0.0 and isfinite(value)):
            raise OutOfRange(f"a {name} of {value:g} is not above zero.", next_step=f"Check the {name} and its unit.")
    if not freezing - mold >= 20.0:
        raise OutOfRange(
            "a mold at {mold:K} is not at least {least:K change} colder than metal freezing at {freezing:K}.",
            {"mold": mold, "least": 20.0, "freezing": freezing},
            next_step="Check the flask temperature and the alloy.",
        )
    return (
        pi / 4.0 * (density * heat / (freezing - mold)) ** 2 / (mold_conductivity * mold_density * mold_specific_heat)
    )


def effective_freezing(liquidus: float, end: float) -> float:
    r"""One temperature that stands for a whole freezing range in the square rule.

    Parameters
    ----------
    liquidus
        Temperature at which the metal is fully melted. [K]
    end
        Temperature at which the last of it freezes. [K]

    Returns
    -------
    float
        Temperature to put into ``freezing_constant``. [K]

    Raises
    ------
    OutOfRange
        If the end is not above zero, lies above the liquidus, or more than 250 K under it.

    Notes
    -----
    The rule holds for a metal with one freezing point. One that freezes over a range cools as it does so, and
    spends most of the time low in the range. A fifth of the way up,

    .. math:: T = T_e + (T_l - T_e) / 5,

    with the heat of the whole range in H, agrees within 5 % with the full solution of conduction for ranges
    up to 170 K and molds up to 650 degC.

    Examples
    --------
    >>> effective_freezing(1150.0, 1050.0)
    1070.0
    """
    if not (end > 0.0 and 0.0 <= liquidus - end <= 250.0):
        raise OutOfRange(
            "freezing from {liquidus:K} to {end:K} is not a range of at most {most:K change}.",
            {"liquidus": liquidus, "end": end, "most": 250.0},
            next_step="Fully melted must lie above fully solid.",
        )
    return end + (liquidus - end) / 5.0


def freezing_time(constant: float, modulus: float) -> float:
    r"""Time until a section is solid.

    Parameters
    ----------
    constant
        Constant B of the square rule. [s/m^2]
    modulus
        Volume of the section over its cooling surface. [m]

    Returns
    -------
    float
        Time. [s]

    Raises
    ------
    OutOfRange
        If a value is not above zero.

    Notes
    -----
    Chvorinov's rule, :math:`t = B (V/A)^2`: twice the thickness, four times as long.

    Examples
    --------
    >>> freezing_time(20e6, 0.0005)
    5.0
    """
    for name, value in (("freezing constant", constant), ("modulus", modulus)):
        if not (value > 0.0 and isfinite(value)):
            raise OutOfRange(f"a {name} of {value:g} is not above zero.", next_step=f"Check the {name} and its unit.")
    return constant * modulus**2


def sheet_modulus(thickness: float) -> float:
    """Volume over cooling surface of a sheet whose edges do not count.

    Parameters
    ----------
    thickness
        Thickness. [m]

    Returns
    -------
    float
        Half the thickness. [m]

    Raises
    ------
    OutOfRange
        If the thickness is not above zero.

    Examples
    --------
    >>> sheet_modulus(0.001)
    0.0005
    """
    if not (thickness > 0.0 and isfinite(thickness)):
        raise OutOfRange(
            "a thickness of {thickness:m} is not above zero.",
            {"thickness": thickness},
            next_step="Measure the section.",
        )
    return thickness / 2.0
