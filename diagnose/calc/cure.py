"""How much cure each depth of a pressed block gets, while it heats between plates and while it cools."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, inf, sqrt

import numpy as np
from numpy.typing import NDArray

from diagnose.calc.allowed_range import above_zero, within
from diagnose.calc.kinetics import Kinetics
from diagnose.calc.quadrature import integrals_from_zero
from diagnose.calc.slab import Faces, Phase, Profile, Slab

Floats = NDArray[np.float64]

BOTTOM, LOWER, MIDDLE, UPPER, TOP = -1.0, -0.5, 0.0, 0.5, 1.0
COLDEST, HOTTEST = 230.0, 620.0  # [K], far outside what a rubber press or a cooling rack reaches
LONGEST = 100.0 * 3600.0  # [s]


@dataclass(frozen=True)
class Press:
    """Two hot plates: true temperatures [K], contact with the block [W/m^2/K], and how they recover.

    With `recovery` [s] above zero, both plates begin `sag` [K] below their temperature when the block goes in
    and rise to it steadily.
    """

    bottom: float
    top: float
    contact: float = inf
    recovery: float = 0.0
    sag: float = 0.0

    def __post_init__(self) -> None:
        within("the bottom platen's temperature", self.bottom, COLDEST, HOTTEST, "K")
        within("the top platen's temperature", self.top, COLDEST, HOTTEST, "K")
        within("the platens' recovery time", self.recovery, 0.0, LONGEST, "s")
        within("the platens' sag", self.sag, 0.0, 300.0, "K change")

    @property
    def mean(self) -> float:
        """Return the mean of both plates [K]."""
        return 0.5 * (self.bottom + self.top)

    def moved_to(self, mean: float) -> Press:
        """Return this press with both plates shifted alike so that their mean is `mean` [K]."""
        shift = mean - self.mean
        return Press(self.bottom + shift, self.top + shift, self.contact, self.recovery, self.sag)


@dataclass(frozen=True)
class Cooling:
    """What takes the heat away afterwards: surroundings [K] and heat transfer at both faces [W/m^2/K]."""

    surroundings: float
    heat_transfer: float


@dataclass(frozen=True)
class Stretch:
    """One phase of a history: when it starts [s] and how long it lasts [s]."""

    phase: Phase
    start: float
    duration: float


class History:
    """Temperature and cure of a block over time: platens coming up, holding, and cooling if that is known.

    Parameters
    ----------
    slab
        The block. [m, m^2/s, W/m/K]
    start
        Its uniform temperature when it goes in. [K]
    press
        The plates.
    duration
        How long it stays between them. [s]
    cooling
        What cools it afterwards; none counts nothing after the press.
    cooling_time
        How long the cooling is followed; until it is cold when not given. [s]

    Raises
    ------
    OutOfRange
        If a temperature or time is outside what a press can be.

    Notes
    -----
    Conduction straight through (the sides neither take nor give heat: see `box` for those), one diffusivity
    for all temperatures, no heat of reaction. Each phase is solved exactly (see `Phase`), so only the
    integral of the reaction rate is numerical, to a relative accuracy of better than 2e-5.

    Examples
    --------
    The whole block ends at the temperature of the plates:

    >>> block = History(Slab(0.01, 1e-7), 293.15, Press(423.15, 423.15), 7200.0)
    >>> [round(float(t), 2) for t in block.temperatures(np.array([7200.0]), np.array([MIDDLE, TOP]))[0]]
    [423.15, 423.15]
    """

    def __init__(
        self,
        slab: Slab,
        start: float,
        press: Press,
        duration: float,
        cooling: Cooling | None = None,
        cooling_time: float | None = None,
    ) -> None:
        within("the rubber's starting temperature", start, COLDEST, HOTTEST, "K")
        above_zero("the time in the press", duration, "s")
        within("the time in the press", duration, 0.0, LONGEST, "s")
        within("the thickness", slab.thickness, 2e-4, 0.3, "m")
        self.slab, self.press, self.duration = slab, press, duration
        terms = _terms(slab, duration)
        self.stretches = _heating(slab, start, press, duration, terms)
        if cooling is not None:
            last = self.stretches[-1]
            faces = Faces(cooling.surroundings, cooling.surroundings, cooling.heat_transfer)
            phase = Phase(slab, faces, last.phase.profile(last.duration), max(terms, 64))
            length = 8.0 * phase.slowest if cooling_time is None else cooling_time
            self.stretches.append(Stretch(phase, duration, length))

    def temperatures(self, times: Floats, places: Floats) -> Floats:
        """Return temperatures [K]: a row for each time [s] since the start, a column for each place."""
        kelvin = np.empty((len(times), len(places)))
        for stretch in self.stretches:
            here = times >= stretch.start
            kelvin[here] = stretch.phase.temperatures(times[here] - stretch.start, places)
        return kelvin

    def doses(self, kinetics: Kinetics, places: Floats) -> tuple[Floats, Floats]:
        """Return equivalent times [s] got in the press and got while cooling, one for each place."""
        hot, cold = np.zeros(len(places)), np.zeros(len(places))
        for stretch in self.stretches:
            part = _dose(stretch.phase, stretch.duration, kinetics, places)
            if stretch.start < self.duration:
                hot += part
            else:
                cold += part
        return hot, cold

    def doses_until(self, kinetics: Kinetics, times: Floats, places: Floats) -> Floats:
        """Return equivalent times [s] got until each of ascending times [s], one row for each."""
        edges = np.concatenate([[0.0], times])
        nodes, weights = np.polynomial.legendre.leggauss(4)
        gaps = np.diff(edges)
        moments = edges[:-1, None] + gaps[:, None] * (0.5 + 0.5 * nodes)
        rates = kinetics.rates(self.temperatures(moments.ravel(), places)).reshape(*moments.shape, -1)
        return np.asarray(np.cumsum(0.5 * gaps[:, None] * np.einsum("tnp,n->tp", rates, weights), axis=0))


def _terms(slab: Slab, duration: float) -> int:
    # enough shapes that the series has settled after a 250th of the time in the press
    return min(200, max(20, ceil(30.0 / sqrt(duration / slab.lag))))


def _heating(slab: Slab, start: float, press: Press, duration: float, terms: int) -> list[Stretch]:
    begin, clock = Profile(start), 0.0
    stretches: list[Stretch] = []
    if press.recovery > 0.0 and press.sag > 0.0:
        rise = press.sag / press.recovery
        low = Faces(press.bottom - press.sag, press.top - press.sag, press.contact, rise, rise)
        clock = min(press.recovery, duration)
        ramp = Phase(slab, low, begin, terms)
        stretches.append(Stretch(ramp, 0.0, clock))
        begin = ramp.profile(clock)
    if duration > clock:
        hold = Phase(slab, Faces(press.bottom, press.top, press.contact), begin, terms)
        stretches.append(Stretch(hold, clock, duration - clock))
    return stretches


def _dose(phase: Phase, duration: float, kinetics: Kinetics, places: Floats) -> Floats:
    shapes = phase.shapes(places)

    def rates(times: Floats) -> Floats:
        return kinetics.rates(phase.temperatures_from(shapes, times, places))

    return integrals_from_zero(rates, duration)


def heat_lag(slab: Slab, start: float, press: Press, kinetics: Kinetics, place: float = MIDDLE) -> float:
    r"""Time that a place loses, counted as cure, because the heat comes to it late.

    Parameters
    ----------
    slab
        The block. [m, m^2/s, W/m/K]
    start
        Its uniform temperature when it goes in. [K]
    press
        The plates; their recovery counts as lost time too.
    kinetics
        The reaction. [J/mol, K]
    place
        -1 bottom face, 0 middle, 1 top face. [-]

    Returns
    -------
    float
        Time in the press less the equivalent time at the place's final temperature, after a long time. [s]

    Raises
    ------
    OutOfRange
        As `History`.

    Notes
    -----
    :math:`\int_0^\infty [1 - r(T)/r(T_{end})]\,dt`. For equal plates and good contact it is a constant times
    :math:`L^2/a`. Adding it to the missing time errs on the safe side, since a block taken out early has
    not had the whole loss yet.

    Examples
    --------
    Twice the thickness loses four times as long:

    >>> reaction, plates = Kinetics(1e5, 426.15), Press(426.15, 426.15)
    >>> thin, thick = (heat_lag(Slab(d, 0.9e-7), 296.15, plates, reaction) for d in (0.01, 0.02))
    >>> round(thick / thin, 6)
    4.0
    """
    long = press.recovery + 20.0 * _slowest(slab, press)
    history = History(slab, start, press, long)
    places = np.array([place])
    end = float(history.temperatures(np.array([long]), places)[0, 0])
    return long - float(history.doses(kinetics, places)[0][0]) / kinetics.rate(end)


def _slowest(slab: Slab, press: Press) -> float:
    return Phase(slab, Faces(press.bottom, press.top, press.contact), Profile(press.mean), 1).slowest
