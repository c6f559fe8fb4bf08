"""References of the calculators of investment and burnout: the round mold, its water and its heat."""

from __future__ import annotations

from math import pi

import iapws
import molmass
import numpy as np
from CoolProp.CoolProp import PropsSI
from fluids import ATMOSPHERE_1976
from scipy.constants import atm, g
from scipy.integrate import quad, solve_bvp
from scipy.optimize import brentq
from scipy.special import j1, jn_zeros

from diagnose.derive.burnout_plan import CALCULATORS
from diagnose.derive.burnout_plan import planned as schedule
from diagnose.derive.calculator import Facts, Value, number
from diagnose.derive.told import listed
from tests.bench.row import Expected, Row, Told
from tests.bench.solvers import Floats, cylinder, flat_share, round_share

C = 273.15
EARTH = 6356766.0  # [m], radius of the standard atmosphere, between geopotential and geometric height


def mass(formula: str) -> float:
    return float(molmass.Formula(formula).mass)


HALF_HYDRATE = mass("CaSO4") + 0.5 * mass("H2O")


def high_up(facts: Facts) -> Expected:
    height = number(facts, "altitude")
    return {"local air pressure": ATMOSPHERE_1976(EARTH * height / (EARTH - height)).P}


def vacuum(facts: Facts) -> Expected:
    air, warm = number(facts, "local air pressure"), number(facts, "slurry temperature")
    boils = PropsSI("P", "T", warm, "Q", 0, "Water")
    return {"water boiling pressure": boils, "needed vacuum reading": air - boils}


def margin(facts: Facts) -> Expected:
    air, reading = number(facts, "local air pressure"), number(facts, "investing vacuum")
    left = air - reading
    deep = left + number(facts, "sound slurry density") * g * number(facts, "flask height")
    return {
        "chamber pressure": left, "bubble growth": air / left,
        "boiling point in the chamber": PropsSI("T", "P", left, "Q", 0, "Water"),
        "boiling point at the bottom": PropsSI("T", "P", deep, "Q", 0, "Water"),
    }  # fmt: skip


def bent(facts: Facts) -> Expected:
    """Stress at the rim of a clamped round plate: the plate equation as a boundary value problem."""
    radius, thick = number(facts, "flask diameter") / 2.0, number(facts, "end cover")
    load, poisson = number(facts, "local air pressure"), 0.2
    stiff = thick**3 / 12.0 / (1.0 - poisson**2)  # for a stiffness of one

    def slope(r: Floats, y: Floats) -> Floats:
        # y: slope of the plate and its derivative; the shear at r is load r / 2
        return np.vstack((y[1], load * r / (2.0 * stiff) - y[1] / r + y[0] / r**2))

    r = np.linspace(1e-3 * radius, radius, 60)
    solved = solve_bvp(slope, lambda a, b: np.array([a[0], b[0]]), r, np.zeros((2, 60)), tol=1e-6)
    return {"end plate stress": stiff * float(solved.sol(radius)[1]) * 6.0 / thick**2}


def filled(facts: Facts) -> Expected:
    ratio, water = number(facts, "label water") / 100.0, PropsSI("D", "T", 295.15, "P", atm, "Water")
    room = quad(lambda r: 2 * pi * r * number(facts, "flask height"), 0.0, number(facts, "flask diameter") / 2.0)[0]
    slurry = room * (1.0 + number(facts, "bowl loss"))
    powder = slurry / (1.0 / number(facts, "investment grain density") + ratio / water)
    return {"room in the flask": room, "needed powder": powder, "needed water": ratio * powder}


def thick(facts: Facts) -> Expected:
    ratio, water = number(facts, "mixed water") / 100.0, PropsSI("D", "T", 295.15, "P", atm, "Water")
    volume = 1.0 / number(facts, "investment grain density") + ratio / water
    return {"sound slurry density": (1.0 + ratio) / volume, "slurry made": number(facts, "powder weight") * volume}


def setting(facts: Facts) -> Expected:
    binder, powder = number(facts, "investment binder share"), number(facts, "powder weight")
    bound = powder * binder * 1.5 * mass("H2O") / HALF_HYDRATE
    return {
        "water bound in setting": bound, "free water": powder * number(facts, "mixed water") / 100.0 - bound,
        "expected fired weight": powder * (1.0 - binder + binder * mass("CaSO4") / HALF_HYDRATE),
    }  # fmt: skip


