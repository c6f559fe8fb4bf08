"""References of the calculators of wax and tree."""

from __future__ import annotations

from collections.abc import Callable
from math import hypot, inf, pi

import numpy as np
from CoolProp.CoolProp import PropsSI
from scipy import stats
from scipy.constants import g
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq, minimize_scalar

from diagnose.derive.calculator import Facts, Value, number
from tests.bench.row import Expected, Row, Told
from tests.bench.solvers import Floats

C = 273.15


def frozen(facts: Facts, half: float, bend: float, targets: tuple[float, ...]) -> list[float]:
    """Times until the middle of wax in rubber is at some temperatures: enthalpy in fine cells, scipy's BDF."""
    deep = min(number(facts, "rubber thickness") / 2.0 if "rubber thickness" in facts else inf, 60.0 * half)
    faces = np.concatenate((np.linspace(0.0, half, 31), half + (deep - half) * np.linspace(0.0, 1.0, 91)[1:] ** 2))
    middles = 0.5 * (faces[1:] + faces[:-1])
    inside = middles < half
    k = np.where(inside, number(facts, "wax conductivity"), number(facts, "rubber conductivity"))
    rubber = number(facts, "rubber conductivity") / number(facts, "rubber diffusivity")
    held = np.where(inside, number(facts, "wax density") * number(facts, "wax specific heat"), rubber)
    latent = np.where(inside, number(facts, "wax density") * number(facts, "wax latent heat"), 0.0)
    high, low = number(facts, "wax freezing start"), number(facts, "wax freezing end")
    through = faces[1:-1] ** bend / ((faces[1:-1] - middles[:-1]) / k[:-1] + (middles[1:] - faces[1:-1]) / k[1:])
    volume = np.diff(faces ** (bend + 1)) / (bend + 1)

    def kelvin(heat: Floats) -> Floats:
        cold, hot = held * low, held * high + latent
        freezing = low + (heat - cold) / (hot - cold) * (high - low)
        return np.where(heat <= cold, heat / held, np.where(heat >= hot, high + (heat - hot) / held, freezing))

    def change(_: float, heat: Floats) -> Floats:
        flow = through * np.diff(kelvin(heat))
        return np.asarray((np.append(flow, 0.0) - np.insert(flow, 0, 0.0)) / volume)

    hot = number(facts, "wax temperature")
    start = np.where(inside, held * hot + latent, held * number(facts, "mold temperature"))
    solved = solve_ivp(
        change, (0.0, 1500.0), start, "LSODA", np.geomspace(0.05, 1500.0, 1500), rtol=1e-5, atol=100.0, lband=1, uband=1
    )
    cold, hot = held[0] * low, held[0] * high + latent[0]
    middle = solved.y[0]
    fall = np.interp(middle, (0.0, cold, hot, 2.0 * hot), (0.0, low, high, high + hot / held[0]))
    return [float(np.interp(-target, -fall, solved.t)) for target in targets]


def hold(facts: Facts) -> Expected:
    (solid,) = frozen(facts, number(facts, "wax gate diameter") / 2.0, 1.0, (number(facts, "wax freezing end"),))
    return {"wax gate freeze time": solid}


def widest(facts: Facts) -> Expected:
    """The square law of the freezing time is not used: the width that shuts in time is searched for."""
    end, most = (number(facts, "wax freezing end"),), number(facts, "longest hold") / number(facts, "gate shut share")
    shuts = solved(lambda d: frozen(facts, d / 2.0, 1.0, end)[0], most, 0.001, 0.006)
    return {
        "widest wax gate": min(number(facts, "most gate over its joint") * number(facts, "section at the gate"), shuts)
    }


def firm(facts: Facts) -> Expected:
    targets = number(facts, "wax freezing end"), number(facts, "wax firm temperature")
    solid, set_ = frozen(facts, number(facts, "heaviest section") / 2.0, 0.0, targets)
    return {"wax solid time": solid, "wax set time": set_}


