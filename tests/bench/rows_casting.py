"""References of the calculators of melt and pour."""

from __future__ import annotations

from functools import cache

import numpy as np
import periodictable
from chemicals import Hfus
from chemicals.heat_capacity import Cp_dict_PerryI
from CoolProp.CoolProp import PropsSI
from iapws import IAPWS95
from scipy.constants import R, atm, calorie, g
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq, fsolve

from diagnose.derive.calculator import Facts, Value, number
from tests.bench.row import Expected, Row, Told
from tests.bench.solvers import Floats

C = 273.15
# Assessment of Hayes, Lukas, Effenberg & Petzow, Z. Metallkde 77, 749 (1986), from memory [J/mol].
T_SILVER, LOW = 1234.93, 1052.25


def density(symbol: str) -> float:
    return float(periodictable.elements.symbol(symbol).density) * 1000.0


def molar(symbol: str) -> float:
    return float(periodictable.elements.symbol(symbol).mass) / 1000.0


def mixture(shares: dict[str, float]) -> float:
    return 1.0 / sum(share / density(symbol) for symbol, share in shares.items())


def metal(facts: Facts) -> Expected:
    """Sterling by the densities of its elements."""
    factor = mixture({"Ag": 0.925, "Cu": 0.075}) / number(facts, "wax density")
    tree = number(facts, "tree wax weight") * factor
    charge = (tree + number(facts, "button weight")) * (1.0 + number(facts, "loss allowance"))
    return {"wax to metal factor": factor, "metal in the tree": tree, "needed metal": charge}


def added(facts: Facts) -> Expected:
    """Stock and addition from the two balances of gold and of mass, solved together."""
    stock, fine = number(facts, "stock weight"), number(facts, "stock fineness")
    wanted, pure = number(facts, "wanted fineness"), number(facts, "addition fineness")
    addition, whole = np.linalg.solve([[pure, -wanted], [1.0, -1.0]], [-stock * fine, -stock])
    return {"needed addition": float(addition), "weight after addition": float(whole)}


def burned(facts: Facts) -> Expected:
    charge, lost, fine = number(facts, "metal weight"), number(facts, "weight lost"), number(facts, "metal fineness")
    left = charge - lost
    mark = number(facts, "marked fineness")
    back = brentq(lambda x: charge * fine - mark * (left + x), 0.0, charge)
    return {"fineness after melting": charge * fine / left, "most alloy metal to add": min(lost, back)}


def _silver_copper(t: float, x: Floats) -> list[float]:
    """How far silver and copper are from equal potential in liquid x[0] and crystal x[1], mole fractions of copper."""
    gaps = 11025.076 - 8.891021 * t - 1.034e-20 * t**7, 12964.735 - 9.511904 * t - 5.849e-21 * t**7
    energies = (17323.40 - 4.46819 * t, 1654.38 - 2.35285 * t), (36061.88 - 10.44288 * t, -4310.12)
    liquid, solid = (
        (
            R * t * np.log(1 - c) + c**2 * (even + skew * (3 - 4 * c)),
            R * t * np.log(c) + (1 - c) ** 2 * (even + skew * (1 - 4 * c)),
        )
        for c, (even, skew) in zip(x, energies, strict=True)
    )
    return [liquid[0] + gaps[0] - solid[0], liquid[1] + gaps[1] - solid[1]]


@cache
def tie_lines() -> tuple[Floats, Floats, Floats]:
    """Temperatures, and mass shares of copper in liquid and crystal, from silver down to the eutectic, by fsolve."""
    temperatures = np.linspace(1234.0, LOW, 400)
    guess, found = np.array([0.004, 0.002]), []
    for t in temperatures:
        guess = fsolve(lambda x, kelvin=t: _silver_copper(kelvin, x), guess, xtol=1e-12)
        found.append(guess * molar("Cu") / (guess * molar("Cu") + (1 - guess) * molar("Ag")))
    liquid, solid = np.array(found).T
    return temperatures, liquid, solid


def mixed(facts: Facts) -> Expected:
    temperatures, liquid, solid = tie_lines()
    content = number(facts, "second metal share")
    first, last = (float(np.interp(content, line, temperatures)) for line in (liquid, solid))
    path = np.linspace(content, liquid[-1], 20001)
    area = float(np.trapezoid(1.0 / (path - np.interp(path, liquid, solid)), path))
    return {"mix liquidus": first, "mix solidus": last, "mix frozen last": float(np.exp(-area))}


def sterling(facts: Facts) -> Expected:
    found = mixed({**facts, "second metal share": 0.075})
    return {"melting interval": found["mix liquidus"] - found["mix solidus"]}