def wet_mold(facts: Facts, powder: float) -> Expected:
    binder = number(facts, "investment binder share")
    mold = number(facts, "fired flask weight") - number(facts, "empty flask weight")
    left = mold - powder * (1.0 - binder + binder * mass("CaSO4") / HALF_HYDRATE)
    steam = iapws.IAPWS97(T=373.15, P=atm / 1e6 * 0.9999).v
    return {"mold weight ratio": mold / powder, "water left by weight": left, "steam from it": left * steam}


def wet_mold_worked_back(facts: Facts) -> Expected:
    slurry = (
        number(facts, "filled flask weight") - number(facts, "empty flask weight") - number(facts, "wax in the flask")
    )
    return wet_mold(facts, slurry / (1.0 + number(facts, "mixed water") / 100.0))


def sulfur(facts: Facts) -> Expected:
    sulfate = number(facts, "powder weight") * number(facts, "investment binder share") * mass("CaSO4") / HALF_HYDRATE
    gas = sulfate * number(facts, "sulfate broken down") * mass("SO2") / mass("CaSO4")
    volume = gas / PropsSI("D", "T", 298.15, "P", atm, "SulfurDioxide")
    return {"sulfate in the mold": sulfate, "sulfur dioxide in the room": volume / number(facts, "room volume")}


def air(facts: Facts) -> Expected:
    """CH2 + 1.5 O2, oxygen 23.14 % of air by mass, air by CoolProp at 20 degrees C."""
    oxygen = number(facts, "wax left to burn") * 1.5 * mass("O2") / mass("CH2")
    volume = oxygen / 0.2314 / PropsSI("D", "T", 293.15, "P", atm, "Air")
    kiln = number(facts, "burning temperature")
    inside = PropsSI("D", "T", 293.15, "P", atm, "Air") / PropsSI("D", "T", kiln, "P", atm, "Air")
    return {
        "air to burn the wax": volume,
        "needed air flow": volume * number(facts, "excess air") / number(facts, "burning time"),
        "kiln refills": volume * inside / number(facts, "kiln volume"),
    }


def spread(facts: Facts) -> float:
    return number(facts, "investment diffusivity")


def half_way(facts: Facts) -> Expected:
    fourier = brentq(lambda f: round_share(f) - 0.5, 0.05, 1.0, xtol=1e-12)
    return {
        "measured diffusivity": fourier * (number(facts, "flask diameter") / 2) ** 2 / number(facts, "core half time")
    }


def kiln_points(facts: Facts, names: tuple[str, str, str]) -> tuple[Floats, Floats]:
    """Corners of the kiln's curve: times and temperatures."""
    times, kiln = [0.0], [number(facts, "kiln loading temperature")]
    for hot, held, ramp in zip(*(listed(facts, name) for name in names), strict=True):
        times.append(times[-1] + abs(hot - kiln[-1]) / ramp)
        kiln.append(hot)
        times.append(times[-1] + held)
        kiln.append(hot)
    return np.array(times), np.array(kiln)


RECORD = ("burnout hold temperatures", "burnout hold times", "burnout ramps")


def followed(facts: Facts) -> Expected:
    times, kiln = kiln_points(facts, RECORD)
    radius = number(facts, "flask diameter") / 2.0
    axis = cylinder(
        radius, spread(facts), kiln[0], lambda t: float(np.interp(t, times, kiln)), np.linspace(0, times[-1], 600)
    )
    return {"flask core temperature": float(axis[-1]), "hottest core": float(axis.max())}


def long_lag(facts: Facts) -> float:
    """Lag of the middle behind a ramp of one kelvin a second, long after its start: the step's answer, integrated."""
    radius = number(facts, "flask diameter") / 2.0
    roots = jn_zeros(0, 1000)
    return radius**2 / spread(facts) * float(np.sum(2.0 / (roots**3 * j1(roots))))


def ramps(facts: Facts) -> Expected:
    times, kiln = kiln_points(facts, RECORD)
    fine = np.linspace(0.0, times[-1], 400001)
    above = np.interp(fine, times, kiln) >= number(facts, "investment clean from")
    limit = min(number(facts, "investment fastest ramp"), number(facts, "investment largest lag") / long_lag(facts))
    steep = max(listed(facts, "burnout ramps")[2:])
    return {
        "burnout time": float(times[-1]),
        "time above clean": float(above.mean() * times[-1]),
        "ramp use": steep / limit,
    }


def ramp_limit(facts: Facts) -> Expected:
    limit = number(facts, "investment largest lag") / long_lag(facts)
    return {"ramp limit": min(number(facts, "investment fastest ramp"), limit)}


