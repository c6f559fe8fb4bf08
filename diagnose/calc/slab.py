"""A slab's temperatures through several phases: heated between two plates that may differ, then cooled."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import inf, isinf

import numpy as np
from numpy.typing import NDArray

from diagnose.calc.allowed_range import above_zero, within
from diagnose.calc.slab_shapes import even_shapes, odd_roots

Floats = NDArray[np.float64]

_NONE: Floats = np.zeros(0)


@dataclass(frozen=True)
class Slab:
    """A flat block: thickness [m], diffusivity [m^2/s], conductivity [W/m/K] (where a face resists)."""

    thickness: float
    diffusivity: float
    conductivity: float = inf

    def __post_init__(self) -> None:
        above_zero("the thickness", self.thickness, "m")
        above_zero("diffusivity", self.diffusivity, "m2/s")

    @property
    def lag(self) -> float:
        """Return the time scale of heat crossing half the slab: its square over diffusivity [s]."""
        return (0.5 * self.thickness) ** 2 / self.diffusivity

    def biot(self, heat_transfer: float) -> float:
        """Return the Biot number of a face with a heat transfer coefficient [W/m^2/K]."""
        if isinf(heat_transfer):
            return inf
        above_zero("the heat transfer at the face", heat_transfer, "W/m2/K")
        above_zero("conductivity", self.conductivity, "W/m/K")
        return heat_transfer * 0.5 * self.thickness / self.conductivity


@dataclass(frozen=True)
class Faces:
    """What both faces meet: bottom and top temperature [K], their rates [K/s], heat transfer [W/m^2/K]."""

    bottom: float
    top: float
    heat_transfer: float = inf
    bottom_rate: float = 0.0
    top_rate: float = 0.0


@dataclass(frozen=True)
class Profile:
    """Temperature across the slab at one moment: a straight line plus even and odd shapes."""

    mean: float
    tilt: float = 0.0
    even: Floats = field(default_factory=lambda: _NONE)
    even_roots: Floats = field(default_factory=lambda: _NONE)
    odd: Floats = field(default_factory=lambda: _NONE)
    odd_roots: Floats = field(default_factory=lambda: _NONE)

    def at(self, places: Floats) -> Floats:
        """Return the temperature [K] at places from -1 (bottom face) to 1 (top face)."""
        line = self.mean + self.tilt * places
        return np.asarray(
            line
            + np.cos(np.outer(places, self.even_roots)) @ self.even
            + np.sin(np.outer(places, self.odd_roots)) @ self.odd
        )


class Phase:
    r"""One stretch of time in which both faces meet surroundings that stand still or change steadily.

    Parameters
    ----------
    slab
        The slab.
    faces
        What its faces meet, from time zero of this phase.
    begin
        Temperature across the slab at time zero of this phase. [K]
    terms
        Number of even and of odd shapes. [-]

    Raises
    ------
    OutOfRange
        If a temperature is not between 100 and 3000 K.

    Notes
    -----
    The temperature is the straight line that the faces ask for at that moment, plus shapes that die out:

    .. math:: T = m(t) + \delta(t) \frac{Bi}{1 + Bi} \frac{x}{L}
              + \sum A_n(t) \cos(\zeta_n x/L) + \sum B_n(t) \sin(\eta_n x/L)

    With faces that change steadily, :math:`A_n' = -\zeta_n^2 (a/L^2) A_n - m' C_n`, which has an exact
    solution; so a phase needs no steps in time. The profile handed over by an earlier phase is projected on
    the shapes of this one. Properties do not depend on temperature, both faces have the same heat transfer,
    and the heat that curing sets free (a few kelvin) is left out.

    References
    ----------
    H. S. Carslaw, J. C. Jaeger, Conduction of Heat in Solids, 2nd ed., 1959, ch. 3 (from memory).

    Examples
    --------
    Plates at 100 and 200 degrees end in a straight line between the two:

    >>> slab = Slab(0.02, 1e-7)
    >>> phase = Phase(slab, Faces(373.15, 473.15), Profile(293.15))
    >>> [round(float(t), 2) for t in phase.temperatures(np.array([36000.0]), np.array([-1.0, 0.0, 0.5]))[0]]
    [373.15, 423.15, 448.15]
    """

    def __init__(self, slab: Slab, faces: Faces, begin: Profile, terms: int = 48) -> None:
        for name, kelvin in (("the bottom face", faces.bottom), ("the top face", faces.top)):
            within(f"the temperature at {name}", kelvin, 100.0, 3000.0, "K")
        within("the starting temperature", begin.mean, 100.0, 3000.0, "K")
        self.slab, self.faces = slab, faces
        self.biot = slab.biot(faces.heat_transfer)
        self._share = 1.0 if isinf(self.biot) else self.biot / (1.0 + self.biot)
        self._mean = 0.5 * (faces.top + faces.bottom)
        self._mean_rate = 0.5 * (faces.top_rate + faces.bottom_rate)
        self._tilt = 0.5 * (faces.top - faces.bottom) * self._share
        self._tilt_rate = 0.5 * (faces.top_rate - faces.bottom_rate) * self._share
        self._moving = bool(self._mean_rate or self._tilt_rate)
        self._set_even(begin, terms)
        self._set_odd(begin, terms)
        self._fade = np.concatenate([self._even_fade, self._odd_fade])
        self._size = np.concatenate([self._even, self._odd])
        self._drift = np.concatenate([self._even_drift, self._odd_drift])

    def _set_even(self, begin: Profile, terms: int) -> None:
        self._zeta, weights = even_shapes(self.biot, terms)
        start = (begin.mean - self._mean) * weights
        if begin.even.size:
            start = start + _even_overlap(self._zeta, begin.even_roots) @ begin.even
        self._even_fade = self._zeta**2 / -self.slab.lag
        self._even_drift = self._mean_rate * weights / self._even_fade
        self._even = start - self._even_drift

    def _set_odd(self, begin: Profile, terms: int) -> None:
        if not (begin.odd.size or begin.tilt or self._tilt or self._tilt_rate):
            self._eta = self._odd = self._odd_fade = self._odd_drift = _NONE
            return
        self._eta = odd_roots(self.biot, terms)
        sine, cosine = np.sin(self._eta), np.cos(self._eta)
        norm = 1.0 - sine * cosine / self._eta
        weights = 2.0 * (sine / self._eta - cosine) / self._eta / norm
        start = (begin.tilt - self._tilt) * weights
        if begin.odd.size:
            start = start + _odd_overlap(self._eta, begin.odd_roots) @ begin.odd
        self._odd_fade = self._eta**2 / -self.slab.lag
        self._odd_drift = self._tilt_rate * weights / self._odd_fade
        self._odd = start - self._odd_drift

    def shapes(self, places: Floats) -> Floats:
        """Return every shape at places from -1 to 1, one row for each, for `temperatures_from`."""
        even = np.cos(self._zeta[:, None] * places)
        return np.concatenate([even, np.sin(self._eta[:, None] * places)]) if self._eta.size else even

    def temperatures_from(self, shapes: Floats, times: Floats, places: Floats) -> Floats:
        """Return temperatures [K], one row for each time [s], from shapes made once for the places."""
        sizes = np.exp(times[:, None] * self._fade)
        sizes *= self._size
        if self._moving:
            sizes += self._drift
        kelvin = sizes @ shapes
        kelvin += self._mean + self._tilt * places
        if self._moving:
            kelvin += times[:, None] * (self._mean_rate + self._tilt_rate * places)
        return np.asarray(kelvin)

    def temperatures(self, times: Floats, places: Floats) -> Floats:
        """Return temperatures [K]: a row for each time [s] since the phase began, a column for each place."""
        return self.temperatures_from(self.shapes(places), times, places)

    def profile(self, time: float) -> Profile:
        """Return the temperature across the slab at a time [s] of this phase: where the next phase begins."""
        return Profile(
            mean=self._mean + self._mean_rate * time,
            tilt=self._tilt + self._tilt_rate * time,
            even=self._even_drift + self._even * np.exp(self._even_fade * time),
            even_roots=self._zeta,
            odd=self._odd_drift + self._odd * np.exp(self._odd_fade * time),
            odd_roots=self._eta,
        )

    @property
    def slowest(self) -> float:
        """Return the time [s] in which the slowest shape falls to 1/e."""
        return float(-1.0 / self._even_fade[0])


def _sinc(x: Floats) -> Floats:
    return np.asarray(np.sinc(x / np.pi))


def _even_overlap(new: Floats, old: Floats) -> Floats:
    norm = 1.0 + np.sin(2.0 * new) / (2.0 * new)
    return np.asarray((_sinc(new[:, None] - old) + _sinc(new[:, None] + old)) / norm[:, None])


def _odd_overlap(new: Floats, old: Floats) -> Floats:
    norm = 1.0 - np.sin(2.0 * new) / (2.0 * new)
    return np.asarray((_sinc(new[:, None] - old) - _sinc(new[:, None] + old)) / norm[:, None])