def weighed(facts: Facts) -> Expected:
    air, wet = number(facts, "mass in air"), number(facts, "mass in water")
    water = IAPWS95(T=number(facts, "weighing water temperature"), P=atm / 1e6).rho
    soaked = number(facts, "mass in water after soak")
    return {
        "casting density": air * water / (air - wet),
        "porosity": 1.0 - air * water / (air - wet) / number(facts, "sound density"),
        "open porosity": (soaked - wet) / (air - wet),
    }


def steam(facts: Facts) -> Expected:
    return {
        "steam volume": number(facts, "water left in the mold")
        / PropsSI("D", "T", number(facts, "flask temperature"), "P", atm, "Water")
    }


def oxygen(facts: Facts) -> Expected:
    """Sieverts: the root of the share above the melt; cold oxygen by CoolProp."""
    held = number(facts, "metal oxygen uptake") * np.sqrt(number(facts, "oxygen above the melt"))
    return {"oxygen volumes": held * number(facts, "metal liquid density") / PropsSI("D", "T", C, "P", atm, "Oxygen")}


def spun(facts: Facts) -> Expected:
    heavy, spin = number(facts, "metal liquid density"), number(facts, "spin speed")
    pull = quad(lambda r: heavy * spin**2 * r, number(facts, "metal surface radius"), number(facts, "arm radius"))[0]
    return {"spin pressure": pull, "spin acceleration": spin**2 * number(facts, "arm radius")}


def head(facts: Facts) -> Expected:
    return {
        "head pressure": quad(lambda _: number(facts, "metal liquid density") * g, 0.0, number(facts, "metal head"))[0]
    }


def sucked(facts: Facts) -> Expected:
    weight = quad(lambda _: number(facts, "metal liquid density") * g, 0.0, number(facts, "metal head"))[0]
    return {"vacuum pressure": number(facts, "vacuum at pour") + weight}


def thinned(facts: Facts) -> Expected:
    """The share of the air's mass that is gone from the same space, dry air by CoolProp."""
    air = number(facts, "local air pressure")
    before, after = (PropsSI("D", "T", C + 20, "P", p, "Air") for p in (air, air - number(facts, "vacuum at pour")))
    return {"vacuum share": 1.0 - after / before}


def held_back(facts: Facts) -> Expected:
    """The wall, wire and edge in which a step forward costs as much new surface as the pressure does work."""
    tension, pressure, step = number(facts, "metal surface tension"), number(facts, "casting pressure"), 1e-6
    wall = brentq(lambda t: pressure * t * step - tension * 2.0 * step, 1e-9, 1.0, xtol=1e-15)
    edge = brentq(lambda r: pressure * (np.pi * r / 2) * 1e-9 - tension * (np.pi / 2) * 1e-9, 1e-9, 1.0, xtol=1e-15)
    return {
        "smallest filled detail": wall,
        "sharpest filled edge": edge,
        "fill margin": number(facts, "thinnest section") / wall,
    }


def frozen(facts: Facts) -> Expected:
    """Metal of even temperature on a deep mold, heat of freezing over the range, by scipy's BDF."""
    k, heavy, warm = (number(facts, f"fired mold {n}") for n in ("conductivity", "density", "specific heat"))
    top, cp = number(facts, "metal liquidus"), number(facts, "metal specific heat")
    end, latent = top - number(facts, "metal freezing range"), number(facts, "metal latent heat")
    of_range, modulus = latent + cp * (top - end), number(facts, "thinnest section") / 2.0
    edges = np.concatenate([[0.0], np.cumsum(np.geomspace(2e-5, 1.5e-3, 120))])
    widths, centres = np.diff(edges), 0.5 * (edges[1:] + edges[:-1])

    def change(_: float, y: Floats) -> Floats:
        melt = top + (y[0] - of_range) / cp if y[0] >= of_range else end + y[0] / of_range * (top - end)
        first = k * (melt - y[1]) / (widths[0] / 2)
        flows = np.concatenate([[first], k * (y[1:-1] - y[2:]) / np.diff(centres), [0.0]])
        inside = (flows[:-1] - flows[1:]) / (heavy * warm * widths)
        return np.concatenate([[-first / (number(facts, "metal density") * modulus)], inside])

    def solid(_: float, y: Floats) -> float:
        return float(y[0])

    solid.terminal = True  # type: ignore[attr-defined]
    begin = of_range + cp * (number(facts, "pour temperature") - top)
    start = np.concatenate([[begin], np.full(len(widths), number(facts, "flask temperature"))])
    return {
        "thin section freezing time": float(solve_ivp(change, (0, 5000), start, "BDF", events=solid, rtol=1e-6).t[-1])
    }


