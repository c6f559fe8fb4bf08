"""Melting range of a mix of two metals with a eutectic, from the energies of their solutions."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import ceil, exp, log

from diagnose.calc.allowed_range import within
from diagnose.calc.phase_diagram import scheil_along
from diagnose.errors import OutOfRange

GAS_CONSTANT = 8.314462618  # J/mol/K, CODATA 2018
LONGEST_STEP = 25.0  # K from one tie line to the next, so that each is a good first guess
NEAR_MELTING = 0.01  # K under the melting point, where the dilute limit is a good first guess
LARGEST = 2e5  # J/mol; no two metals mix or melt with more
PATH = 100  # tie lines along which as-cast freezing is summed


@dataclass(frozen=True)
class PureMetal:
    """A metal alone: melting point [K], molar mass [kg/mol], energy of its liquid over its solid [J/mol].

    The energy is given at the lower of the two temperatures of the system; it is zero at the melting point.
    """

    melts: float
    molar_mass: float
    gap: float


@dataclass(frozen=True)
class Mixing:
    """Mixing energies [J/mol] of one phase, even and skew term, at the two temperatures of the system.

    A skew above zero makes mixing dearer on the side of the second metal.
    """

    even_low: float
    even_high: float
    skew_low: float
    skew_high: float

    def swapped(self) -> Mixing:
        """Return the same phase with the other metal named first."""
        return Mixing(self.even_low, self.even_high, -self.skew_low, -self.skew_high)

    def excess(self, x: float, position: float) -> tuple[float, float]:
        """Return what mixing adds to the energy of a mole of the first and of the second metal [J/mol].

        `x` is the mole fraction of the second metal, `position` runs from 0 at the low to 1 at the high
        temperature.
        """
        even = self.even_low + (self.even_high - self.even_low) * position
        skew = self.skew_low + (self.skew_high - self.skew_low) * position
        return x * x * (even + skew * (4.0 * x - 3.0)), (1.0 - x) ** 2 * (even + skew * (4.0 * x - 1.0))


@dataclass(frozen=True)
class TwoMetals:
    """Two metals, their liquid and the one crystal type they share; energies hold at `low` and `high` [K]."""

    first: PureMetal
    second: PureMetal
    liquid: Mixing
    solid: Mixing
    low: float
    high: float

    def __post_init__(self) -> None:
        coldest = min(self.first.melts, self.second.melts)
        if not 0.0 < self.low < coldest or not self.low < self.high:
            raise OutOfRange(
                "the energies are given at {low:K} and {high:K}.",
                {"low": self.low, "high": self.high, "coldest": coldest},
                next_step="The first must lie below the second and below melting, {coldest:K}.",
            )
        for mixing in (self.liquid, self.solid):
            for energy in vars(mixing).values():
                within("a mixing energy", energy, -LARGEST, LARGEST, "J/mol")
        for metal in (self.first, self.second):
            within("a melting point", metal.melts, 100.0, 5000.0, "K")
            within("the energy of a liquid over its solid", metal.gap, -LARGEST, LARGEST, "J/mol")
            if not (metal.gap > 0.0 and metal.molar_mass > 0.0):
                raise OutOfRange(
                    "energy over the solid and molar mass of a pure metal must be above zero.",
                    next_step="Check the values of both metals.",
                )

    def swapped(self) -> TwoMetals:
        """Return the same system seen from the second metal."""
        return TwoMetals(self.second, self.first, self.liquid.swapped(), self.solid.swapped(), self.low, self.high)

    def mass_share(self, x: float) -> float:
        """Return the mass share of the second metal whose mole fraction is `x`."""
        second = x * self.second.molar_mass
        return second / (second + (1.0 - x) * self.first.molar_mass)

    def gap(self, metal: PureMetal, temperature: float) -> float:
        """Return the energy of a pure liquid over its solid, on the line from `low` to melting."""
        return metal.gap * (metal.melts - temperature) / (metal.melts - self.low)


@dataclass(frozen=True)
class TieLine:
    """A liquid and a solid in balance: mole fractions of the second metal at a temperature [K]."""

    temperature: float
    liquid: float
    solid: float


@dataclass(frozen=True)
class Eutectic:
    """Where the liquid meets both solids: temperature [K] and mass shares of the second metal."""

    temperature: float
    liquid: float
    first_solid: float
    second_solid: float


@dataclass(frozen=True)
class MeltingRange:
    """Temperatures [K] at which a mix is fully melted, fully solid in balance, and fully solid as cast.

    `frozen_last` is the mass share that, as cast, is still liquid when the eutectic is reached.
    """

    liquidus: float
    solidus: float
    end_of_freezing: float
    frozen_last: float


def tie_line(metals: TwoMetals, temperature: float) -> TieLine:
    r"""Liquid and first-metal-rich solid in balance at a temperature.

    Parameters
    ----------
    metals
        The two metals.
    temperature
        Temperature, under the melting point of the first metal. [K]

    Returns
    -------
    TieLine
        Mole fractions of the second metal in both.

    Raises
    ------
    OutOfRange
        If the temperature is not under the melting point, the second metal does not lower it, or no
        balance is found (far below the eutectic).

    Notes
    -----
    Both metals have the same chemical potential in liquid and solid. With the excess energy in Redlich-Kister
    form, the first metal named first and x the mole fraction of the second,

    .. math:: G^{ex} = x (1 - x) [L_0 + L_1 (2 x - 1)],

    the two equations are solved by Newton's method in the logarithms of the fractions, step by step down
    from the melting point, where the dilute limit is the first guess. All energies vary linearly with temperature.
    Oxygen, pressure and lack of balance are left out.

    References
    ----------
    from memory of hayes-1986.

    Examples
    --------
    See ``melting_range``.
    """
    return _Walk(metals).line(temperature)


class _Walk:
    """The tie lines of one system found so far: each new one starts from the nearest."""

    def __init__(self, metals: TwoMetals) -> None:
        self.metals, self.top = metals, metals.first.melts - NEAR_MELTING
        self.found = [_dilute(metals, self.top)]

    def line(self, temperature: float) -> TieLine:
        """Return the tie line at a temperature."""
        if not 0.0 < temperature <= self.top:
            raise OutOfRange(
                "{asked:K} is not under the melting point, {top:K}.",
                {"asked": temperature, "top": self.top},
                next_step="Ask for a colder temperature.",
            )
        here = min(self.found, key=lambda line: abs(line.temperature - temperature))
        steps = max(1, ceil(abs(temperature - here.temperature) / LONGEST_STEP))
        start = here.temperature
        for step in range(1, steps + 1):
            here = _solve(self.metals, start + (temperature - start) * step / steps, here)
            self.found.append(here)
        return here


def _dilute(metals: TwoMetals, temperature: float) -> TieLine:
    """Return the tie line just under the melting point, where each fraction is small."""
    thermal = GAS_CONSTANT * temperature
    position = (temperature - metals.low) / (metals.high - metals.low)
    cost = metals.liquid.excess(0.0, position)[1] - metals.solid.excess(0.0, position)[1]
    partition = exp((metals.gap(metals.second, temperature) + cost) / thermal)
    if partition >= 1.0:
        raise OutOfRange(
            "the second metal does not lower the melting point of the first.",
            next_step="Take the other metal as the first, or check the mixing energies.",
        )
    liquid = metals.gap(metals.first, temperature) / thermal / (1.0 - partition)
    return TieLine(temperature, liquid, partition * liquid)


def _imbalance(metals: TwoMetals, temperature: float, log_liquid: float, log_solid: float) -> tuple[float, float]:
    """Return how far each metal is from equal potential in liquid and solid, in units of RT."""
    thermal = GAS_CONSTANT * temperature
    position = (temperature - metals.low) / (metals.high - metals.low)
    in_liquid, in_solid = exp(log_liquid), exp(log_solid)
    of_liquid = metals.liquid.excess(in_liquid, position)
    of_solid = metals.solid.excess(in_solid, position)
    first = (metals.gap(metals.first, temperature) + of_liquid[0] - of_solid[0]) / thermal
    second = (metals.gap(metals.second, temperature) + of_liquid[1] - of_solid[1]) / thermal
    return first + log((1.0 - in_liquid) / (1.0 - in_solid)), second + log_liquid - log_solid


def _solve(metals: TwoMetals, temperature: float, start: TieLine) -> TieLine:
    """Return the tie line at a temperature by Newton's method from one nearby."""
    liquid, solid, nudge = min(log(start.liquid), -1e-9), min(log(start.solid), -1e-9), 1e-6
    for _ in range(60):
        here = _imbalance(metals, temperature, liquid, solid)
        along_liquid = _imbalance(metals, temperature, liquid + nudge, solid)
        along_solid = _imbalance(metals, temperature, liquid, solid + nudge)
        a, c = ((along_liquid[i] - here[i]) / nudge for i in (0, 1))
        b, d = ((along_solid[i] - here[i]) / nudge for i in (0, 1))
        determinant = a * d - b * c
        if determinant == 0.0:
            break
        moves = (here[0] * d - here[1] * b) / determinant, (a * here[1] - c * here[0]) / determinant
        largest = max(abs(moves[0]), abs(moves[1]))
        damping = min(1.0, 0.2 / largest) if largest > 0.0 else 1.0
        liquid = min(liquid - damping * moves[0], -1e-9)
        solid = min(solid - damping * moves[1], -1e-9)
        if largest < 1e-11:
            return TieLine(temperature, exp(liquid), exp(solid))
    raise OutOfRange(
        "no balance of liquid and solid was found at {asked:K}.",
        {"asked": temperature},
        next_step="Check the mixing energies of the two metals.",
    )


