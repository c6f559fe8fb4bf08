"""Calculators for the middle of the flask: whether it came to pour heat, and what the way to the pour took."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from diagnose.calc.flask_heat import Mold, fitted_diffusivity, mold_missing_share, soak_time
from diagnose.calc.kiln_schedule import Schedule, Step
from diagnose.calc.mold_middle import lag_at_end, middle_of_mold, soak_needed
from diagnose.derive.burnout_inputs import RECORD, SHAPE, SHAPE_MORE, TOLERANCE, mold, record
from diagnose.derive.calculator import Calculator, Facts, Value, number
from diagnose.derive.told import told
from diagnose.errors import OutOfRange

ROOM = 295.15  # K, air of the shop round a hot flask
HEAT_SOURCES = ("from memory of carslaw-jaeger-1959", "from memory of incropera-2007")


def _followed(facts: Facts) -> dict[str, Value]:
    schedule, shape = record(facts), mold(facts)
    tolerance = told(facts, "core tolerance", TOLERANCE)
    path = middle_of_mold(schedule, shape)
    needed = soak_needed(schedule, shape, tolerance)
    return {
        "flask core temperature": path[-1][1],
        "core off kiln": -lag_at_end(schedule, shape),
        "hottest core": max(temperature for _, temperature in path),
        "needed soak": needed,
        "soak margin": schedule.steps[-1].hold - needed,
    }


@dataclass(frozen=True)
class KilnCurve:
    """What to draw of a burnout: times [s], kiln and middle of a dry mold [K], and the corners of the kiln's curve."""

    times: tuple[float, ...]
    kiln: tuple[float, ...]
    middle: tuple[float, ...]
    corners: tuple[int, ...]


def kiln_curve(schedule: Schedule, shape: Mold, pieces: int = 16) -> KilnCurve:
    """Return kiln and middle over time, every ramp and hold in so many pieces."""
    steps, corners, now, kiln = [], [0], schedule.start, [schedule.start]
    for step in schedule.steps:
        if step.temperature != now:
            ramp = [now + (step.temperature - now) * (n + 1) / pieces for n in range(pieces)]
            steps += [Step(temperature, 0.0, step.rate) for temperature in ramp]
            kiln += ramp
            corners.append(len(kiln) - 1)
        if step.hold:
            steps += [Step(step.temperature, step.hold / pieces, step.rate)] * pieces
            kiln += [step.temperature] * pieces
            corners.append(len(kiln) - 1)
        now = step.temperature
    path = middle_of_mold(Schedule(schedule.start, tuple(steps)), shape) if steps else ()
    return KilnCurve(
        times=(0.0, *(time for time, _ in path)),
        kiln=tuple(kiln),
        middle=(schedule.start, *(temperature for _, temperature in path)),
        corners=tuple(corners),
    )


def _say_followed(facts: Facts) -> Sequence[str]:
    off = number(facts, "core off kiln")
    side = "hotter" if off > 0.0 else "colder"
    says = [
        "The middle of a dry mold got {hottest core} at the hottest and was at {flask core temperature} in the end."
    ]
    if number(facts, "soak margin") < 0.0:
        says.append(
            f"It was still {side} than the kiln, by {{core off kiln|size}}: the last hold should be {{needed soak}}."
        )
    else:
        says.append("The last hold was long enough: {needed soak} would have done.")
    return says


def _stepped(facts: Facts, pour_name: str, hold_name: str) -> dict[str, Value]:
    shape, hold = mold(facts), number(facts, hold_name)
    top, pour = number(facts, "top temperature reached"), number(facts, pour_name)
    step = abs(top - pour)
    tolerance = told(facts, "core tolerance", TOLERANCE)
    needed = soak_time(shape, tolerance / step) if step > 1.02 * tolerance else 0.0
    core = pour + (top - pour) * mold_missing_share(shape, hold)
    return {
        "flask core temperature": core,
        "core off kiln": core - pour,
        "hottest core": max(top, pour),
        "needed soak": needed,
        "soak margin": hold - needed,
    }


def _fit(facts: Facts) -> dict[str, Value]:
    half = fitted_diffusivity(number(facts, "flask diameter") / 2.0, number(facts, "core half time"))
    return {"measured diffusivity": half}


def _cooled(start: float, facts: Facts) -> dict[str, Value]:
    shape, out = mold(facts), number(facts, "kiln to pour time")
    film, conductivity = number(facts, "flask air cooling"), number(facts, "investment conductivity")
    depth = told(
        facts, "gap to flask wall", told(facts, "gap left at the wall", number(facts, "investment least wall"))
    )
    if depth >= shape.radius:
        raise OutOfRange(
            "wax {gap to flask wall:m} from the wall lies beyond the middle of this flask.",
            {"gap to flask wall": depth},
            next_step="Measure from the outermost wax to the wall.",
        )
    long = Mold(shape.radius, shape.diffusivity)
    near = mold_missing_share(long, out, shape.radius - depth, film, conductivity)
    core = mold_missing_share(long, out, 0.0, film, conductivity)
    outer = ROOM + (start - ROOM) * near
    return {
        "flask temperature at pour": outer,
        "core temperature at pour": ROOM + (start - ROOM) * core,
        "flask temperature lost": start - outer,
    }


