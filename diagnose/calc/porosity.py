"""Weighing a casting in water: its density, and how much of it is holes."""

from __future__ import annotations

from math import isfinite, sqrt

from diagnose.calc.allowed_range import within
from diagnose.errors import OutOfRange


def water_density(temperature: float) -> float:
    r"""Density of clean water at the pressure of the air.

    Parameters
    ----------
    temperature
        Temperature of the water. [K]

    Returns
    -------
    float
        Density. [kg/m^3]

    Raises
    ------
    OutOfRange
        If the water would be ice or warmer than 60 degC, too warm to weigh in.

    Notes
    -----
    Kell's rational polynomial for air-free water. Dissolved air and tap-water salts change it by less than
    0.1 %.

    References
    ----------
    from memory of kell-1975.

    Examples
    --------
    The well known 0.998 g/cm3 at 20 degC:

    >>> round(water_density(293.15) / 1000, 3)
    0.998
    """
    within("the water temperature", temperature, 273.15, 333.15, "K", "Let it come to room temperature.")
    t = temperature - 273.15
    above = (
        999.83952
        + 16.945176 * t
        - 7.9870401e-3 * t**2
        - 46.170461e-6 * t**3
        + 105.56302e-9 * t**4
        - 280.54253e-12 * t**5
    )
    return above / (1.0 + 16.879850e-3 * t)


def density_by_weighing(in_air: float, in_water: float, water: float) -> float:
    r"""Density of a casting from its weight in air and hanging in water.

    Parameters
    ----------
    in_air
        Mass shown in air. [kg]
    in_water
        Mass shown hanging in water, less the wire. [kg]
    water
        Density of the water. [kg/m^3]

    Returns
    -------
    float
        Density. [kg/m^3]

    Raises
    ------
    OutOfRange
        If a value is not above zero, or the casting does not weigh less in water than in air.

    Notes
    -----
    Archimedes: :math:`\rho = m_a \rho_w / (m_a - m_w)`. The lift of the air (0.1 % of that of
    water) is left out. Pores open to the surface fill with water and do not count: ``open_porosity``.

    Examples
    --------
    What loses a tenth of its weight is ten times as dense as water:

    >>> round(density_by_weighing(0.010, 0.009, 1000.0), 6)
    10000.0
    """
    for name, value in (("mass in air", in_air), ("mass in water", in_water), ("water density", water)):
        _check_above_zero(name, value)
    if not in_water < in_air:
        raise OutOfRange(
            "a casting of {mass in air:kg} in air cannot weigh {mass in water:kg} in water.",
            {"mass in air": in_air, "mass in water": in_water},
            next_step="Check whether the two were exchanged, and for bubbles and the wire.",
        )
    return in_air * water / (in_air - in_water)


def porosity(density: float, sound: float, error: float) -> float:
    r"""Share of a casting that is closed holes.

    Parameters
    ----------
    density
        Density found. [kg/m^3]
    sound
        Density of the same metal without holes. [kg/m^3]
    error
        Error of the porosity that must be allowed for. [-]

    Returns
    -------
    float
        Volume share of holes; zero when the casting reads denser than sound within the error. [-]

    Raises
    ------
    OutOfRange
        If a density is not above zero, the error is not from 0 to under 0.2, the casting is denser than sound
        metal by more than the error, or more than half of it would be holes.

    Notes
    -----
    :math:`p = 1 - \rho / \rho_s`, holes taken as empty.

    Examples
    --------
    >>> round(porosity(9900.0, 10000.0, 0.0), 6)
    0.01
    """
    _check_above_zero("density", density)
    _check_above_zero("sound density", sound)
    if not 0.0 <= error < 0.2:
        raise OutOfRange(f"an error of {error:.1%} is not from 0 to under 20 %.", next_step="Weigh a bigger piece.")
    share = 1.0 - density / sound
    if share < -error - 1e-12:
        raise OutOfRange(
            "the casting, {casting density:kg/m3}, is denser than sound metal, {sound density:kg/m3}.",
            {"casting density": density, "sound density": sound},
            next_step="Check the alloy, and weigh a hammered piece of the same melt for the sound density.",
        )
    if share > 0.5:
        raise OutOfRange(
            f"{share:.0%} of holes is not a casting of this metal.",
            next_step="Check the alloy and the weighing.",
        )
    return max(0.0, share)