def eutectic(metals: TwoMetals) -> Eutectic:
    """Find where the liquid is in balance with both solids at once.

    Parameters
    ----------
    metals
        The two metals.

    Returns
    -------
    Eutectic
        Temperature [K] and the mass shares of the second metal in liquid and both solids. [-]

    Raises
    ------
    OutOfRange
        If the two liquidus lines do not cross between the lower melting point and 60 % of it.

    Notes
    -----
    The liquidus of each metal is followed down until the two meet; the crossing is halved to 10 microkelvin.

    Examples
    --------
    See ``melting_range``.
    """
    first, second = _Walk(metals), _Walk(metals.swapped())

    def overlap(temperature: float) -> float:
        return first.line(temperature).liquid + second.line(temperature).liquid - 1.0

    top = min(metals.first.melts, metals.second.melts) - NEAR_MELTING
    hot, cold = top, top
    while overlap(cold) < 0.0:
        hot, cold = cold, cold - 0.02 * top
        if cold < 0.6 * top:
            raise OutOfRange(
                "the two liquidus lines do not meet: these metals have no eutectic.",
                next_step="Check the mixing energies; metals that mix in all shares have none.",
            )
    temperature = _halve(overlap, hot, cold)
    one, two = first.line(temperature), second.line(temperature)
    return Eutectic(
        temperature,
        metals.mass_share(one.liquid),
        metals.mass_share(one.solid),
        metals.mass_share(1.0 - two.solid),
    )


