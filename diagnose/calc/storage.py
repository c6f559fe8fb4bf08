"""How far raw rubber has aged on the shelf."""

from __future__ import annotations

from diagnose.calc.allowed_range import above_zero, within
from diagnose.calc.kinetics import rate_factor

COLDEST_STORE, HOTTEST_STORE = 258.15, 333.15  # [K]


def stock_age(time: float, temperature: float, reference: float, activation: float) -> float:
    """Age of raw rubber, counted as time at a reference store temperature.

    Parameters
    ----------
    time
        How long it has been stored. [s]
    temperature
        How warm the store is on average. [K]
    reference
        Store temperature for which its shelf life is stated. [K]
    activation
        Activation energy of the slow cure. [J/mol]

    Returns
    -------
    float
        Time at the reference temperature that would age it as much. [s]

    Raises
    ------
    OutOfRange
        If the store is not between -15 and 60 degrees C, or the time is negative or over 30 years.

    Notes
    -----
    One activation energy from press to store room is a long reach: the answer is an order of size. Hot days
    count for more than the mean temperature says; moisture, light and bloom are left out.

    Examples
    --------
    At the reference temperature, age is time:

    >>> round(stock_age(1e7, 298.15, 298.15, 1e5))
    10000000
    """
    within("the time in store", time, 0.0, 30 * 3.156e7, "s")
    within("the store temperature", temperature, COLDEST_STORE, HOTTEST_STORE, "K")
    within("the reference store temperature", reference, COLDEST_STORE, HOTTEST_STORE, "K")
    return time * rate_factor(temperature, reference, activation)


def time_for_cure_at(dose: float, temperature: float, reference: float, activation: float) -> float:
    """Time at a store temperature that uses up a cure stated at press temperature.

    Parameters
    ----------
    dose
        Time at the press temperature, for instance until the rubber begins to set. [s]
    temperature
        How warm the store is. [K]
    reference
        Press temperature at which the dose is stated. [K]
    activation
        Activation energy. [J/mol]

    Returns
    -------
    float
        Time in store. [s]

    Raises
    ------
    OutOfRange
        If the dose is not above zero or the store is not between -15 and 60 degrees C.

    Notes
    -----
    An order of size: 20 kJ/mol more or less moves it tenfold.

    Examples
    --------
    Three minutes at 153 degrees C is about a year at 25:

    >>> 0.9 < time_for_cure_at(180.0, 298.15, 426.15, 1e5) / 3.156e7 < 1.2
    True
    """
    above_zero("the dose", dose, "s")
    within("the store temperature", temperature, COLDEST_STORE, HOTTEST_STORE, "K")
    return dose / rate_factor(temperature, reference, activation)