def open_porosity(in_air: float, in_water: float, in_water_soaked: float, water: float) -> float:
    r"""Share of a casting that is holes open to its surface.

    Parameters
    ----------
    in_air
        Mass shown in air, dry. [kg]
    in_water
        Mass shown in water at once. [kg]
    in_water_soaked
        Mass shown in water after the holes have filled. [kg]
    water
        Density of the water. [kg/m^3]

    Returns
    -------
    float
        Volume share of holes that filled while soaking. [-]

    Raises
    ------
    OutOfRange
        If the weights cannot be those of one casting, or it got lighter by soaking.

    Notes
    -----
    Water that moves into the holes no longer lifts: its mass is the gain. Holes that fill at once, or never,
    do not show.

    Examples
    --------
    One cubic centimetre that gains 0.01 g:

    >>> round(open_porosity(0.010, 0.009, 0.00901, 1000.0), 6)
    0.01
    """
    density_by_weighing(in_air, in_water, water)
    density_by_weighing(in_air, in_water_soaked, water)
    if in_water_soaked < in_water:
        raise OutOfRange(
            "it reads {mass in water after soak:kg} after soaking, less than {mass in water:kg} before.",
            {"mass in water after soak": in_water_soaked, "mass in water": in_water},
            next_step="A bubble or the wire changed; weigh both again.",
        )
    return (in_water_soaked - in_water) / (in_air - in_water)


def weighing_error(balance_error: float, in_air: float, in_water: float) -> float:
    r"""Error of the porosity that comes from the balance.

    Parameters
    ----------
    balance_error
        Error of a single reading. [kg]
    in_air
        Mass shown in air. [kg]
    in_water
        Mass shown in water. [kg]

    Returns
    -------
    float
        Error of the porosity. [-]

    Raises
    ------
    OutOfRange
        If the error is below zero or the casting does not weigh less in water than in air.

    Notes
    -----
    The volume is the difference of two readings with independent errors, and it is by far the smaller number:
    :math:`u_p = \sqrt{2}\,u / (m_a - m_w)`. The mass in air also stands above the line,
    which takes off a few percent; leaving that out errs to the safe side.

    References
    ----------
    from memory of gum-2008 (independent errors add as squares).

    Examples
    --------
    >>> round(weighing_error(1e-5, 0.010, 0.009), 5)
    0.01414
    """
    if not (balance_error >= 0.0 and isfinite(balance_error)):
        raise OutOfRange(
            "a balance error of {balance error:kg} is below zero.",
            {"balance error": balance_error},
            next_step="Read it from the balance: its last digit.",
        )
    if not 0.0 < in_water < in_air:
        raise OutOfRange(
            "{mass in water:kg} in water and {mass in air:kg} in air do not go together.",
            {"mass in water": in_water, "mass in air": in_air},
            next_step="Weigh again: in water it weighs less, and more than nothing.",
        )
    return sqrt(2.0) * balance_error / (in_air - in_water)


def mass_for_error(balance_error: float, error: float, density: float, water: float) -> float:
    r"""Least mass of a casting whose porosity can be told to a given error.

    Parameters
    ----------
    balance_error
        Error of a single reading. [kg]
    error
        Error of the porosity wanted. [-]
    density
        Density of the metal. [kg/m^3]
    water
        Density of the water. [kg/m^3]

    Returns
    -------
    float
        Mass. [kg]

    Raises
    ------
    OutOfRange
        If a value is not above zero or the metal would float.

    Notes
    -----
    ``weighing_error`` turned round: :math:`m = \sqrt{2}\,u\,\rho / (u_p \rho_w)`.

    Examples
    --------
    A 0.01 g balance, half a point, metal ten times as dense as water:

    >>> round(mass_for_error(1e-5, 0.005, 10000.0, 1000.0), 5)
    0.02828
    """
    for name, value in (("balance error", balance_error), ("error", error), ("water density", water)):
        _check_above_zero(name, value)
    if not density > water:
        raise OutOfRange(
            "metal of {alloy density:kg/m3} would float.", {"alloy density": density}, next_step="Check the density."
        )
    return sqrt(2.0) * balance_error * density / (error * water)


def _check_above_zero(name: str, value: float) -> None:
    """Refuse a mass or density that is not above zero."""
    if not (value > 0.0 and isfinite(value)):
        raise OutOfRange(f"a {name} of {value:g} is not above zero.", next_step=f"Check the {name} and its unit.")
