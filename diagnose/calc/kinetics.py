"""How fast a reaction runs at a temperature, and how much of it a temperature history adds up to."""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, log

import numpy as np
from numpy.typing import NDArray

from diagnose.calc.allowed_range import within
from diagnose.errors import OutOfRange

Floats = NDArray[np.float64]

GAS_CONSTANT = 8.314462618
COLDEST, HOTTEST = 200.0, 700.0

_GAUSS_NODES, _GAUSS_WEIGHTS = np.polynomial.legendre.leggauss(12)


@dataclass(frozen=True)
class Kinetics:
    """A reaction with an activation energy [J/mol], clocked at a reference temperature [K]."""

    activation: float
    reference: float

    def __post_init__(self) -> None:
        within("the activation energy", self.activation, 1e4, 4e5, "J/mol")
        within("the reference temperature", self.reference, COLDEST, HOTTEST, "K")

    def rates(self, kelvin: Floats) -> Floats:
        """Return how many times faster the reaction runs at temperatures [K] than at the reference."""
        slope = self.activation / GAS_CONSTANT
        power = -slope / kelvin
        power += slope / self.reference
        return np.asarray(np.exp(power, out=power))

    def rate(self, kelvin: float) -> float:
        """Return how many times faster the reaction runs at one temperature [K] than at the reference."""
        return exp(self.activation / GAS_CONSTANT * (1.0 / self.reference - 1.0 / kelvin))


def rate_factor(temperature: float, reference: float, activation: float) -> float:
    r"""How many times faster a reaction runs at one temperature than at another.

    Parameters
    ----------
    temperature
        Temperature asked about. [K]
    reference
        Temperature compared with. [K]
    activation
        Activation energy. [J/mol]

    Returns
    -------
    float
        Rate at `temperature` over rate at `reference`. [-]

    Raises
    ------
    OutOfRange
        If a temperature is not between 200 and 700 K or the activation energy not between 10 and 400 kJ/mol.

    Notes
    -----
    Arrhenius: :math:`F = \exp\left[\frac{E}{R}\left(\frac{1}{T_1} - \frac{1}{T_2}\right)\right]`. One
    activation energy for the whole range: near the reference it is safe, far from it (a store room against
    a press) only the order of size is.

    References
    ----------
    CODATA 2018 for the gas constant.

    Examples
    --------
    The doubling for 10 degrees that trades speak of, from 143 to 153 degrees C, is an activation energy
    of 102.2 kJ/mol:

    >>> round(rate_factor(426.15, 416.15, 102.2e3), 2)
    2.0
    """
    within("the temperature", temperature, COLDEST, HOTTEST, "K")
    return Kinetics(activation, reference).rate(temperature)


def activation_energy(factor: float, cooler: float, hotter: float) -> float:
    r"""Activation energy that makes a reaction faster by a factor between two temperatures.

    Parameters
    ----------
    factor
        Rate at the hotter over rate at the cooler temperature. [-]
    cooler
        Lower temperature. [K]
    hotter
        Higher temperature. [K]

    Returns
    -------
    float
        Activation energy. [J/mol]

    Raises
    ------
    OutOfRange
        If the factor is not above 1 or the temperatures are not in order between 200 and 700 K.

    Notes
    -----
    `rate_factor` solved for the energy: :math:`E = R \ln F / (1/T_1 - 1/T_2)`.

    Examples
    --------
    >>> energy = activation_energy(2.0, 416.15, 426.15)
    >>> round(rate_factor(426.15, 416.15, energy), 12)
    2.0
    """
    within("the cooler temperature", cooler, COLDEST, HOTTEST, "K")
    within("the hotter temperature", hotter, COLDEST, HOTTEST, "K")
    if factor <= 1.0 or hotter <= cooler:
        raise OutOfRange(
            f"a factor of {factor:g} from {{cooler:K}} to {{hotter:K}} gives no activation energy.",
            {"cooler": cooler, "hotter": hotter},
            next_step="Give the rate at the hotter temperature over the rate at the cooler one, above 1.",
        )
    return GAS_CONSTANT * log(factor) / (1.0 / cooler - 1.0 / hotter)