def warmed(facts: Facts) -> Expected:
    """Heat of a shot by quadrature, and a long run of shots followed one by one."""
    low, high = number(facts, "wax freezing end"), number(facts, "wax freezing start")

    def held(t: float) -> float:
        return number(facts, "wax specific heat") + (
            number(facts, "wax latent heat") / (high - low) if low < t < high else 0
        )

    ends = number(facts, "wax firm temperature"), number(facts, "wax temperature")
    heat = quad(held, *ends, points=(low, high))[0] * number(facts, "wax shot weight")
    sides = [number(facts, name) for name in ("frame length", "frame width", "rubber thickness")]
    mass = float(np.prod(sides)) * number(facts, "rubber density")
    rise = heat / (mass * number(facts, "rubber specific heat"))
    surface = 2.0 * (sides[0] * sides[1] + sides[1] * sides[2] + sides[0] * sides[2])
    fade = number(facts, "air heat transfer") * surface / (mass * number(facts, "rubber specific heat"))
    interval, excess, mean = number(facts, "shot interval"), 0.0, 0.0
    for _ in range(400):
        start = excess + rise
        excess = start * float(np.exp(-fade * interval))
        mean = (start - excess) / (fade * interval)
    return {"mold rise per shot": rise, "settled mold temperature": number(facts, "wax room temperature") + mean}


def reach(gap: float, pressure: float) -> float:
    """How far wax creeps into a slot until it is frozen, in units of its own: Poiseuille flow, followed by scipy."""
    shut = (gap * 1e4) ** 2
    flow = solve_ivp(lambda _, x: [gap**2 * pressure / (12.0 * 0.2 * x[0])], (0.0, shut), [1e-9], rtol=1e-9, atol=1e-15)
    return float(flow.y[0, -1])


def reached(facts: Facts) -> Expected:
    now = reach(number(facts, "thinnest section"), number(facts, "injection pressure"))
    then = reach(number(facts, "thinnest section that filled"), number(facts, "pressure that filled"))
    return {"wax reach ratio": now / then}


def fins(facts: Facts) -> Expected:
    was = reach(number(facts, "parting gap"), number(facts, "injection pressure"))
    now = reach(number(facts, "wanted parting gap"), number(facts, "wanted injection pressure"))
    return {"fin length ratio": now / was}


def trapped(facts: Facts) -> Expected:
    """Air squeezed at one temperature, by CoolProp's equation of state for air."""
    air = number(facts, "local air pressure")
    vacuum = number(facts, "mold vacuum") if "mold vacuum" in facts else 0.0
    before, after = (
        PropsSI("D", "T", 310.0, "P", p, "Air") for p in (air - vacuum, air + number(facts, "injection pressure"))
    )
    return {"filled pocket": 1.0 - before / after, "trapped bubble size": (before / after) ** (1 / 3)}


def wet(facts: Facts) -> Expected:
    air, hot = number(facts, "local air pressure"), number(facts, "wax temperature")
    return {
        "vacuum that boils water": air - PropsSI("P", "T", hot, "Q", 0, "Water"),
        "drying wax temperature": PropsSI("T", "P", air - number(facts, "pot vacuum"), "Q", 0, "Water"),
    }


def pushed(facts: Facts) -> Expected:
    level, across = number(facts, "wax level over the nozzle"), number(facts, "pot lid diameter")
    pressure, density = number(facts, "injection pressure"), number(facts, "wax liquid density")
    lid = quad(lambda r: 2.0 * pi * r * pressure, 0.0, across / 2.0)[0]
    return {"nozzle pressure": pressure + quad(lambda _: density * g, 0.0, level)[0], "lid force": lid}


