"""How long and how hot to cure: times and temperatures that give a wanted cure at a wanted depth."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import log

import numpy as np

from diagnose.calc.allowed_range import above_zero, within
from diagnose.calc.cure import LONGEST, MIDDLE, TOP, History, Press, heat_lag
from diagnose.calc.kinetics import Kinetics
from diagnose.calc.slab import Slab
from diagnose.errors import OutOfRange

# An interview asks again for the same block after every answer: results are kept.
KEPT = 256


@lru_cache(maxsize=KEPT)
def needed_time(
    slab: Slab, start: float, press: Press, kinetics: Kinetics, dose: float, place: float = MIDDLE
) -> float:
    """Time in the press after which a place has got a wanted cure.

    Parameters
    ----------
    slab
        The block. [m, m^2/s, W/m/K]
    start
        Its uniform temperature when it goes in. [K]
    press
        The plates.
    kinetics
        The reaction. [J/mol, K]
    dose
        Wanted equivalent time at the reference temperature. [s]
    place
        -1 bottom face, 0 middle, 1 top face. [-]

    Returns
    -------
    float
        Time between the plates; cure gained while cooling is not counted on. [s]

    Raises
    ------
    OutOfRange
        If the dose is not above zero, or would take more than 100 hours.

    Notes
    -----
    Newton's method: the dose grows ever faster while the block heats, so the steps close in from above.

    Examples
    --------
    At a face that touches a platen at the reference temperature, time counts as itself:

    >>> plates, reaction = Press(426.15, 426.15), Kinetics(1e5, 426.15)
    >>> round(needed_time(Slab(0.02, 1e-7), 296.15, plates, reaction, 900.0, place=1.0))
    900
    """
    above_zero("the wanted dose", dose, "s")
    within("the place", place, -1.0, 1.0)
    spot = np.array([place])
    time = dose / kinetics.rate(press.mean) + 1.5 * slab.lag + press.recovery
    for _ in range(60):
        if not 0.0 < time < LONGEST:
            break
        history = History(slab, start, press, time)
        error = float(history.doses(kinetics, spot)[0][0]) - dose
        pace = kinetics.rate(float(history.temperatures(np.array([time]), spot)[0, 0]))
        step = error / pace
        if abs(step) <= 1e-7 * time:
            return time - step
        time = max(time - step, 0.25 * time)
    raise OutOfRange(
        "platens at a mean of {platens:K} would need more than 100 hours for this cure.",
        {"platens": press.mean},
        next_step="Raise the platen temperature, or check the thickness and the wanted cure.",
    )


@dataclass(frozen=True)
class Schedule:
    """A way to cure: mean platen temperature [K], time [s], and the dose [s] that the hotter face gets."""

    platens: float
    time: float
    skin_dose: float


@lru_cache(maxsize=KEPT)
def schedule_for(
    slab: Slab,
    start: float,
    press: Press,
    kinetics: Kinetics,
    dose: float,
    most_at_skin: float,
    coolest: float,
) -> Schedule:
    """Cure the middle without over-curing the skin: as hot as now if that does, else cooler and longer.

    Parameters
    ----------
    slab
        The block. [m, m^2/s, W/m/K]
    start
        Its uniform temperature when it goes in. [K]
    press
        The plates as they are now; both are moved alike.
    kinetics
        The reaction. [J/mol, K]
    dose
        Wanted equivalent time in the middle. [s]
    most_at_skin
        Greatest equivalent time allowed at the hotter face. [s]
    coolest
        Lowest mean platen temperature to consider. [K]

    Returns
    -------
    Schedule
        Mean platen temperature [K], time [s] and the hotter face's dose [s]. When even the coolest platens
        give the skin more than allowed, the coolest are returned: look at `skin_dose`.

    Raises
    ------
    OutOfRange
        As `needed_time`.

    Notes
    -----
    The cooler the platens, the less the skin runs ahead of the middle, because the lag of the heat stays the
    same while all cure slows down. False position on the logarithm of the skin's dose.

    Examples
    --------
    An inch is fine as it is; two inches want cooler platens:

    >>> plates, reaction = Press(426.15, 426.15), Kinetics(1e5, 426.15)
    >>> thin, thick = (
    ...     schedule_for(Slab(d, 0.9e-7), 296.15, plates, reaction, 1320.0, 3840.0, 400.0)
    ...     for d in (0.0254, 0.0508)
    ... )
    >>> thin.platens == 426.15, thick.platens < 420.0
    (True, True)
    """
    above_zero("the dose allowed at the skin", most_at_skin, "s")

    def at(mean: float) -> Schedule:
        moved = press.moved_to(mean)
        time = needed_time(slab, start, moved, kinetics, dose)
        hotter = TOP if press.top >= press.bottom else -TOP
        skin = History(slab, start, moved, time).doses(kinetics, np.array([hotter]))[0]
        return Schedule(mean, time, float(skin[0]))

    hot = at(press.mean)
    if hot.skin_dose <= most_at_skin or press.mean <= coolest:
        return hot
    cool = at(coolest)
    if cool.skin_dose >= most_at_skin:
        return cool
    low, high = log(cool.skin_dose / most_at_skin), log(hot.skin_dose / most_at_skin)
    for _ in range(30):
        share = min(max(low / (low - high), 0.05), 0.95)
        trial = at(cool.platens + share * (hot.platens - cool.platens))
        excess = log(trial.skin_dose / most_at_skin)
        if excess <= 0.0:
            cool, low = trial, excess
            if excess > -1e-4:
                break
        else:
            hot, high = trial, excess
    return cool


@dataclass(frozen=True)
class Recure:
    """A second cure: time [s] that surely does, least time by the exact history [s]."""

    safe_time: float
    least_time: float


def recure(slab: Slab, start: float, press: Press, kinetics: Kinetics, missing: float) -> Recure:
    """Time that a cold block, still holding its model, has to go back for.

    Parameters
    ----------
    slab
        The block. [m, m^2/s, W/m/K]
    start
        Its uniform temperature when it goes back in. [K]
    press
        The plates.
    kinetics
        The reaction. [J/mol, K]
    missing
        Equivalent time that the middle still lacks. [s]

    Returns
    -------
    Recure
        The missing time plus the whole lag of the heat [s], and the exact least time [s].

    Raises
    ------
    OutOfRange
        As `needed_time`.

    Notes
    -----
    The cure that the block gains while it cools a second time is not counted on.

    Examples
    --------
    A block that lacks 10 minutes at full heat needs far more than 10 minutes in the press:

    >>> plates, reaction = Press(426.15, 426.15), Kinetics(1e5, 426.15)
    >>> again = recure(Slab(0.0254, 0.9e-7), 296.15, plates, reaction, 600.0)
    >>> again.safe_time > again.least_time > 1800.0
    True
    """
    lag = heat_lag(slab, start, press, kinetics)
    return Recure(missing / kinetics.rate(press.mean) + lag, needed_time(slab, start, press, kinetics, missing))


@lru_cache(maxsize=KEPT)
def middle_warm_time(slab: Slab, start: float, press: Press, share: float = 0.9) -> float:
    """Time until the middle has made a share of its way from the start to the platens' mean.

    Parameters
    ----------
    slab
        The block. [m, m^2/s, W/m/K]
    start
        Its uniform temperature when it goes in. [K]
    press
        The plates.
    share
        Share of the way. [-]

    Returns
    -------
    float
        Time. [s]

    Raises
    ------
    OutOfRange
        If the platens are not hotter than the block, or the share is not between 0.05 and 0.999.

    Examples
    --------
    Nine tenths of the way takes 1.031 units of the square of half the thickness over diffusivity:

    >>> block = Slab(0.0254, 0.9e-7)
    >>> round(middle_warm_time(block, 296.15, Press(426.15, 426.15)) / block.lag, 3)
    1.031
    """
    within("the share of the way", share, 0.05, 0.999)
    if press.mean <= start:
        raise OutOfRange(
            "platens at {platens:K} do not warm a block that starts at {start:K}.",
            {"platens": press.mean, "start": start},
            next_step="Check the platen temperature and the starting temperature.",
        )
    wanted = start + share * (press.mean - start)
    heat_in = slab.lag if press.contact == float("inf") else slab.lag * (1.0 + 3.0 / slab.biot(press.contact))
    high = press.recovery + 6.0 * heat_in
    history = History(slab, start, press, high)
    low, middle = 0.0, np.array([MIDDLE])
    for _ in range(5):
        times = np.linspace(low, high, 33)[1:]
        reached = int(np.argmax(history.temperatures(times, middle)[:, 0] >= wanted))
        low, high = (float(times[reached - 1]) if reached else low), float(times[reached])
    return 0.5 * (low + high)


@lru_cache(maxsize=KEPT)
def thickness_limit(
    start: float, press: Press, kinetics: Kinetics, diffusivity: float, pace: float, dose: float
) -> float | None:
    """Thickness from which a fixed time for each layer no longer cures the middle.

    Parameters
    ----------
    start
        Uniform temperature of the block when it goes in. [K]
    press
        The plates; full contact is taken.
    kinetics
        The reaction. [J/mol, K]
    diffusivity
        Thermal diffusivity of the block. [m^2/s]
    pace
        Time in the press for each unit of thickness. [s/m]
    dose
        Equivalent time that the middle needs. [s]

    Returns
    -------
    float or None
        Greatest thickness for which the rule still gives the dose [m]; none when it gives too little already
        for the thicknesses at which it is at its best.

    Raises
    ------
    OutOfRange
        If the pace or the dose is not above zero.

    Notes
    -----
    Time in the press grows with thickness, but the lag of the heat with its square: the dose under the rule
    first rises, then falls. The falling side is searched, from 5 to 145 mm, to
    a tenth of a millimeter.

    Examples
    --------
    At 7.5 minutes for an eighth of an inch, some 48 mm is the end for a dose of 12 minutes:

    >>> plates, reaction = Press(426.15, 426.15), Kinetics(1e5, 426.15)
    >>> limit = thickness_limit(296.15, plates, reaction, 0.9e-7, 450.0 / 0.003175, 720.0)
    >>> 0.047 < limit < 0.049
    True
    """
    above_zero("the pace of the rule", pace, "s/m")
    above_zero("the dose", dose, "s")
    full = Press(press.bottom, press.top)

    def got(thickness: float) -> float:
        history = History(Slab(thickness, diffusivity), start, full, pace * thickness)
        return float(history.doses(kinetics, np.array([MIDDLE]))[0][0])

    grid = [0.005 * 1.4**step for step in range(11)]
    enough = [step for step, thickness in enumerate(grid) if got(thickness) >= dose]
    if not enough or enough[-1] == len(grid) - 1:
        return None if not enough else grid[-1]
    low, high = grid[enough[-1]], grid[enough[-1] + 1]
    while high - low > 5e-5:
        middle = 0.5 * (low + high)
        low, high = (middle, high) if got(middle) >= dose else (low, middle)
    return 0.5 * (low + high)
