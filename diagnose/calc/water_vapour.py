"""Where water boils: the pressure for a temperature, and the temperature for a pressure."""

from __future__ import annotations

from math import sqrt

from diagnose.calc.allowed_range import within

FREEZING, CRITICAL = 273.15, 647.096  # K, the span of the formula
LOWEST_PRESSURE, HIGHEST_PRESSURE = 611.213, 22.064e6  # Pa, the same span

# Coefficients n1 to n10 of the saturation line of the industrial formulation.
_N1, _N2, _N3, _N4, _N5 = (
    0.11670521452767e4,
    -0.72421316703206e6,
    -0.17073846940092e2,
    0.12020824702470e5,
    -0.32325550322333e7,
)
_N6, _N7, _N8, _N9, _N10 = (
    0.14915108613530e2,
    -0.48232657361591e4,
    0.40511340542057e6,
    -0.23855557567849,
    0.65017534844798e3,
)


def boiling_pressure(temperature: float) -> float:
    r"""Pressure at which water of a temperature boils.

    Parameters
    ----------
    temperature
        Temperature of the water. [K]

    Returns
    -------
    float
        Absolute pressure. [Pa]

    Raises
    ------
    OutOfRange
        If the temperature is under 273.15 K or over 647.096 K.

    Notes
    -----
    The quadratic saturation line of the industrial formulation of 1997, region 4, equation 30. Pure water:
    what a slurry has dissolved lowers the pressure by well under one part in a hundred, and is left out.

    References
    ----------
    from memory of iapws-1997, section 8.1.

    Examples
    --------
    Table 35 of the release gives 3.53658941 kPa at 300 K:

    >>> round(boiling_pressure(300.0), 5)
    3536.58941
    """
    within("the water temperature", temperature, FREEZING, CRITICAL, "K")
    theta = temperature + _N9 / (temperature - _N10)
    a = theta**2 + _N1 * theta + _N2
    b = _N3 * theta**2 + _N4 * theta + _N5
    c = _N6 * theta**2 + _N7 * theta + _N8
    return float((2.0 * c / (-b + sqrt(b * b - 4.0 * a * c))) ** 4 * 1e6)


def boiling_temperature(pressure: float) -> float:
    r"""Temperature at which water boils under a pressure.

    Parameters
    ----------
    pressure
        Absolute pressure. [Pa]

    Returns
    -------
    float
        Temperature. [K]

    Raises
    ------
    OutOfRange
        If the pressure is under 611 Pa, where only ice and vapour exist, or over the critical pressure.

    Notes
    -----
    The same line as `boiling_pressure`, solved the other way: equation 31, exact to rounding.

    References
    ----------
    from memory of iapws-1997, section 8.2.

    Examples
    --------
    Table 36 of the release gives 372.755919 K at 0.1 MPa:

    >>> round(boiling_temperature(0.1e6), 6)
    372.755919
    """
    within(
        "the chamber pressure",
        pressure,
        LOWEST_PRESSURE,
        HIGHEST_PRESSURE,
        "Pa",
        "Give it absolute, counted from empty space, not as read on a vacuum gauge.",
    )
    beta = sqrt(sqrt(pressure / 1e6))
    e = beta**2 + _N3 * beta + _N6
    f = _N1 * beta**2 + _N4 * beta + _N7
    g = _N2 * beta**2 + _N5 * beta + _N8
    d = 2.0 * g / (-f - sqrt(f * f - 4.0 * e * g))
    return (_N10 + d - sqrt((_N10 + d) ** 2 - 4.0 * (_N9 + _N10 * d))) / 2.0