def weighed(facts: Facts) -> Expected:
    waxes = np.array(facts["wax weights"])
    n, mean, spread = len(waxes), float(waxes.mean()), float(waxes.std(ddof=1))
    low, high = (spread * np.sqrt((n - 1) / stats.chi2.ppf(p, n - 1)) for p in (0.975, 0.025))
    line = stats.linregress(range(n), waxes)
    return {
        "wax weight mean": mean, "wax weight scatter": spread / mean, "lowest true scatter": low / mean,
        "highest true scatter": high / mean, "wax weight drift": line.slope * (n - 1) / mean,
        "wax weight mean uncertainty": stats.t.ppf(0.975, n - 1) * stats.sem(waxes),
    }  # fmt: skip


def polygon(points: Floats) -> float:
    """Area over outline of a closed polygon: the cooling thickness of a long section of that shape."""
    x, y = points[:, 0], points[:, 1]
    area = 0.5 * abs(float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))))
    return area / float(np.sum(np.hypot(np.roll(x, -1) - x, np.roll(y, -1) - y)))


def round_bar(diameter: float) -> float:
    turn = np.linspace(0.0, 2 * pi, 20000, endpoint=False)
    return polygon(0.5 * diameter * np.column_stack((np.cos(turn), np.sin(turn))))


def flat_bar(thick: float, wide: float) -> float:
    return polygon(np.array([(0.0, 0.0), (wide, 0.0), (wide, thick), (0.0, thick)]))


def half_round_bar(high: float, wide: float) -> float:
    radius = (wide**2 / 4 + high**2) / (2 * high)
    x = np.linspace(-wide / 2, wide / 2, 200001)
    return polygon(np.column_stack((x, np.sqrt(np.maximum(radius**2 - x**2, 0.0)) - (radius - high))))


def turned(radius: float, high: float) -> float:
    """Volume over surface of a flat round body, by quadrature over its radius."""
    volume = quad(lambda r: 2 * pi * r * high, 0.0, radius)[0]
    return volume / (2.0 * quad(lambda r: 2 * pi * r, 0.0, radius)[0] + 2 * pi * radius * high)


def solved(shape: Callable[[float], float], wanted: float, low: float, high: float) -> float:
    return float(brentq(lambda d: shape(d) - wanted, low, high, xtol=1e-12))


def shapes(facts: Facts) -> Expected:
    thick, wide = number(facts, "heaviest section"), number(facts, "heaviest section width")
    ball = quad(lambda x: pi * (thick**2 / 4 - x**2), -thick / 2, thick / 2)[0] / (pi * thick**2)
    return {
        "wall modulus": flat_bar(thick, 1e6 * thick), "rod modulus": round_bar(thick), "ball modulus": ball,
        "bar modulus": flat_bar(thick, wide), "disc modulus": turned(wide / 2, thick),
        "half-round modulus": half_round_bar(thick, wide), "tube modulus": flat_bar(thick, 1e6 * thick),
    }  # fmt: skip


def part(facts: Facts) -> Expected:
    return {"part modulus": flat_bar(number(facts, "heaviest section"), number(facts, "heaviest section width"))}


def gate(facts: Facts) -> Expected:
    ratio = round_bar(number(facts, "gate diameter")) / number(facts, "part modulus")
    return {"gate modulus ratio": ratio, "gate time ratio": ratio**2}


def needed(facts: Facts, name: str, margin: str = "feeding margin", of: str = "part modulus") -> Expected:
    return {name: solved(round_bar, number(facts, margin) * number(facts, of), 1e-4, 0.1)}


def wax_gate(facts: Facts) -> Expected:
    modulus = flat_bar(number(facts, "heaviest section"), number(facts, "heaviest section width"))
    return {"needed wax gate": solved(round_bar, number(facts, "feeding margin") * modulus, 1e-4, 0.1)}


