"""References of the mold's calculators."""

from __future__ import annotations

import numpy as np
import pint
from CoolProp.CoolProp import PropsSI
from scipy.constants import R, atm
from scipy.integrate import quad
from scipy.optimize import brentq

from diagnose.derive.calculator import Facts, Value, number
from tests.bench.row import Expected, Row, Told
from tests.bench.solvers import CELLS, PLACES, block, dose_curve, flat_share, pace, pressed, time_for

C = 273.15
T90 = 480.0
INCH: Told = {
    "rubber": "natural rubber", "platen temperature": C + 153, "rubber thickness": 0.0254, "cure time": 3600.0,
    "own t90": T90,
}  # fmt: skip
THIN: Told = {**INCH, "rubber thickness": 0.0127, "cure time": 1500.0, "platen contact": 500.0}
UNEVEN: Told = {
    **{n: v for n, v in INCH.items() if n != "platen temperature"}, "top platen temperature": C + 158,
    "bottom platen temperature": C + 148, "rubber thickness": 0.0381, "cure time": 5400.0,
}  # fmt: skip
COOLED: Told = {**INCH, "block cooled": "loose in air", "block cooling time": 5400.0}
UNITS = pint.UnitRegistry()
METHOD = "scipy LSODA, method of lines"


def cure(facts: Facts) -> Expected:
    duration = number(facts, "cure time")
    times, kelvin = pressed(facts, duration)
    hot = {name: float(dose_curve(facts, times, kelvin[node])(duration)) for name, node in PLACES.items()}
    found = {"core end temperature": float(kelvin[CELLS // 2, -1])}
    if "cooling strength" in facts:
        air = number(facts, "cooling surroundings")
        long = number(facts, "block cooling time")
        after, cold = block(facts, kelvin[:, -1], long, (air, air), number(facts, "cooling strength"))
        gained = {name: float(dose_curve(facts, after, cold[node])(long)) for name, node in PLACES.items()}
        found["cooling core dose"] = gained["middle"]
        hot = {name: dose + gained[name] for name, dose in hot.items()}
    return {
        **found, "core dose": hot["middle"], "quarter dose": min(hot["lower"], hot["upper"]),
        "skin dose": max(hot["bottom"], hot["top"]), "core cure": hot["middle"] / T90,
    }  # fmt: skip


def schedule(facts: Facts) -> Expected:
    need = time_for(facts, number(facts, "wanted core cure") * T90, CELLS // 2, 4.0 * number(facts, "cure time"))
    return {"needed cure time": need, "cure time against need": number(facts, "cure time") / need}


def closing(facts: Facts) -> Expected:
    times, kelvin = pressed(facts, 7200.0)
    at = CELLS * (1.0 - number(facts, "scorch depth") / number(facts, "rubber thickness"))
    below, share = int(at), at - int(at)
    curve = dose_curve(facts, times, (1.0 - share) * kelvin[below] + share * kelvin[below + 1])
    scorch = number(facts, "rubber scorch time")
    return {"latest closing time": float(brentq(lambda t: float(curve(t)) - scorch, 1.0, 7200.0, xtol=1e-6))}


def again(facts: Facts) -> Expected:
    missing = number(facts, "wanted core cure") * T90 - number(facts, "core dose")
    return {"missing dose": missing, "re-cure least time": time_for(facts, missing, CELLS // 2, 14400.0)}


def thumb(facts: Facts) -> Expected:
    time = number(facts, "rubber layer time") * number(facts, "rubber thickness")
    time /= number(facts, "rubber layer thickness")
    times, kelvin = pressed(facts, time)
    return {"rule of thumb core cure": float(dose_curve(facts, times, kelvin[CELLS // 2])(time)) / T90}


def warm(facts: Facts) -> Expected:
    times, kelvin = pressed(facts, 20000.0)
    start, end = number(facts, "rubber start temperature"), number(facts, "top face temperature")
    reached = float(np.interp(start + 0.9 * (end - start), kelvin[CELLS // 2], times))
    return {"warm-up time of the middle": reached}


def sides(facts: Facts) -> Expected:
    start, hot = number(facts, "rubber start temperature"), number(facts, "top face temperature")
    spread = number(facts, "rubber diffusivity")
    ways = [number(facts, name) / 2.0 for name in ("frame length", "frame width", "rubber thickness")]

    def rate(t: float) -> float:
        left = float(np.prod([flat_share(spread * t / way**2) for way in ways]))
        return float(pace(facts, np.array([hot - (hot - start) * left]))[0])

    return {"core dose with hot sides": quad(rate, 1e-3, number(facts, "cure time"), epsrel=1e-6, limit=200)[0]}


def cool_down(facts: Facts) -> Expected:
    hot, wanted = number(facts, "top face temperature"), number(facts, "wanted opening temperature")
    found = {}
    for name, around, strength in (
        ("cool-down time in air", "cooling air temperature", "air heat transfer"),
        ("cool-down time in water", "mold quench temperature", "water heat transfer"),
    ):
        outside = number(facts, around)
        times, kelvin = block(facts, hot, 20000.0, (outside, outside), number(facts, strength))
        found[name] = float(np.interp(-wanted, -kelvin[CELLS // 2], times))
    return found


def ageing(facts: Facts) -> Expected:
    energy, shelf = number(facts, "rubber activation energy"), number(facts, "rubber shelf temperature")
    warm = number(facts, "storage temperature")
    age = quad(lambda t: np.exp(energy / R * (1.0 / shelf - 1.0 / warm)), 0.0, number(facts, "storage time"))[0]
    return {"raw stock age": age}


def survey(facts: Facts) -> Expected:
    readings = np.array(facts["platen readings"])
    shown, energy = number(facts, "press display"), number(facts, "rubber activation energy")
    factors = np.exp(energy / R * (1.0 / shown - 1.0 / readings))
    return {
        "platen error": float(np.mean(readings - shown)), "platen spread": float(np.ptp(readings)),
        "slowest platen factor": float(factors.min()), "fastest platen factor": float(factors.max()),
    }  # fmt: skip


def steam(facts: Facts) -> Expected:
    return {"steam pressure": PropsSI("P", "T", number(facts, "top face temperature"), "Q", 0, "Water") - atm}


def layered(facts: Facts) -> Expected:
    film = number(facts, "platen contact") * UNITS("W/m^2/K")
    layer = (
        number(facts, "heat barrier thickness")
        * UNITS.m
        / (number(facts, "heat barrier conductivity") * UNITS("W/m/K"))
    )
    return {"contact through the layer": (1.0 / (1.0 / film + layer)).to("W/m^2/K").magnitude}


def packed(facts: Facts) -> Expected:
    inch, ounce = UNITS.inch, UNITS.ounce

    def told(name: str, unit: str) -> pint.Quantity:
        return (number(facts, name) * UNITS(unit)).to_base_units()

    area = (told("frame length", "m").to(inch) * told("frame width", "m").to(inch)).to(inch**2)
    frame = area * told("frame depth", "m").to(inch)
    density = told("rubber density", "kg/m^3").to(ounce / inch**3)
    needed = frame + area * told("wanted proud height", "m").to(inch)
    rubber = told("sheet thickness", "m").to(inch) * area * number(facts, "sheets")
    return {
        "needed rubber mass": (needed * density).to("kg").magnitude,
        "rubber mass": (rubber * density).to("kg").magnitude,
        "overfill": (rubber / frame).to_base_units().magnitude - 1.0,
        "needed sheets": (needed / area / told("sheet thickness", "m")).to_base_units().magnitude,
    }


def shrunk(facts: Facts) -> Expected:
    """The cavity was as large as the hot model, and loses as much volume as the rubber around it on cooling."""
    warm = number(facts, "platen temperature") - number(facts, "measuring temperature")
    hot = (1.0 + number(facts, "model metal expansion") * warm) ** 3
    beta = number(facts, "rubber volume expansion")
    size = brentq(lambda edge: edge**3 * (1.0 + beta * warm) - hot, 0.5, 1.5, xtol=1e-14)
    return {"rubber shrinkage": 1.0 - size}


# A. N. Gent, Rubber Chem. Technol. 31, 896 (1958), stiffness in MPa at hardnesses from 30 to 60, as recalled.
GENT = {30.0: 1.14, 40.0: 1.69, 50.0: 2.46, 60.0: 3.61}


def clamped(facts: Facts) -> Expected:
    pressure, area = number(facts, "injection pressure"), number(facts, "cavity area")
    force = (pressure * UNITS.pascal).to("psi") * (area * UNITS.meter**2).to("inch**2")
    wide = 1e4  # Lame's thick cylinder, plane strain, incompressible: outside so many times the bore
    grown = 1.5 * pressure / (GENT[number(facts, "mold hardness")] * 1e6) * wide**2 / (wide**2 - 1.0)
    return {"opening force": force.to("newton").magnitude, "cavity growth": grown}


CLAMP: Told = {"injection pressure": 55e3, "cavity area": 2e-4}
PACK: Told = {
    "rubber": "natural rubber", "frame length": 0.073, "frame width": 0.048, "frame depth": 0.025, "sheets": 8.0,
}  # fmt: skip
RING: dict[str, Value] = {
    "model size": 0.01995, "cavity size": 0.01988, "wax size": 0.01963, "cast size": 0.01982,
}  # fmt: skip
SIZES: Told = {
    "measured rubber shrinkage": 0.00351, "wax shrinkage step": 0.01258, "metal shrinkage step": -0.00968,
    "finishing loss": 0.0, "model size": 0.01995, "wanted finished size": 0.01982, "rubber": "natural rubber",
    "model metal": "brass", "platen temperature": C + 153,
}  # fmt: skip
PRINTED = "a published ring measured at each step"
INCH_TABLE = "printed table of the inch system, ISO 8653"


def ring(bore: float, around: float, size: float) -> Expected:
    return {"bore found": bore, "size as circumference": around, "size in the inch system": size}


def bored(facts: Facts) -> Expected:
    """Bores, circumferences and inch sizes of the printed table, by any of the three."""
    for size, bore, around in ((5.0, 0.015697, 49.31), (7.0, 0.017323, 54.42), (10.0, 0.019761, 62.08)):
        if facts.get("ring bore") == bore or facts.get("ring inch size") == size:
            return ring(bore, around, size)
        if facts.get("ring circumference size") == around:
            return ring(bore, around, size)
    raise KeyError("not in the table")


ROWS = (
    Row("cure", METHOD, 2e-4, (INCH, THIN, UNEVEN, COOLED), cure),
    Row("cure schedule", METHOD, 2e-4, (INCH, THIN), schedule),
    Row("closing", METHOD, 2e-4, (INCH, {**INCH, "scorch depth": 0.0015875}), closing),
    Row("re-cure", METHOD, 2e-4, ({**INCH, "cure time": 2400.0},), again),
    Row("rule of thumb", METHOD, 2e-4, (INCH, {**INCH, "rubber thickness": 0.0381}), thumb),
    Row("warm-up of the middle", METHOD, 2e-4, (INCH, {**THIN, "rubber thickness": 0.0508}), warm),
    Row("cool-down", METHOD, 2e-4, (INCH, {**INCH, "rubber thickness": 0.0381}), cool_down),
    Row(
        "three-dimensional cure", "product of three series, scipy quad", 1e-5,
        ({
            **INCH, "frame length": 0.073, "frame width": 0.048, "platen contact": 20000.0, "rubber conductivity": 1e-4,
        },),
        sides,
    ),
    Row(
        "heat barrier", "pint, resistances in series", 1e-9,
        ({"heat barrier thickness": 0.0008}, {"heat barrier thickness": 0.002, "platen contact": 400.0}), layered,
    ),
    Row(
        "raw rubber age", "scipy quad of the Arrhenius rate", 1e-6,
        tuple({"rubber": "natural rubber", "storage time": 4e7, "storage temperature": C + t} for t in (15, 25, 35)),
        ageing,
    ),
    Row(
        "platen survey", "numpy and R of scipy", 1e-9,
        ({
            "platen readings": (C + 166, C + 147, C + 150, C + 155, C + 152), "press display": C + 153,
            "rubber activation energy": 100e3,
        },),
        survey,
    ),
    Row("steam in the rubber", "CoolProp", 1e-3, tuple({"platen temperature": C + t} for t in (153, 175)), steam),
    Row("packing", "pint, volumes in inches and ounces", 1e-5, (PACK,), packed),
    Row(
        "rubber shrinkage", "scipy brentq on the volume balance", 1e-9,
        tuple({"rubber": "natural rubber", "model metal": "brass", "platen temperature": C + t} for t in (143, 153)),
        shrunk,
    ),
    Row(
        "rubber shrinkage from set temperature", "scipy brentq on the volume balance", 1e-9,
        ({"rubber": "peroxide silicone", "model metal": "brass", "gel temperature": C + 165},),
        lambda facts: shrunk({**facts, "platen temperature": facts["gel temperature"]}),
    ),
    Row("clamp", "pint; Gent 1958 as recalled, Lame", 5e-3, [{**CLAMP, "mold hardness": h} for h in GENT], clamped),
    Row(
        "measured shrinkage", PRINTED, 1e-3, (RING,),
        lambda _: {"cavity shrinkage": 0.00351, "wax step measured": 0.01258, "metal step measured": -0.00968},
    ),
    Row(
        "size chain by ruler test", PRINTED, 1e-3, (SIZES,),
        lambda _: {"total shrinkage": 0.00652, "master scale": 19.95 / 19.82},
    ),
    Row("finished size", PRINTED, 2e-5, (SIZES,), lambda _: {"expected finished size": 0.01982}),
    Row("needed model size", PRINTED, 2e-5, (SIZES,), lambda _: {"needed model size": 0.01995}),
    Row("ring size by bore", INCH_TABLE, 1e-3, tuple({"ring bore": b} for b in (0.015697, 0.017323, 0.019761)), bored),
    Row(
        "ring size by circumference", INCH_TABLE, 1e-3,
        tuple({"ring circumference size": c} for c in (49.31, 54.42, 62.08)), bored,
    ),
    Row("ring size by inch size", INCH_TABLE, 1e-3, tuple({"ring inch size": s} for s in (5.0, 7.0, 10.0)), bored),
)  # fmt: skip

WITHOUT = {
    "cooling of the block": "hands on what is assumed for the way of cooling; computes nothing",
    "platen faces": "adds the probe's correction to what the press shows",
    "platens read apart": "hands on two readings and their difference",
    "size chain": "the product of the steps as in `size chain by ruler test`, with the rubber's step by heat",
}