def melting_range(metals: TwoMetals, content: float) -> MeltingRange:
    """Where a mix melts and freezes, in balance and as really cast.

    Parameters
    ----------
    metals
        The two metals.
    content
        Mass share of the second metal, from just above zero to that of the eutectic. [-]

    Returns
    -------
    MeltingRange
        Fully melted, fully solid in balance, fully solid as cast [K], and the share that freezes last. [-]

    Raises
    ------
    OutOfRange
        If the content is under 0.01 % or above that of the eutectic.

    Notes
    -----
    As cast the crystals have no time to even out, so some liquid always lives down to the eutectic, however
    little of the second metal there is (Scheil). In balance a mix poorer than the limit of the solid is fully
    solid on the solidus; a richer one at the eutectic.

    References
    ----------
    from memory of hayes-1986; from memory of flemings-1974.

    Examples
    --------
    Two like metals that melt at 1000 K, with 10 kJ/mol of melting heat, mix freely when liquid and hardly
    at all when solid: the eutectic is half and half, where ln 2 = 10000/R (1/T - 1/1000), T = 634.4 K:

    >>> pure = PureMetal(melts=1000.0, molar_mass=0.1, gap=10000.0 * (1 - 634.4 / 1000))
    >>> apart = Mixing(60000.0, 60000.0, 0.0, 0.0)
    >>> free = Mixing(0.0, 0.0, 0.0, 0.0)
    >>> like = TwoMetals(pure, pure, liquid=free, solid=apart, low=634.4, high=1000.0)
    >>> round(eutectic(like).temperature, 1), round(eutectic(like).liquid, 6)
    (634.4, 0.5)
    """
    bottom = eutectic(metals)
    if not 1e-4 <= content <= bottom.liquid:
        raise OutOfRange(
            f"a content of {content:.2%} is not from 0.01 % to that of the eutectic, {bottom.liquid:.2%}.",
            next_step="Richer mixes freeze from the other metal; this calculator does not cover them.",
        )
    walk = _Walk(metals)

    def too_rich_liquid(temperature: float) -> float:
        return metals.mass_share(walk.line(temperature).liquid) - content

    def too_rich_solid(temperature: float) -> float:
        return metals.mass_share(walk.line(temperature).solid) - content

    liquidus = _halve(too_rich_liquid, walk.top, bottom.temperature)
    solidus = bottom.temperature
    if content < bottom.first_solid:
        solidus = _halve(too_rich_solid, walk.top, bottom.temperature)
    return MeltingRange(liquidus, solidus, bottom.temperature, _left_at(walk, liquidus, bottom.temperature))


def _left_at(walk: _Walk, liquidus: float, bottom: float) -> float:
    """Return the share still liquid at the eutectic after freezing from the liquidus without evening out."""
    if liquidus - bottom < 1e-3:
        return 1.0
    temperatures = [liquidus + (bottom - liquidus) * step / PATH for step in range(PATH + 1)]
    lines, share = [walk.line(temperature) for temperature in temperatures], walk.metals.mass_share
    return scheil_along([share(line.liquid) for line in lines], [share(line.solid) for line in lines])


def _halve(rising: Callable[[float], float], hot: float, cold: float) -> float:
    """Return where a quantity that rises on cooling passes zero between two temperatures."""
    while hot - cold > 1e-5:
        middle = 0.5 * (hot + cold)
        if rising(middle) < 0.0:
            hot = middle
        else:
            cold = middle
    return 0.5 * (hot + cold)