def button(facts: Facts) -> Expected:
    radius, density = number(facts, "button diameter") / 2.0, number(facts, "metal density")
    wanted = number(facts, "button margin") * round_bar(number(facts, "trunk diameter"))
    high = solved(lambda h: turned(radius, h), wanted, 1e-4, 0.5)
    is_high = number(facts, "button weight") / density / (pi * radius**2)
    ratio = turned(radius, is_high) / round_bar(number(facts, "trunk diameter"))
    return {
        "needed button height": high,
        "needed button weight": high * pi * radius**2 * density,
        "button modulus ratio": ratio,
    }


def joint(facts: Facts) -> Expected:
    """The largest circle in a T of wall and gate, found by a search for the roomiest point."""
    wall, stem = number(facts, "heaviest section"), number(facts, "gate diameter")

    def room(h: float) -> float:
        return min(h, hypot(stem / 2, wall - h) if h <= wall else stem / 2)

    best = minimize_scalar(lambda h: -room(h), bounds=(0.4 * wall, wall), method="bounded", options={"xatol": 1e-10})
    return {"joint time ratio": (2.0 * -best.fun / wall) ** 2}


def feed(facts: Facts) -> Expected:
    shrinks, gives = number(facts, "metal freezing shrinkage"), number(facts, "feeder efficiency")
    return {"feed metal share": brentq(lambda share: gives * share - shrinks * (share + 1.0), 0.0, 10.0)}


def on_a_row(facts: Facts) -> Expected:
    """As many points on a circle as keep their distance, tried one more at a time."""
    circle, apart = number(facts, "part circle"), number(facts, "part width") + number(facts, "wanted gap")
    count = 1
    while True:
        turn = 2 * pi * np.arange(count + 1) / (count + 1)
        points = circle / 2 * np.column_stack((np.cos(turn), np.sin(turn)))
        if min(float(np.hypot(*(points[0] - p))) for p in points[1:]) < apart - 1e-12:
            return {"most parts in a row": float(count)}
        count += 1


WAX: dict[str, Value] = {
    "wax": "injection wax", "rubber": "natural rubber", "wax temperature": C + 70, "mold temperature": C + 22,
}  # fmt: skip
SECTION: Told = {"heaviest section": 0.003, "heaviest section width": 0.008}
BAR: Told = {"heaviest section": 0.0015, "heaviest section width": 0.004, "gate diameter": 0.003}
FLOW = "scipy solve_ivp of Poiseuille flow until frozen"
SHAPES = "areas and outlines of polygons (numpy), scipy brentq"
ENTHALPY = "scipy LSODA, enthalpy in fine cells"

