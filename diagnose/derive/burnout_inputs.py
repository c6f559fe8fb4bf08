"""Reads from facts what the burnout calculators share: the mold, its limits, the water in it, the record."""

from __future__ import annotations

from math import inf

from diagnose.calc.burnout import BurnoutLimits, scaled_hold
from diagnose.calc.dryness import drying_dose
from diagnose.calc.flask_heat import Mold, ramp_limit
from diagnose.calc.gypsum import HALF_HYDRATE, WATER
from diagnose.calc.kiln_schedule import Schedule, schedule_of
from diagnose.calc.slurry import slurry_volume
from diagnose.derive.calculator import Facts, number
from diagnose.derive.told import listed, positive, told
from diagnose.errors import OutOfRange

SHAPE = ("flask diameter", "investment diffusivity")
RAMPS = ("investment fastest ramp", "investment largest lag", "investment gentle ramp")
SHAPE_MORE = ("flask height", "measured diffusivity")
WETNESS = ("flask diameter", "investment conductivity", "investment grain density", "investment label water")
WETNESS_MORE = ("mixed water", "label water", "investment binder share")
RECORD = ("burnout hold temperatures", "burnout hold times")
LIMITS = (
    "investment drain temperature",
    "investment drain hold",
    "investment gentle ramp",
    "investment gentle until",
    "investment fastest ramp",
    "investment largest lag",
    "investment dry temperature",
    "investment dry hold",
    "investment top temperature",
    "investment top ceiling",
    "investment top hold",
)
LIMITS_MORE = (
    "printed resin share",
    "steam dewax time",
    "kiln fill",
    "stone heat limit",
    "investment resin top hold",
    "investment clean from",
    "investment cool top hold",
    "core tolerance",
)
PACKED_FROM, PACKED_MORE = 0.75, 3600.0  # a kiln filled so far holds an hour longer
STEAMED_FROM = 600.0  # s of steam that let the first hold be halved
TOLERANCE = 12.0  # K between kiln and middle, when nobody says what is near enough
WATER_NOMINAL = 997.8  # kg/m3 at 22 degrees C


def mold(facts: Facts) -> Mold:
    """Return the mold in the flask; without a height it counts as a long one."""
    diffusivity = told(facts, "measured diffusivity", number(facts, "investment diffusivity"))
    height = told(facts, "flask height", inf)
    return Mold(number(facts, "flask diameter") / 2.0, diffusivity, height / 2.0)


def ramp_limits(facts: Facts) -> tuple[float, float]:
    """Return the fastest ramp that the flask stands, and the fastest while it is wet [K/s]."""
    quick = min(
        positive(facts, "investment fastest ramp"), ramp_limit(mold(facts), number(facts, "investment largest lag"))
    )
    return quick, min(quick, positive(facts, "investment gentle ramp"))


def limits(facts: Facts) -> BurnoutLimits:
    """Return what the mold asks of its burnout, for this flask, pattern and kiln."""
    diameter = number(facts, "flask diameter")
    drain = number(facts, "investment drain hold")
    if told(facts, "steam dewax time", 0.0) >= STEAMED_FROM:
        drain *= 0.5
    top, hold = top_and_hold(facts)
    return BurnoutLimits(
        loading=number(facts, "kiln loading temperature"),
        drain=number(facts, "investment drain temperature"),
        drain_hold=scaled_hold(drain, diameter),
        gentle_rate=number(facts, "investment gentle ramp"),
        gentle_until=number(facts, "investment gentle until"),
        dry=number(facts, "investment dry temperature"),
        dry_hold=number(facts, "investment dry hold"),
        top=top,
        top_hold=hold,
        ceiling=number(facts, "investment top ceiling"),
        fastest=number(facts, "investment fastest ramp"),
        lag=number(facts, "investment largest lag"),
        tolerance=told(facts, "core tolerance", TOLERANCE),
    )


def top_and_hold(facts: Facts) -> tuple[float, float]:
    """Return top temperature and hold for this flask: dirtier loads get time, never more heat."""
    top = number(facts, "investment top temperature")
    hold = number(facts, "investment top hold")
    least = 3600.0
    if "stone heat limit" in facts and number(facts, "stone heat limit") < top:
        top = number(facts, "stone heat limit")
        if top < told(facts, "investment clean from", 0.0):
            hold = least = max(hold, told(facts, "investment cool top hold", hold))
    elif top < told(facts, "investment clean from", 0.0):
        least = hold
    found = scaled_hold(hold, number(facts, "flask diameter"), least)
    if told(facts, "printed resin share", 0.0) > 0.0:
        found += told(facts, "investment resin top hold", 0.0)
    if told(facts, "kiln fill", 0.0) >= PACKED_FROM:
        found += PACKED_MORE
    return top, found


def dose(facts: Facts) -> float:
    """Return the heat exposure that dries the mold to its middle, bound water included [K s]."""
    ratio = told(facts, "mixed water", told(facts, "label water", number(facts, "investment label water")))
    volume = slurry_volume(1.0, ratio, number(facts, "investment grain density"), WATER_NOMINAL)
    # What the powder brought along as half-hydrate leaves in the same heat.
    bound = told(facts, "investment binder share", 0.0) * 0.5 * WATER / HALF_HYDRATE
    water = (ratio / 100.0 + bound) / volume
    return drying_dose(number(facts, "flask diameter") / 2.0, water, number(facts, "investment conductivity"))


def record(facts: Facts) -> Schedule:
    """Return the recorded burnout as a kiln curve."""
    return schedule_of(
        number(facts, "kiln loading temperature"),
        listed(facts, "burnout hold temperatures"),
        listed(facts, "burnout hold times"),
        listed(facts, "burnout ramps"),
    )


def holds(facts: Facts) -> tuple[tuple[float, float], ...]:
    """Return the recorded holds: temperature and time."""
    temperatures, times = listed(facts, "burnout hold temperatures"), listed(facts, "burnout hold times")
    if len(temperatures) != len(times):
        raise OutOfRange(
            f"{len(temperatures)} hold temperatures and {len(times)} hold times do not belong together.",
            next_step="Give one temperature and one time for each hold, in order.",
        )
    return tuple(zip(temperatures, times, strict=True))