def equivalent_time(
    times: tuple[float, ...], temperatures: tuple[float, ...], reference: float, activation: float
) -> float:
    r"""Time at a reference temperature that cures as much as a recorded temperature history.

    Parameters
    ----------
    times
        When each temperature was read, never going back; a step is written as the same time twice. [s]
    temperatures
        What was read; in between, the temperature is taken to change steadily. [K]
    reference
        Temperature at which the equivalent time is counted. [K]
    activation
        Activation energy. [J/mol]

    Returns
    -------
    float
        Equivalent time. [s]

    Raises
    ------
    OutOfRange
        If there are fewer than two readings, the two lists differ in length, time runs backwards, or a value
        lies outside the range of `rate_factor`.

    Notes
    -----
    :math:`t_{eq} = \int \exp[\frac{E}{R}(\frac{1}{T_{ref}} - \frac{1}{T})]\,dt`, each stretch by a 12-point
    Gauss rule.

    Examples
    --------
    At the reference temperature, time counts as itself:

    >>> round(equivalent_time((0.0, 600.0), (426.15, 426.15), 426.15, 1e5), 9)
    600.0
    """
    if len(times) < 2 or len(times) != len(temperatures):
        raise OutOfRange(
            f"{len(times)} times and {len(temperatures)} temperatures make no history.",
            next_step="Give at least two readings, each with its time.",
        )
    for kelvin in temperatures:
        within("a recorded temperature", kelvin, COLDEST, HOTTEST, "K")
    when, kelvins = np.array(times, dtype=float), np.array(temperatures, dtype=float)
    gaps = np.diff(when)
    if np.any(gaps < 0.0):
        raise OutOfRange("the recorded times run backwards.", next_step="Put the readings in order of time.")
    steps = np.diff(kelvins)[:, None] * (0.5 + 0.5 * _GAUSS_NODES) + kelvins[:-1, None]
    rates = Kinetics(activation, reference).rates(steps)
    return float(0.5 * gaps @ (rates @ _GAUSS_WEIGHTS))


def state_of_cure(dose: float, scorch_time: float, nine_tenths_time: float) -> float:
    r"""Share of all crosslinks that have formed.

    Parameters
    ----------
    dose
        Time spent, counted at the temperature for which the two other times hold. [s]
    scorch_time
        Time before crosslinks begin to form. [s]
    nine_tenths_time
        Time until nine tenths have formed. [s]

    Returns
    -------
    float
        0 for raw, 1 for fully cured. [-]

    Raises
    ------
    OutOfRange
        If a time is negative or cure does not begin before it is nine tenths done.

    Notes
    -----
    First order after an idle time: :math:`X = 1 - \exp[-k (t - t_s)]` with
    :math:`k = \ln 10 / (t_{90} - t_s)`. Over-cure, which takes crosslinks away again, is left out.

    References
    ----------
    ISO 6502-1 for what the two times mean (from memory).

    Examples
    --------
    >>> round(state_of_cure(480.0, 180.0, 480.0), 9)
    0.9
    """
    within("the dose", dose, 0.0, 1e9, "s")
    within("the scorch time", scorch_time, 0.0, 1e7, "s")
    if nine_tenths_time <= scorch_time:
        raise OutOfRange(
            "nine tenths cured at {nine tenths:s} is not after the start of cure, {start:s}.",
            {"nine tenths": nine_tenths_time, "start": scorch_time},
            next_step="Check the two times of the cure curve.",
        )
    if dose <= scorch_time:
        return 0.0
    return 1.0 - exp(-log(10.0) * (dose - scorch_time) / (nine_tenths_time - scorch_time))