ROWS = (
    Row("wax hold time", ENTHALPY, 0.06, tuple({**WAX, "wax gate diameter": d} for d in (0.0015, 0.003)), hold),
    Row("wax gate limit", ENTHALPY, 0.06, tuple({**WAX, "section at the gate": t} for t in (0.0015, 0.005)), widest),
    Row("wax set time", ENTHALPY, 0.06, tuple({**WAX, "heaviest section": t} for t in (0.0015, 0.004)), firm),
    Row(
        "mold warming", "scipy quad; a run of 400 shots followed", 1e-6,
        ({
            **WAX, "wax shot weight": 0.002, "frame length": 0.073, "frame width": 0.048, "rubber thickness": 0.025,
            "wax room temperature": C + 22, "shot interval": 300.0,
        },),
        warmed,
    ),
    Row(
        "wax reach", FLOW, 1e-5,
        ({
            "thinnest section": 0.0005, "thinnest section that filled": 0.0008, "injection pressure": 60e3,
            "pressure that filled": 40e3,
        },),
        reached,
    ),
    Row(
        "fin length", FLOW, 1e-5,
        ({
            "parting gap": 1e-4, "wanted parting gap": 4e-5, "injection pressure": 60e3,
            "wanted injection pressure": 40e3,
        },),
        fins,
    ),
    Row(
        "blind pocket", "CoolProp, air as a real gas", 1e-3,
        (
            *({"injection pressure": p, "local air pressure": 101325.0} for p in (35e3, 70e3, 103e3)),
            {"injection pressure": 35e3, "local air pressure": 101325.0, "mold vacuum": 91325.0},
        ),
        trapped,
    ),
    Row(
        "water in the wax", "CoolProp", 1e-3,
        [{"wax temperature": C + t, "local air pressure": 101325.0, "pot vacuum": 80e3} for t in (60, 70, 75)], wet,
    ),
    Row(
        "wax pressure", "scipy quad and g", 1e-6,
        ({
            "wax": "injection wax", "injection pressure": 55e3, "wax level over the nozzle": 0.08,
            "pot lid diameter": 0.15,
        },),
        pushed,
    ),
    Row(
        "wax weights", "scipy.stats", 1e-6,
        ({"wax weights": (1.80e-3, 1.81e-3, 1.79e-3, 1.80e-3, 1.83e-3, 1.80e-3, 1.78e-3, 1.81e-3)},), weighed,
    ),
    Row("wax gate", SHAPES, 1e-6, (SECTION,), wax_gate),
    Row("section moduli", SHAPES, 2e-6, (SECTION,), shapes),
    Row("part modulus", SHAPES, 1e-6, (SECTION, BAR), part),
    Row("gate", SHAPES, 1e-6, (BAR,), gate),
    Row("needed gate", SHAPES, 1e-6, (SECTION,), lambda facts: needed(facts, "needed gate diameter")),
    Row(
        "trunk", SHAPES, 1e-6, (BAR,),
        lambda facts: needed(facts, "needed trunk diameter", "trunk margin", "gate modulus"),
    ),
    Row("gate legs", SHAPES, 1e-6, ({**BAR, "gate legs": 2.0},), lambda facts: needed(facts, "needed leg diameter")),
    Row(
        "button", "scipy quad and brentq", 1e-6,
        ({"metal": "sterling", "button diameter": 0.025, "trunk diameter": 0.008, "button weight": 0.05},), button,
    ),
    Row(
        "gate joint", "scipy minimize_scalar, largest circle in a T", 1e-4,
        [{"heaviest section": 0.002, "heaviest section width": 0.02, "gate diameter": s} for s in (0.0012, 0.002)],
        joint,
    ),
    Row("feed metal", "scipy brentq on the balance", 1e-9, ({"metal": "sterling", "metal in the tree": 0.3},), feed),
    Row(
        "parts on the tree", "points placed on a circle (numpy)", 0.0,
        tuple({"part circle": 0.045, "part width": w} for w in (0.008, 0.012, 0.022)), on_a_row,
    ),
    Row(
        "sprue flow", "Groover's printed gating example", 2e-3,
        ({"metal head": 0.20, "trunk diameter": (4 * 2.5e-4 / pi) ** 0.5, "metal density": 7000.0,
          "metal in the tree": 7000.0 * 1560e-6},),
        lambda _: {"metal fall speed": 1.981, "sprue flow": 495.2e-6, "least fill time": 3.15},
    ),
    Row(
        "tree order", "areas and outlines of polygons (numpy)", 1e-6, ({"row sections": (0.003, 0.002, 0.0012)},),
        lambda _: {"row time ratio": (flat_bar(0.003, 3e4) / flat_bar(0.0012, 3e4)) ** 2},
    ),
)  # fmt: skip

WITHOUT = {
    "wax temperature window": "the trade's margins over the congealing point",
    "pot temperature error": "the difference of two readings",
    "wax needed": "volume times density",
    "wax section class": "bands of the trade",
    "hold to try": "the trade's step beside the trade's guide, the longer of the two",
    "wait to try": "the trade's step beside the trade's guide, the longer of the two",
    "gap to flask wall": "half the difference of two diameters",
    "gap over the tip": "the difference of two heights",
    "tree weight": "a sum of weights; checked on paper",
    "freezing order": "puts the ratios of `gate`, `trunk` and `button` in order",
}