def cooling_curve(facts: Facts, points: int = 61) -> tuple[tuple[float, float, float], ...]:
    """Return time out of the kiln [s], mold round the outermost wax and middle [K], to twice the time it took."""
    start = number(facts, "flask temperature" if "flask core temperature" not in facts else "flask core temperature")
    longest = 2.0 * number(facts, "kiln to pour time")
    found = [(0.0, start, start)]
    for n in range(1, points):
        time = longest * n / (points - 1)
        cooled = _cooled(start, {**facts, "kiln to pour time": time})
        found.append((time, number(cooled, "flask temperature at pour"), number(cooled, "core temperature at pour")))
    return tuple(found)


def _say_cooled(facts: Facts) -> Sequence[str]:
    return (
        "At the pour the mold round the outermost pieces was at {flask temperature at pour}, the middle at {core "
        "temperature at pour}: the outer pieces lost {flask temperature lost} on the way.",
        "A thick steel flask keeps them warmer than that.",
    )


def _bounds(name: str, facts: Facts) -> dict[str, Value]:
    heat = number(facts, name)
    return {
        "pour floor margin": heat - number(facts, "investment pour floor"),
        "pour ceiling margin": number(facts, "investment pour ceiling") - heat,
    }


def _say_bounds(facts: Facts) -> Sequence[str]:
    if number(facts, "pour floor margin") < 0.0:
        return (
            "This mold had cooled so far that it takes up water from the air: metal on it spits. Do not pour it; keep "
            "a flask in the oven until the pour, and weigh it if it was ever cooler.",
        )
    if number(facts, "pour ceiling margin") < 0.0:
        return ("This mold was hotter than it may be at the pour: it breaks down where the metal touches it.",)
    return ("The mold was between the coldest and the hottest at which it may be poured.",)


MIDDLE = ("flask core temperature", "core off kiln", "hottest core", "needed soak", "soak margin")
AT_POUR = ("flask temperature at pour", "core temperature at pour", "flask temperature lost")
COOLING = ("kiln to pour time", *SHAPE, "investment conductivity", "investment least wall", "flask air cooling")
COOLING_MORE = (*SHAPE_MORE, "gap to flask wall", "gap left at the wall")
BOUNDS = ("investment pour floor", "investment pour ceiling")

