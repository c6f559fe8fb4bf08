"""Calculators that make a burnout schedule for a flask, and say when the kiln must start."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.calc.burnout import plan_burnout, start_time
from diagnose.calc.kiln_schedule import Schedule, schedule_of
from diagnose.derive.burnout_inputs import (
    LIMITS,
    LIMITS_MORE,
    RAMPS,
    SHAPE,
    SHAPE_MORE,
    WETNESS,
    WETNESS_MORE,
    dose,
    limits,
    mold,
    ramp_limits,
)
from diagnose.derive.calculator import Calculator, Facts, Value, number
from diagnose.derive.told import listed, told
from diagnose.errors import OutOfRange

PLAN_SOURCES = ("from memory of carslaw-jaeger-1959", "common practice")


def _ramp_limit(facts: Facts) -> dict[str, Value]:
    quick, gentle = ramp_limits(facts)
    return {"ramp limit": quick, "gentle ramp limit": gentle}


def _pour(facts: Facts) -> float | None:
    """Return the flask temperature to end at, held between floor and ceiling of the mold; None if unknown."""
    for name in ("needed flask temperature", "flask temperature", "pour hold temperature"):
        if name in facts:
            wanted = number(facts, name)
            break
    else:
        return None
    floor = told(facts, "investment pour floor", 0.0)
    ceiling = told(facts, "investment pour ceiling", 1e4)
    if not floor <= wanted <= ceiling:
        raise OutOfRange(
            "a flask at {flask:K} is not between the {floor:K} and {ceiling:K} at which this mold may be poured: "
            "colder it takes up water and spits, hotter it breaks down.",
            {"flask": wanted, "floor": floor, "ceiling": ceiling},
            next_step="Use another mold for this metal.",
        )
    return wanted


def _plan(facts: Facts) -> dict[str, Value]:
    asked = limits(facts)
    schedule = plan_burnout(mold(facts), asked, dose(facts), _pour(facts))
    steps = schedule.steps
    found: dict[str, Value] = {
        "planned hold temperatures": tuple(step.temperature for step in steps),
        "planned hold times": tuple(step.hold for step in steps),
        "planned ramps": tuple(step.rate for step in steps),
        "planned drain hold": steps[0].hold,
        "planned dry hold": steps[2].hold,
        "planned top temperature": steps[3].temperature,
        "planned top hold": steps[3].hold,
        "planned burnout time": schedule.duration,
    }
    if len(steps) > 4:
        found["planned pour temperature"] = steps[4].temperature
        found["planned soak"] = steps[4].hold
    if "pour clock time" in facts:
        clock, days = start_time(number(facts, "pour clock time"), schedule.duration)
        found["kiln start clock time"] = clock
        found["days before the pour"] = float(days)
    return found


def planned(facts: Facts) -> Schedule:
    """Return the planned burnout as a kiln curve, from the facts that the calculator `burnout plan` gives."""
    return schedule_of(
        number(facts, "kiln loading temperature"),
        listed(facts, "planned hold temperatures"),
        listed(facts, "planned hold times"),
        listed(facts, "planned ramps"),
    )


def _say_plan(facts: Facts) -> Sequence[str]:
    says = [
        "Load cold, sprue down, mouth raised 5 to 10 mm (1/4 to 3/8 in) for air. To the first hold and up to the end "
        "of the first change rise no faster than {gentle ramp limit}, above it no faster than {ramp limit}, and come "
        "down no faster than that.",
        "Drain {planned drain hold}, dry {planned dry hold} (a polished plate at the vent must stay clear at the end), "
        "then {planned top hold} at {planned top temperature}, measured in or beside the mold, vent open.",
    ]
    if "planned soak" in facts:
        says.append("Soak {planned soak} at {planned pour temperature}, counted from when the kiln is there.")
    says.append("In all {planned burnout time} from loading.")
    if "kiln start clock time" in facts:
        hour, minute = divmod(round(number(facts, "kiln start clock time") / 60.0), 60)
        days = round(number(facts, "days before the pour"))
        when = {0: "on the day of the pour", 1: "the day before"}.get(days, f"{days} days before")
        says.append(f"Switch the kiln on at {hour:02d}:{minute:02d} {when}.")
    if told(facts, "printed resin share", 0.0) > 0.0:
        says.append("Printed resin is burned clean by time and air, not by more heat.")
    says.append("The label of the powder and the kiln's manual come first. Extract the fumes; do not sleep near it.")
    return says


def _recommended(facts: Facts) -> dict[str, Value]:
    """Return the ramp limits together with the plan, so that its sentences can name them."""
    return {**_plan(facts), **_ramp_limit(facts)}


CALCULATORS = (
    Calculator(
        name="ramp limit",
        title="Fastest ramp that this flask stands",
        stage="burnout",
        needs=(*SHAPE, *RAMPS),
        takes=SHAPE_MORE,
        gives=("ramp limit", "gentle ramp limit"),
        formula=(
            "{ramp limit} = the less of {investment fastest ramp} and the ramp on which the middle lags by "
            "{investment largest lag}",
            "{gentle ramp limit} = the less of {ramp limit} and {investment gentle ramp}",
            "ramp for a lag = 4 x diffusivity x lag / radius^2 for a long mold, more for a short one ({flask "
            "height}); half of {flask diameter}, {measured diffusivity} or else {investment diffusivity}",
        ),
        run=_ramp_limit,
        says=lambda facts: (
            "For this flask no ramp should be faster than {ramp limit}; while it is wet and through its first change "
            "{gentle ramp limit}.",
        ),
        sources=PLAN_SOURCES,
    ),
    Calculator(
        name="burnout plan",
        title="Burnout schedule for this flask, and when to start it",
        stage="burnout",
        needs=tuple(dict.fromkeys((*SHAPE, *WETNESS, *LIMITS, "kiln loading temperature"))),
        takes=tuple(
            dict.fromkeys(
                (
                    *SHAPE_MORE,
                    *WETNESS_MORE,
                    *LIMITS_MORE,
                    "needed flask temperature",
                    "flask temperature",
                    "pour hold temperature",
                    "investment pour floor",
                    "investment pour ceiling",
                    "pour clock time",
                )
            )
        ),
        gives=(
            "planned hold temperatures",
            "planned hold times",
            "planned ramps",
            "planned drain hold",
            "planned dry hold",
            "planned top temperature",
            "planned top hold",
            "planned pour temperature",
            "planned soak",
            "planned burnout time",
            "kiln start clock time",
            "days before the pour",
            "ramp limit",
            "gentle ramp limit",
        ),
        formula=(
            "{planned hold temperatures}, {planned hold times}, {planned ramps} = drain, end of the gentle rise, "
            "dry, top, and the pour's own heat, in that order",
            "{ramp limit} = the less of {investment fastest ramp} and the ramp on which the middle lags by "
            "{investment largest lag}",
            "{gentle ramp limit} = the less of {ramp limit} and {investment gentle ramp}",
            "{planned drain hold} = {investment drain hold} x {flask diameter} / 100 mm, an hour at least; half of "
            "it after steam ({steam dewax time})",
            "{planned dry hold} = {investment dry hold}, longer where degrees over 100 °C x time would not yet boil "
            "off the water of the mix ({investment label water}, {investment conductivity})",
            "{planned top temperature} = the lower of {investment top temperature} and {stone heat limit}",
            "{planned top hold} = {investment top hold} x {flask diameter} / 100 mm, an hour at least; longer for a "
            "cool top, printed resin ({printed resin share}) and a packed kiln ({kiln fill})",
            "{planned pour temperature} = {needed flask temperature}, else {flask temperature}, else {pour hold "
            "temperature}",
            "{planned soak} = last hold after which the middle is within {core tolerance} of the kiln",
            "{planned burnout time} = all holds, and between them the way at {planned ramps}; holds end on quarters "
            "of an hour",
            "{kiln start clock time}, {days before the pour} = {pour clock time} - {planned burnout time}",
        ),
        run=_recommended,
        says=_say_plan,
        sources=PLAN_SOURCES,
        drawing="burnout",
    ),
)
