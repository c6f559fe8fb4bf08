"""Alloy arithmetic by mass: density of a mixture, fineness and karat, what to add to change a fineness."""

from __future__ import annotations

from collections.abc import Sequence
from math import fsum, isfinite

from diagnose.errors import OutOfRange

SHARES_MUST_SUM_WITHIN = 1e-3
"""How far the shares of an alloy may be from one in sum: a tenth of a percent, as shares are written down."""

KARATS = 24.0


def mixture_density(shares: Sequence[float], densities: Sequence[float]) -> float:
    r"""Density of an alloy whose parts keep their own volumes.

    Parameters
    ----------
    shares
        Mass share of each part; they sum to one. [-]
    densities
        Density of each part alone, in the same order. [kg/m^3]

    Returns
    -------
    float
        Density of the alloy. [kg/m^3]

    Raises
    ------
    OutOfRange
        If there is nothing to mix, the lists differ in length, a share is below zero, the shares do not sum
        to one within a tenth of a percent, or a density is not above zero.

    Notes
    -----
    The volumes add, so the reciprocals are averaged by mass:

    .. math:: 1/\rho = \sum_i w_i / \rho_i

    Averaging the densities themselves by mass reads too high. Excess volume is left out: it is small between
    gold, silver and copper (under 0.5 %), but with zinc or silicon in copper the mixture reads 2 to 6 % low.

    References
    ----------
    brillo-2006, abstract (negligible excess volume in liquid silver-copper and silver-gold).

    Examples
    --------
    Three parts of weight one: half the mass at density 2 and half at density 1 fill 0.25 + 0.5:

    >>> round(mixture_density([0.5, 0.5], [2.0, 1.0]), 6)
    1.333333
    """
    if not shares or len(shares) != len(densities):
        raise OutOfRange(
            f"{len(shares)} shares and {len(densities)} densities do not make an alloy.",
            next_step="Give one density for each share.",
        )
    for share, density in zip(shares, densities, strict=True):
        if not 0.0 <= share <= 1.0:
            raise OutOfRange(f"a share of {share:g} is not between 0 and 1.", next_step="Check the composition.")
        if not (density > 0.0 and isfinite(density)):
            raise OutOfRange(
                "a density of {alloy density:kg/m3} is not above zero.",
                {"alloy density": density},
                next_step="Check the density and its unit.",
            )
    total = fsum(shares)
    if abs(total - 1.0) > SHARES_MUST_SUM_WITHIN:
        raise OutOfRange(
            f"the shares sum to {total:.2%}, not to 100 %.",
            next_step="Add the missing metal or correct a share.",
        )
    return total / fsum(w / rho for w, rho in zip(shares, densities, strict=True))


def fineness_from_karat(karat: float) -> float:
    """Mass share of gold that a karat number stands for.

    Parameters
    ----------
    karat
        Parts of gold in 24 parts of alloy. [-]

    Returns
    -------
    float
        Fineness as a share of one. [-]

    Raises
    ------
    OutOfRange
        If the karat is not above zero and at most 24.

    Notes
    -----
    Exact arithmetic, karat / 24. A stamped fineness may be a rounded legal grade instead (585 for 14 karat,
    which is 583.3 exactly; 916 for 22 karat, which is 916.7).

    Examples
    --------
    >>> fineness_from_karat(18.0)
    0.75
    """
    if not 0.0 < karat <= KARATS:
        raise OutOfRange(
            f"{karat:g} karat is not above 0 and at most 24.", next_step="Write the karat as a number up to 24."
        )
    return karat / KARATS


def karat_from_fineness(fineness: float) -> float:
    """Karat number of a gold alloy.

    Parameters
    ----------
    fineness
        Mass share of gold. [-]

    Returns
    -------
    float
        Parts of gold in 24 parts of alloy. [-]

    Raises
    ------
    OutOfRange
        If the fineness is not above zero and at most one.

    Examples
    --------
    >>> karat_from_fineness(0.75)
    18.0
    """
    _check_fineness("the fineness", fineness, lowest_allowed=False)
    return fineness * KARATS


def addition_for_fineness(mass: float, fineness: float, wanted: float, addition: float) -> float:
    r"""Mass to melt in with a stock so that the whole has the wanted fineness.

    Raising is done with something finer than wanted (up to the pure metal), lowering with something less fine
    (down to an alloy metal with none of it).

    Parameters
    ----------
    mass
        Mass of the stock. [kg]
    fineness
        Share of the named metal in the stock. [-]
    wanted
        Share of the named metal wanted in the whole. [-]
    addition
        Share of the named metal in what is added. [-]

    Returns
    -------
    float
        Mass to add. [kg]

    Raises
    ------
    OutOfRange
        If the mass is not above zero, a fineness is not between 0 and 1, or the addition can never reach the
        wanted fineness because it is not on its far side.

    Notes
    -----
    Balance of the named metal, with nothing lost:

    .. math:: m F_1 + x F_a = (m + x) F_2 \quad\Rightarrow\quad x = m\,\frac{F_2 - F_1}{F_a - F_2}

    Losses in melting are left out.

    Examples
    --------
    Equal masses of 0.5 and of 1.0 make 0.75:

    >>> addition_for_fineness(0.1, 0.5, 0.75, 1.0)
    0.1
    """
    if not (mass > 0.0 and isfinite(mass)):
        raise OutOfRange(
            "a stock of {stock weight:kg} is not above zero.", {"stock weight": mass}, next_step="Weigh the stock."
        )
    _check_fineness("the fineness of the stock", fineness)
    _check_fineness("the fineness wanted", wanted, lowest_allowed=False)
    _check_fineness("the fineness of the addition", addition)
    if wanted == fineness:
        return 0.0
    if (addition - wanted) * (wanted - fineness) <= 0.0:
        side = "finer" if wanted > fineness else "less fine"
        raise OutOfRange(
            f"adding {addition:.1%} metal to {fineness:.1%} stock never makes {wanted:.1%}.",
            next_step=f"Add something {side} than the {wanted:.1%} you want.",
        )
    return mass * (wanted - fineness) / (addition - wanted)


def fineness_after_loss(fineness: float, loss: float) -> float:
    r"""Fineness after some of the other metals burned or boiled off.

    Parameters
    ----------
    fineness
        Share of the named metal before. [-]
    loss
        Share of the whole mass that was lost, none of it the named metal. [-]

    Returns
    -------
    float
        Share of the named metal after. [-]

    Raises
    ------
    OutOfRange
        If the fineness is not above 0 and at most 1, or more is lost than there was of the other metals.

    Notes
    -----
    The named metal stays and the whole gets lighter: :math:`F' = F / (1 - l)`.

    Examples
    --------
    A tenth lost from 90 % leaves the pure metal:

    >>> round(fineness_after_loss(0.9, 0.1), 12)
    1.0
    """
    _check_fineness("the fineness", fineness, lowest_allowed=False)
    if not 0.0 <= loss <= 1.0 - fineness + 1e-12:
        raise OutOfRange(
            f"a loss of {loss:.1%} is not possible: only {1.0 - fineness:.1%} is other metal.",
            next_step="Weigh the charge before and after once more.",
        )
    return min(1.0, fineness / (1.0 - loss))


def _check_fineness(name: str, value: float, *, lowest_allowed: bool = True) -> None:
    """Refuse a share that no alloy can have."""
    if not 0.0 <= value <= 1.0 or (value == 0.0 and not lowest_allowed):
        raise OutOfRange(
            f"{name}, {value:g}, is not a share between 0 and 1.", next_step="Write 585 as 58.5 % or 0.585."
        )
