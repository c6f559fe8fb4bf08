"""Heat through a flask: how far its middle lags, how long it must soak, what it loses on the way out."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, isinf, pi

import numpy as np

from diagnose.calc.allowed_range import above_zero, within
from diagnose.calc.conduction import missing_share
from diagnose.calc.cylinder_shapes import bessel, bessel_roots, round_roots, round_terms, round_weights
from diagnose.errors import OutOfRange

UNFELT = 0.008  # Fourier number up to which a step at the surface has not reached the middle (under 1e-12)


@dataclass(frozen=True)
class Mold:
    """A round mold: radius and half height in metres (`inf` for a long one), diffusivity in m2/s."""

    radius: float
    diffusivity: float
    half_height: float = inf

    def __post_init__(self) -> None:
        within("the radius", self.radius, 0.005, 0.3, "m", "Write the unit: mm or in.")
        within("the diffusivity", self.diffusivity, 1e-9, 1e-3, "m2/s")
        if not isinf(self.half_height):
            within("half the height", self.half_height, 0.005, 0.6, "m", "Write the unit: mm or in.")


def round_missing_share(place: float, fourier: float, biot: float = inf) -> float:
    r"""Share of a temperature step that a point of a long round bar has still to go.

    Parameters
    ----------
    place
        0 on the axis, 1 at the surface. [-]
    fourier
        Diffusivity times time over the square of the radius. [-]
    biot
        Heat transfer at the surface times the radius over conductivity. [-]

    Returns
    -------
    float
        1 at the start, 0 in the end. [-]

    Raises
    ------
    OutOfRange
        If the place is not from 0 to 1, the Biot number not above zero, or the time too short for the series
        (Fourier number under about 9e-5; on the axis any short time will do).

    Notes
    -----
    .. math:: \theta = \sum_n C_n e^{-\zeta_n^2 Fo} J_0(\zeta_n r/R)

    The whole series: its first term alone is 6 % off at a Fourier number of 0.1 and worse before.

    References
    ----------
    from memory of carslaw-jaeger-1959, sec. 7.6 and 7.7; incropera-2007, sec. 5.6.

    Examples
    --------
    Tables give 0.5015 on the axis at a Fourier number of 0.2:

    >>> round(round_missing_share(0.0, 0.2), 4)
    0.5015
    """
    within("the place", place, 0.0, 1.0)
    within("the Fourier number", fourier, 0.0, 1e6)
    if fourier == 0.0 or (place == 0.0 and fourier < UNFELT):
        return 1.0
    roots = round_roots(biot, round_terms(fourier))
    shapes = np.exp(-(roots**2) * fourier) * bessel(0, roots * place)
    return float(round_weights(roots) @ shapes)


def mold_missing_share(
    mold: Mold, time: float, from_axis: float = 0.0, film: float = inf, conductivity: float = inf
) -> float:
    r"""Share of a temperature step that a point half way up a mold has still to go.

    Parameters
    ----------
    mold
        The mold.
    time
        Time since the step. [s]
    from_axis
        Distance of the point from the axis. [m]
    film
        Heat transfer at the outside; `inf` for an outside held at its temperature. [W/m^2/K]
    conductivity
        Conductivity of the mold; only used with a film. [W/m/K]

    Returns
    -------
    float
        1 at the start, 0 in the end. [-]

    Raises
    ------
    OutOfRange
        If the point is outside the mold, the time negative or too short for the series, or a film is given
        without a conductivity.

    Notes
    -----
    A short cylinder is a long cylinder cut out of a slab, and its answer the product of theirs. Both ends are taken
    as open to the kiln as the side is; steel wall and wax space are left out.

    References
    ----------
    from memory of carslaw-jaeger-1959, sec. 8.4; incropera-2007, sec. 5.8.

    Examples
    --------
    A mold as high as wide is ahead of a long one:

    >>> long, short = Mold(0.0381, 1.8e-7), Mold(0.0381, 1.8e-7, 0.0381)
    >>> mold_missing_share(short, 3000.0) < mold_missing_share(long, 3000.0)
    True
    """
    within("the time", time, 0.0, 1e7, "s")
    within("the distance from the axis", from_axis, 0.0, mold.radius, "m")
    side, end = _biot(mold, film, conductivity)
    across = round_missing_share(from_axis / mold.radius, mold.diffusivity * time / mold.radius**2, side)
    if isinf(mold.half_height):
        return across
    along = mold.diffusivity * time / mold.half_height**2
    return across * (1.0 if along < UNFELT else missing_share(0.0, along, end))


def soak_time(mold: Mold, share: float) -> float:
    r"""Time until the middle of a mold has all but a share of a step of the kiln behind it.

    Parameters
    ----------
    mold
        The mold.
    share
        Share of the step that may be left. [-]

    Returns
    -------
    float
        Time from when the kiln stands at its new temperature. [s]

    Raises
    ------
    OutOfRange
        If the share is not from 1e-6 to 0.99.

    Notes
    -----
    Halving the interval on `mold_missing_share`. The kiln is taken as stepped, the mold as even before: a kiln
    that came down slowly needs less.

    References
    ----------
    as `mold_missing_share`.

    Examples
    --------
    Tables: 5 % is left at a Fourier number of 0.5995, so 48 minutes for 3 in and 0.3 mm2/s:

    >>> round(soak_time(Mold(0.0381, 3e-7), 0.05) / 60)
    48
    """
    within("the share left to go", share, 1e-6, 0.99)
    unit = mold.radius**2 / mold.diffusivity
    early, late = 0.0, 4.0 * unit
    while late - early > 1e-9 * unit:
        middle = 0.5 * (early + late)
        if mold_missing_share(mold, middle) > share:
            early = middle
        else:
            late = middle
    return late


def ramp_lag(mold: Mold, rate: float) -> float:
    r"""How far the middle of a mold lags behind its outside on a long even ramp.

    Parameters
    ----------
    mold
        The mold.
    rate
        Rate of the kiln, up or down. [K/s]

    Returns
    -------
    float
        Temperature difference between outside and middle. [K]

    Raises
    ------
    OutOfRange
        If the rate is negative or over 10 K/s.

    Notes
    -----
    Long cylinder: :math:`b R^2 / 4a`. Ends take off

    .. math:: 1 - \sum_n \frac{8}{\alpha_n^3 J_1(\alpha_n)\cosh(\alpha_n h/R)}

    with :math:`\alpha_n` the roots of :math:`J_0` and *h* half the height. Reached after some
    :math:`R^2/5.8a`; before, the lag is smaller. Water that still boils off holds the middle back much more.

    References
    ----------
    from memory of carslaw-jaeger-1959, ch. 7 and 8.

    Examples
    --------
    3 in, 0.3 mm2/s, 3 K a minute:

    >>> round(ramp_lag(Mold(0.0381, 3e-7), 3.0 / 60), 1)
    60.5
    """
    within("the rate", rate, 0.0, 10.0, "K/s")
    return rate * mold.radius**2 / (4.0 * mold.diffusivity) * _ends_factor(mold)


def ramp_limit(mold: Mold, lag: float) -> float:
    r"""Fastest even ramp on which the middle of a mold lags no more than wanted.

    Parameters
    ----------
    mold
        The mold.
    lag
        Largest difference allowed between outside and middle. [K]

    Returns
    -------
    float
        Rate. [K/s]

    Raises
    ------
    OutOfRange
        If the lag is not above zero or over 500 K.

    Notes
    -----
    `ramp_lag` solved for the rate.

    Examples
    --------
    >>> mold = Mold(0.0381, 3e-7)
    >>> round(ramp_limit(mold, ramp_lag(mold, 0.05)), 9)
    0.05
    """
    above_zero("the lag allowed", lag, "K change")
    within("the lag allowed", lag, 0.0, 500.0, "K change")
    return lag * 4.0 * mold.diffusivity / (mold.radius**2 * _ends_factor(mold))


def fitted_diffusivity(radius: float, half_time: float) -> float:
    r"""Diffusivity of a mold, from the time its middle took for half of a step of the kiln.

    Parameters
    ----------
    radius
        Radius of the dry dummy. [m]
    half_time
        Time for the middle to cover half of the step. [s]

    Returns
    -------
    float
        Diffusivity, with the film of air in the kiln counted in. [m^2/s]

    Raises
    ------
    OutOfRange
        If the radius is not from 5 mm to 0.3 m or the time not from 30 s to 1 day.

    Notes
    -----
    :math:`a = 0.2005\,R^2 / t_{1/2}`, long cylinder (the one-term formula would give 0.2013).

    References
    ----------
    computed from carslaw-jaeger-1959, sec. 7.6 (from memory).

    Examples
    --------
    16.2 min at 76.2 mm is 0.3 mm2/s:

    >>> round(fitted_diffusivity(0.0381, 16.2 * 60) * 1e6, 2)
    0.3
    """
    within("the radius", radius, 0.005, 0.3, "m", "Write the unit: mm or in.")
    within("the half time", half_time, 30.0, 86400.0, "s")
    unit_mold = Mold(0.1, 1e-7)
    return soak_time(unit_mold, 0.5) * unit_mold.diffusivity / unit_mold.radius**2 * radius**2 / half_time


def air_film(surface: float, room: float, emissivity: float, convection: float) -> float:
    r"""Heat transfer from a hot flask to the room.

    Parameters
    ----------
    surface
        Temperature of the outside. [K]
    room
        Temperature of the room. [K]
    emissivity
        Emissivity of the outside. [-]
    convection
        Heat transfer by the moving air alone. [W/m^2/K]

    Returns
    -------
    float
        Heat transfer, radiation and air together. [W/m^2/K]

    Raises
    ------
    OutOfRange
        If a temperature is not from 200 to 1600 K, the emissivity not from 0 to 1, or the convection not from 0
        to 500.

    Notes
    -----
    :math:`h = h_c + \epsilon\sigma(T_s^2 + T_r^2)(T_s + T_r)`.

    References
    ----------
    from memory of incropera-2007, eq. 1.9.

    Examples
    --------
    Incropera's pipe, 200 degrees C in a room of 25, emissivity 0.8 and 15 W/m2/K of air: 26 W/m2/K in all.

    >>> round(air_film(473.15, 298.15, 0.8, 15.0))
    26
    """
    within("the surface temperature", surface, 200.0, 1600.0, "K")
    within("the room temperature", room, 200.0, 1600.0, "K")
    within("the emissivity", emissivity, 0.0, 1.0)
    within("the convection", convection, 0.0, 500.0, "W/m2/K")
    return convection + emissivity * 5.670374e-8 * (surface**2 + room**2) * (surface + room)


def _biot(mold: Mold, film: float, conductivity: float) -> tuple[float, float]:
    """Return the Biot numbers of side and ends."""
    if isinf(film):
        return inf, inf
    above_zero("the heat transfer at the outside", film, "W/m2/K")
    if not 0.0 < conductivity < inf:
        raise OutOfRange(f"a conductivity of {conductivity:g} W/m/K does not go with a film.", next_step="Give it.")
    return film * mold.radius / conductivity, film * mold.half_height / conductivity


def _ends_factor(mold: Mold) -> float:
    """Return the lag of a short mold over that of a long one."""
    reach = mold.half_height / mold.radius
    if reach > 100.0 / pi:
        return 1.0
    roots = bessel_roots(0, 40)
    terms = 8.0 / (roots**3 * bessel(1, roots) * np.cosh(np.minimum(roots * reach, 300.0)))
    return float(1.0 - terms.sum())