def dried(facts: Facts) -> Expected:
    """A boiling front that moves inwards as heat comes through the dried shell, followed by scipy; steam by IAPWS."""
    times, kiln = kiln_points(facts, RECORD)
    radius, conductivity = number(facts, "flask diameter") / 2.0, number(facts, "investment conductivity")
    ratio, binder = number(facts, "label water") / 100.0, number(facts, "investment binder share")
    volume = 1.0 / number(facts, "investment grain density") + ratio / 997.8
    water = (ratio + binder * 0.5 * mass("H2O") / HALF_HYDRATE) / volume
    steam = (iapws.IAPWS97(T=373.15, x=1).h - iapws.IAPWS97(T=373.15, x=0).h) * 1e3
    front = radius * 0.02  # from here inwards hardly any water is left
    needed = quad(lambda r: water * steam * r * np.log(radius / r) / conductivity, front, radius)[0]
    dry = number(facts, "investment dry temperature")
    end = times[max(n for n, t in enumerate(kiln) if t <= dry + 1.0)]
    fine = np.linspace(0.0, end, 200001)
    exposure = float(np.trapezoid(np.maximum(np.interp(fine, times, kiln) - 373.15, 0.0), fine))
    return {"drying done": exposure / needed}


def stepped(facts: Facts, pour_name: str, hold_name: str) -> Expected:
    top, pour, hold = number(facts, "top temperature reached"), number(facts, pour_name), number(facts, hold_name)
    radius, half = number(facts, "flask diameter") / 2.0, number(facts, "flask height") / 2.0
    share = round_share(spread(facts) * hold / radius**2) * flat_share(spread(facts) * hold / half**2)
    return {"flask core temperature": pour + (top - pour) * share}


def carried(facts: Facts, start: float) -> Expected:
    radius, film = number(facts, "flask diameter") / 2.0, number(facts, "flask air cooling")
    biot, fourier = film * radius / number(facts, "investment conductivity"), 0.0
    fourier = spread(facts) * number(facts, "kiln to pour time") / radius**2
    share = round_share(fourier, 1.0 - number(facts, "gap to flask wall") / radius, biot)
    return {"flask temperature at pour": 295.15 + (start - 295.15) * share}


def planned(facts: Facts) -> Expected:
    """The plan's kiln followed by the method of lines: the soak ends on the quarter after the middle came near."""
    plan = next(c for c in CALCULATORS if c.name == "burnout plan").compute(facts)
    found = [(step.temperature, step.hold, step.rate) for step in schedule({**facts, **plan}).steps]
    steps, soak = found[:-1], found[-1]
    times, kiln = [0.0], [number(facts, "kiln loading temperature")]
    for hot, held, ramp in (*steps, (soak[0], 3e4, soak[2])):
        times += [times[-1] + abs(hot - kiln[-1]) / ramp]
        kiln += [hot]
        times += [times[-1] + held]
        kiln += [hot]
    fine = np.linspace(times[-2], times[-1], 3001)
    axis = cylinder(
        number(facts, "flask diameter") / 2.0, spread(facts), kiln[0], lambda t: float(np.interp(t, times, kiln)),
        np.concatenate(([0.0], fine)),
    )[1:]  # fmt: skip
    far = fine[np.abs(axis - soak[0]) > 12.0]
    needed = max(float(far[-1] - fine[0]) if len(far) else 0.0, 3600.0)
    whole = float(np.ceil(needed / 900.0) * 900.0)
    return {"planned soak": whole, "planned burnout time": times[-2] + whole}


MOLD: dict[str, Value] = {"investment": "gypsum investment", "flask diameter": 0.0762}
BURNED: Told = {
    **MOLD, "burnout hold temperatures": (C + 150, C + 370, C + 732, C + 540),
    "burnout hold times": (7200.0, 3600.0, 10800.0, 3600.0), "burnout ramps": (0.03, 0.04, 0.06, 0.06),
}  # fmt: skip
WEIGHED: Told = {
    **MOLD, "powder in the flask": 0.56, "empty flask weight": 0.4, "fired flask weight": 0.97,
    "filled flask weight": 1.21, "wax in the flask": 0.025, "water ratio": 40.0, "powder weight": 0.56,
    "label water": 40.0,
}  # fmt: skip
COLD: Told = {
    **MOLD, "kiln to pour time": 120.0, "gap to flask wall": 0.010, "flask temperature": C + 540,
    "pour hold temperature": C + 540, "pour soak time": 3600.0, "burnout top temperature": C + 732, "flask height": 0.1,
}  # fmt: skip
SERIES = "whole series, scipy's Bessel roots"