CALCULATORS = (
    Calculator(
        name="measured diffusivity",
        title="How fast heat spreads in your own mold",
        stage="burnout",
        needs=("flask diameter", "core half time"),
        gives=("measured diffusivity",),
        formula=("{measured diffusivity} = 0.2005 x ({flask diameter} / 2)^2 / {core half time}",),
        run=_fit,
        says=lambda facts: (
            "In your kiln heat spreads through this mold at {measured diffusivity}, the film of air counted in.",
        ),
        sources=HEAT_SOURCES,
    ),
    Calculator(
        name="flask middle",
        title="How the middle of the flask followed the recorded burnout",
        stage="burnout",
        needs=(*SHAPE, *RECORD, "burnout ramps", "kiln loading temperature"),
        takes=(*SHAPE_MORE, "core tolerance"),
        gives=MIDDLE,
        formula=(
            "{flask core temperature}, {hottest core} = temperature of the middle at the end, and at its hottest, "
            "followed through {burnout hold temperatures}, {burnout hold times} and {burnout ramps} from {kiln "
            "loading temperature}",
            "{core off kiln} = {flask core temperature} - kiln temperature at the end",
            "{needed soak} = last hold after which the middle is within {core tolerance} of the kiln",
            "{soak margin} = last of {burnout hold times} - {needed soak}",
            "heat spreads at {measured diffusivity} where that was measured, else {investment diffusivity}, in a "
            "round mold {flask diameter} wide and {flask height} high; its outside is taken at kiln temperature",
        ),
        run=_followed,
        says=_say_followed,
        sources=HEAT_SOURCES,
        drawing="burnout",
    ),
    Calculator(
        name="soak at pour temperature",
        title="Whether the middle came to pour heat, from the last hold alone",
        stage="burnout",
        needs=(*SHAPE, "top temperature reached", "pour hold temperature", "pour soak time"),
        takes=(*SHAPE_MORE, "core tolerance"),
        gives=MIDDLE,
        formula=(
            "{flask core temperature} = {pour hold temperature} + ({top temperature reached} - {pour hold "
            "temperature}) x share of the step that the middle has still to go after {pour soak time}",
            "{core off kiln} = {flask core temperature} - {pour hold temperature}",
            "{hottest core} = the hotter of {top temperature reached} and {pour hold temperature}",
            "{needed soak} = time until that share is down to {core tolerance} / the step",
            "{soak margin} = {pour soak time} - {needed soak}",
            "heat spreads at {measured diffusivity} where that was measured, else {investment diffusivity}, in a "
            "round mold {flask diameter} wide and {flask height} high; its outside is taken at kiln temperature",
        ),
        run=lambda facts: _stepped(facts, "pour hold temperature", "pour soak time"),
        says=_say_followed,
        sources=HEAT_SOURCES,
    ),
    Calculator(
        name="soak without ramps",
        title="Whether the middle came to pour heat, from recorded holds without ramps",
        stage="burnout",
        needs=(*SHAPE, "top temperature reached", "recorded pour hold", "recorded soak"),
        takes=(*SHAPE_MORE, "core tolerance"),
        gives=MIDDLE,
        formula=(
            "{flask core temperature} = {recorded pour hold} + ({top temperature reached} - {recorded pour hold}) x "
            "share of the step that the middle has still to go after {recorded soak}",
            "{core off kiln} = {flask core temperature} - {recorded pour hold}",
            "{hottest core} = the hotter of {top temperature reached} and {recorded pour hold}",
            "{needed soak} = time until that share is down to {core tolerance} / the step",
            "{soak margin} = {recorded soak} - {needed soak}",
            "heat spreads at {measured diffusivity} where that was measured, else {investment diffusivity}, in a "
            "round mold {flask diameter} wide and {flask height} high; its outside is taken at kiln temperature",
        ),
        run=lambda facts: _stepped(facts, "recorded pour hold", "recorded soak"),
        says=_say_followed,
        sources=HEAT_SOURCES,
    ),
    Calculator(
        name="heat lost to the pour",
        title="What the flask lost between kiln and pour",
        stage="burnout",
        needs=("flask core temperature", *COOLING),
        takes=COOLING_MORE,
        gives=AT_POUR,
        formula=(
            "{flask temperature at pour}, {core temperature at pour} = room + ({flask core temperature} - room) x "
            "share of the step still to go after {kiln to pour time}: at the outermost wax ({gap to flask wall}, "
            "else {gap left at the wall}, else {investment least wall} from the wall), and in the middle",
            "{flask temperature lost} = {flask core temperature} - {flask temperature at pour}",
            "share still to go = the series for a long cylinder {flask diameter} wide that gives its heat to the air"
            " at {flask air cooling}; {measured diffusivity}, else {investment diffusivity}, and {investment "
            "conductivity}",
        ),
        run=lambda facts: _cooled(number(facts, "flask core temperature"), facts),
        says=_say_cooled,
        sources=HEAT_SOURCES,
        drawing="flask cooling",
    ),
    Calculator(
        name="heat lost from a known flask",
        title="What a flask of known heat lost between kiln and pour",
        stage="burnout",
        needs=("flask temperature", *COOLING),
        takes=COOLING_MORE,
        gives=AT_POUR,
        formula=(
            "{flask temperature at pour}, {core temperature at pour} = room + ({flask temperature} - room) x share "
            "of the step still to go after {kiln to pour time}: at the outermost wax ({gap to flask wall}, else {gap"
            " left at the wall}, else {investment least wall} from the wall), and in the middle",
            "{flask temperature lost} = {flask temperature} - {flask temperature at pour}",
            "share still to go = the series for a long cylinder {flask diameter} wide that gives its heat to the air"
            " at {flask air cooling}; {measured diffusivity}, else {investment diffusivity}, and {investment "
            "conductivity}",
        ),
        run=lambda facts: _cooled(number(facts, "flask temperature"), facts),
        says=_say_cooled,
        sources=HEAT_SOURCES,
        drawing="flask cooling",
    ),
    Calculator(
        name="flask heat limits",
        title="Whether the mold may be poured at this heat",
        stage="burnout",
        needs=("flask temperature", *BOUNDS),
        gives=("pour floor margin", "pour ceiling margin"),
        formula=(
            "{pour floor margin} = {flask temperature} - {investment pour floor}",
            "{pour ceiling margin} = {investment pour ceiling} - {flask temperature}",
        ),
        run=lambda facts: _bounds("flask temperature", facts),
        says=_say_bounds,
        sources=("common practice",),
    ),
    Calculator(
        name="flask middle limits",
        title="Whether the mold may be poured at the heat of its middle",
        stage="burnout",
        needs=("flask core temperature", *BOUNDS),
        gives=("pour floor margin", "pour ceiling margin"),
        formula=(
            "{pour floor margin} = {flask core temperature} - {investment pour floor}",
            "{pour ceiling margin} = {investment pour ceiling} - {flask core temperature}",
        ),
        run=lambda facts: _bounds("flask core temperature", facts),
        says=_say_bounds,
        sources=("common practice",),
    ),
)