def melted(facts: Facts) -> Expected:
    """Silver with Perry's specific heat, which rises with temperature, and the CRC heat of fusion (chemicals)."""
    perry, weight = Cp_dict_PerryI["7440-22-4"], number(facts, "metal weight") / molar("Ag")
    solid = quad(
        lambda t: (perry["c"]["Const"] + perry["c"]["Lin"] * t) * calorie, number(facts, "charge temperature"), T_SILVER
    )[0]
    liquid = perry["l"]["Const"] * calorie * (number(facts, "pour temperature") - T_SILVER)
    return {"melting heat": weight * (solid + Hfus("7440-22-4") + liquid)}


SILVER: dict[str, Value] = {
    "metal": "sterling",
    "wax": "injection wax",
    "tree wax weight": 0.025,
    "button weight": 0.03,
}
POURED: Told = {
    "metal": "sterling", "pour temperature": C + 980, "flask temperature": C + 540, "thinnest section": 0.002,
    "casting pressure": 60e3, "metal head": 0.1, "vacuum at pour": 88e3, "water left in the mold": 0.002,
}  # fmt: skip
SPUN: Told = {"metal": "sterling", "spin speed": 41.9, "arm radius": 0.25, "metal surface radius": 0.18}
STOCK: Told = {"stock weight": 0.1, "stock fineness": 0.585, "wanted fineness": 0.75, "addition fineness": 1.0}

ROWS = (
    Row("needed metal", "periodictable, densities of the elements", 1e-3, (SILVER,), metal),
    Row(
        "alloy density", "periodictable, densities of the elements", 1e-3,
        ({"alloy shares": (0.75, 0.125, 0.125), "alloy densities": (19300.0, 10500.0, 8960.0)},),
        lambda _: {"alloy density": mixture({"Au": 0.75, "Ag": 0.125, "Cu": 0.125})},
    ),
    Row(
        "fineness change", "numpy.linalg, two balances", 1e-9,
        (STOCK, {**STOCK, "wanted fineness": 0.375, "addition fineness": 0.0}), added,
    ),
    Row(
        "fineness after melting", "scipy brentq on the balance", 1e-9,
        ({"metal": "14k yellow gold", "metal weight": 0.1, "weight lost": 0.002, "marked fineness": 0.583},), burned,
    ),
    Row(
        "melting range of a mix", "scipy fsolve on the 1986 assessment", 5e-3,
        tuple({"metal": "silver-copper mix", "second metal share": c} for c in (0.05, 0.065, 0.075)), mixed,
    ),
    Row("melting range", "scipy fsolve on the 1986 assessment", 0.01, ({"metal": "sterling"},), sterling),
    Row(
        "porosity", "IAPWS-95 water", 5e-4,
        ({
            "mass in air": 0.010, "mass in water": 0.00902, "mass in water after soak": 0.00903,
            "sound density": 10360.0,
        },),
        weighed,
    ),
    Row("steam", "CoolProp water", 2e-3, (POURED,), steam),
    Row(
        "oxygen in the melt", "CoolProp oxygen", 2e-3, ({"metal": "fine silver", "oxygen above the melt": 0.21},),
        oxygen,
    ),
    Row("spin pressure", "scipy quad", 1e-9, (SPUN, {**SPUN, "spin speed": 31.4}), spun),
    Row("head pressure", "scipy quad and g", 1e-9, (POURED,), head),
    Row("vacuum pressure", "scipy quad and g", 1e-9, (POURED,), sucked),
    Row(
        "vacuum share", "CoolProp dry air", 5e-4,
        tuple({"vacuum at pour": 70e3, "local air pressure": p} for p in (101325.0, 84.56e3, 72e3)), thinned,
    ),
    Row("smallest filled detail", "scipy brentq on work against surface", 1e-6, (POURED,), held_back),
    Row(
        "freezing time", "scipy BDF, conduction into the mold", 0.02,
        (POURED, {**POURED, "metal": "tin bronze", "pour temperature": C + 1100}), frozen,
    ),
    Row(
        "melting heat", "chemicals: Perry's heat capacity, CRC fusion", 0.02,
        ({"metal": "fine silver", "metal weight": 0.1, "pour temperature": C + 1040},), melted,
    ),
)  # fmt: skip

WITHOUT = {
    "recycled share": "one less a share, and the trade's limit",
    "charge make-up": "a share of the charge",
    "karat": "the definition: parts in 24",
    "karat of a fineness": "the definition: parts in 24",
    "quench window": "the trade's waits, scaled by the trade's figures for two other flasks",
    "thermometer error": "the difference of two readings",
    "section class": "bands of the trade",
    "superheat": "a difference of temperatures",
    "needed pour temperature": "the trade's table between heavy and fine sections",
    "flask for two sections": "the bands of the trade for one section, taken twice",
    "cooler flask": "a step of the trade (common practice), held over limits that are tested case by case",
    "hotter flask": "a step of the trade (common practice), held under limits that are tested case by case",
    "needed flask temperature": "the trade's table between heavy and fine sections",
    "casting pressure": "picks the pressure of the method in use",
}