ROWS = (
    Row(
        "air pressure by altitude", "fluids, U.S. Standard Atmosphere 1976", 1e-4,
        tuple({"altitude": h} for h in (0.0, 300.0, 1600.0, 3000.0)), high_up,
    ),
    Row(
        "needed vacuum", "CoolProp", 1e-3,
        tuple({"altitude": 500.0, "slurry temperature": C + t} for t in (18, 22, 28)), vacuum,
    ),
    Row(
        "vacuum margin", "CoolProp, g of scipy", 1e-3,
        ({
            "local air pressure": 95e3, "investing vacuum": 90e3, "slurry temperature": C + 22, "flask height": 0.15,
            "sound slurry density": 1763.0,
        },),
        margin,
    ),
    Row(
        "end cover", "scipy solve_bvp of the plate equation", 1e-5,
        tuple({**MOLD, "end cover": t, "local air pressure": 90e3} for t in (0.008, 0.012)), bent,
    ),
    Row("flask filling", "CoolProp water, volumes added", 1e-4, ({**WEIGHED, "flask height": 0.1016},), filled),
    Row("slurry density", "CoolProp water, volumes added", 1e-4, (WEIGHED,), thick),
    Row("setting water", "molmass", 1e-4, (WEIGHED,), setting),
    Row(
        "mold dryness", "molmass; steam by IAPWS", 1e-3, (WEIGHED,),
        lambda f: wet_mold(f, number(f, "powder in the flask")),
    ),
    Row("mold dryness from the filled flask", "molmass; steam by IAPWS", 1e-3, (WEIGHED,), wet_mold_worked_back),
    Row("sulfur dioxide", "molmass; CoolProp sulfur dioxide", 0.02, (WEIGHED,), sulfur),
    Row("air to burn out", "molmass; CoolProp air", 2e-3, ({"wax left to burn": 0.02, "kiln volume": 0.028},), air),
    Row("measured diffusivity", SERIES, 1e-6, [{"flask diameter": 0.0762, "core half time": 1200.0}], half_way),
    Row("burnout ramps", f"numpy sampling; {SERIES}", 1e-4, (BURNED,), ramps),
    Row("ramp limit", SERIES, 1e-6, [{**MOLD, "flask diameter": d} for d in (0.0508, 0.1016)], ramp_limit),
    Row("drying", "IAPWS; boiling front by scipy quad", 5e-3, ({**BURNED, "label water": 40.0},), dried),
    Row(
        "flask middle", "scipy LSODA, rings of a cylinder", 1e-3,
        tuple({**BURNED, "flask diameter": d} for d in (0.0762, 0.1016)), followed,
    ),
    Row(
        "soak at pour temperature", SERIES, 1e-5, (COLD,),
        lambda f: stepped(f, "pour hold temperature", "pour soak time"),
    ),
    Row(
        "soak without ramps", SERIES, 1e-5, ({**BURNED, "flask height": 0.1},),
        lambda f: stepped(f, "recorded pour hold", "recorded soak"),
    ),
    Row("heat lost from a known flask", SERIES, 1e-5, (COLD,), lambda f: carried(f, number(f, "flask temperature"))),
    Row("heat lost to the pour", SERIES, 1e-5, (COLD,), lambda f: carried(f, number(f, "flask core temperature"))),
    Row(
        "burnout plan", "scipy LSODA, rings of a cylinder", 1e-9,
        (
            {**MOLD, "pour hold temperature": C + 540},
            {**MOLD, "flask diameter": 0.1016, "pour hold temperature": C + 480},
        ),
        planned,
    ),
)  # fmt: skip

WITHOUT = {
    "display to set": "a difference of temperatures",
    "flasks for one mix": "whole flasks in the time that is left at the pace of the batch; counted out in the tests of safe advice",
    "hands-off time": "hands on what was recorded",
    "sum of the steps": "a sum of recorded times",
    "idle before gloss-off": "differences of recorded times; how much to mix is the trade's habit",
    "working time": "the trade's clock, worked back by subtraction",
    "needed rest": "the trade's rest in proportion to the flask",
    "wall gap": "the trade's least wall, and a difference",
    "weighed mix": "the quotient of two weights",
    "recorded mix": "hands on what was recorded",
    "air pressure by barometer": "hands on what was read",
    "air in slurry": "a quotient of two densities; `slurry density` is held against CoolProp",
    "recorded holds": "picks the hottest and the last of the recorded holds",
    "recorded top": "hands on what was recorded",
    "recorded top hold": "hands on what was recorded",
    "wax left to burn": "a share of the wax, as the trade reckons it",
    "burnout top": "differences to the trade's ceiling and its hold in proportion to the flask",
    "flask heat limits": "differences to the trade's bounds",
    "flask middle limits": "differences to the trade's bounds",
}
