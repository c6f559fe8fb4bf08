"""Calculators that hold a recorded burnout against what the mold asks: ramps, drying, top and its hold."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.calc.burnout import BOILING
from diagnose.calc.kiln_schedule import exposure_above, steepest, time_above
from diagnose.derive.burnout_inputs import (
    RAMPS,
    RECORD,
    SHAPE,
    SHAPE_MORE,
    WETNESS,
    WETNESS_MORE,
    dose,
    holds,
    ramp_limits,
    record,
    top_and_hold,
)
from diagnose.derive.calculator import Calculator, Facts, Value, number
from diagnose.derive.told import told

NEAR_TOP = 15.0  # K under the top that still count as time at the top
MOST_DIALLED_IN = 60.0  # K; a larger difference is a wrong probe or a fault, and grows with the heat
DRY_SPAN = 30.0  # K over the drying hold up to which a recorded hold counts as one
CHANGES = (
    "investment first change from",
    "investment first change to",
    "investment second change from",
    "investment second change to",
)


def _holds(facts: Facts) -> dict[str, Value]:
    found = holds(facts)
    top = max(temperature for temperature, _ in found)
    last = found[-1][0]
    result: dict[str, Value] = {
        "top temperature reached": top,
        "time at the top": sum(time for temperature, time in found if temperature >= top - NEAR_TOP),
    }
    if len(found) > 1 and last < top - NEAR_TOP:
        result["recorded pour hold"] = last
        result["recorded soak"] = found[-1][1]
    return result


def _top_alone(facts: Facts) -> dict[str, Value]:
    return {"top temperature reached": number(facts, "burnout top temperature")}


def _hold_alone(facts: Facts) -> dict[str, Value]:
    return {"time at the top": number(facts, "burnout top hold")}


def _ramps(facts: Facts) -> dict[str, Value]:
    schedule = record(facts)
    low, low_end, high, high_end = (number(facts, name) for name in CHANGES)
    through = max(steepest(schedule, low, low_end), steepest(schedule, high, high_end))
    gentle_until = number(facts, "investment gentle until")
    wet = steepest(schedule, number(facts, "kiln loading temperature"), gentle_until, rising=True)
    limit, gentle = ramp_limits(facts)
    return {
        "steepest ramp": through,
        "ramp use": through / limit,
        "steepest wet ramp": wet,
        "wet ramp use": wet / gentle,
        "burnout time": schedule.duration,
        "time above clean": time_above(schedule, number(facts, "investment clean from")),
    }


def _say_ramps(facts: Facts) -> Sequence[str]:
    says = [
        "Through the changes of size the kiln moved at up to {steepest ramp}, {ramp use} times what this flask stands.",
        "While the mold was wet it rose at up to {steepest wet ramp}, {wet ramp use} times the gentle limit.",
        "In all the burnout took {burnout time}.",
    ]
    if number(facts, "ramp use") > 1.0 or number(facts, "wet ramp use") > 1.0:
        says.append(
            "The limit rests on an estimate of how fast heat spreads in fired mold: up to twice may still hold."
        )
    return says


def _drying(facts: Facts) -> dict[str, Value]:
    schedule = record(facts)
    needed = dose(facts)
    dry = number(facts, "investment dry temperature")
    done = exposure_above(schedule, BOILING, _drying_end(facts, dry)) / needed
    return {
        "drying done": done,
        "drying shortfall": max(0.0, 1.0 - done),
        "needed dry hold": max(0.0, 1.0 - _without_dry_hold(facts, needed, dry)) * needed / (dry - BOILING),
    }


def _drying_end(facts: Facts, dry: float) -> float:
    """Return the temperature of the recorded hold that counts as the drying hold, else where it belongs."""
    near = [temperature for temperature, _ in holds(facts) if abs(temperature - dry) <= DRY_SPAN]
    return max(near, default=dry)


def _without_dry_hold(facts: Facts, needed: float, dry: float) -> float:
    """Return the share of drying done by the recorded burnout when its holds near the drying hold are left out."""
    bare = {
        **facts,
        "burnout hold times": tuple(
            0.0 if abs(temperature - dry) <= DRY_SPAN else time for temperature, time in holds(facts)
        ),
    }
    return exposure_above(record(bare), BOILING, _drying_end(facts, dry)) / needed


def _say_drying(facts: Facts) -> Sequence[str]:
    if number(facts, "drying shortfall") <= 0.0:
        return (
            "Up to the end of the drying hold the middle got {drying done} of the heat that its water takes: it should "
            "be dry. A polished plate at the vent that stays clear proves it.",
        )
    return (
        "Up to the end of the drying hold the middle got only {drying done} of the heat that its water takes.",
        "Hold {needed dry hold} at {investment dry temperature}, and go on only when a polished plate at the vent "
        "stays clear (long handle, never while it smokes).",
    )


def _top(facts: Facts) -> dict[str, Value]:
    true = number(facts, "top temperature reached") + told(facts, "kiln offset", 0.0)
    ceiling = number(facts, "investment top ceiling")
    if "stone heat limit" in facts:
        ceiling = min(ceiling, number(facts, "stone heat limit"))
    found: dict[str, Value] = {
        "true top temperature": true,
        "top temperature margin": ceiling - true,
        "clean burning margin": true - number(facts, "investment clean from"),
    }
    if "time at the top" in facts:
        needed = top_and_hold(facts)[1]
        found["needed top hold"] = needed
        found["top hold shortfall"] = needed - number(facts, "time at the top")
    return found


def _say_top(facts: Facts) -> Sequence[str]:
    says = []
    if "kiln offset" not in facts:
        says.append("The kiln's own reading is taken as true; a second probe beside the flask tells.")
    if number(facts, "top temperature margin") < 0.0:
        says.append(
            "At {true top temperature} the mold was over its ceiling: it breaks down and gives off sulfur dioxide. "
            "Ventilate, and do not go there again."
        )
    else:
        says.append("The top was {true top temperature}, {top temperature margin} under the ceiling.")
    if number(facts, "clean burning margin") < 0.0:
        says.append("Carbon burns out of the middle only slowly at such a top: it needs a much longer hold, and air.")
    if "needed top hold" in facts:
        says.append("This flask takes {needed top hold} at the top; it had {time at the top}.")
    return says


RECORDED = (*RECORD, "burnout ramps", "kiln loading temperature")


def _to_set(facts: Facts) -> dict[str, Value]:
    offset = number(facts, "kiln offset")
    found: dict[str, Value] = {}
    if abs(offset) > MOST_DIALLED_IN:
        return found
    if "investment top temperature" in facts:
        found["top to set"] = number(facts, "investment top temperature") - offset
    if "pour hold temperature" in facts:
        found["pour hold to set"] = number(facts, "pour hold temperature") - offset
    return found


def _say_to_set(facts: Facts) -> Sequence[str]:
    says: list[str] = []
    if abs(number(facts, "kiln offset")) > MOST_DIALLED_IN:
        says.append("So large a difference grows with the heat: it is put right at the probe, not dialled in.")
    if "top to set" in facts:
        says.append("Until the kiln is repaired, {top to set} on its display is {investment top temperature} inside.")
    if "pour hold to set" in facts:
        says.append("For {pour hold temperature} in the mold at the pour, set {pour hold to set}.")
    return says


CALCULATORS = (
    Calculator(
        name="display to set",
        title="What to set on a kiln that shows another heat than it has",
        stage="burnout",
        needs=("kiln offset",),
        takes=("investment top temperature", "pour hold temperature"),
        gives=("top to set", "pour hold to set"),
        formula=(
            "{top to set} = {investment top temperature} - {kiln offset}",
            "{pour hold to set} = {pour hold temperature} - {kiln offset}; neither where {kiln offset} is over 60 K",
        ),
        run=_to_set,
        says=_say_to_set,
        sources=("common practice",),
    ),
    Calculator(
        name="recorded holds",
        title="Top and last hold of the recorded burnout",
        stage="burnout",
        needs=RECORD,
        gives=("top temperature reached", "time at the top", "recorded pour hold", "recorded soak"),
        formula=(
            "{top temperature reached} = highest of {burnout hold temperatures}",
            "{time at the top} = sum of the {burnout hold times} within a few degrees of that top",
            "{recorded pour hold}, {recorded soak} = temperature and time of the last hold, where it lies below the "
            "top",
        ),
        run=_holds,
        says=lambda facts: ("The kiln reached {top temperature reached} and held there {time at the top}.",),
        sources=("common practice",),
    ),
    Calculator(
        name="recorded top",
        title="Top of the burnout, when only that was noted",
        stage="burnout",
        needs=("burnout top temperature",),
        gives=("top temperature reached",),
        formula=("{top temperature reached} = {burnout top temperature}",),
        run=_top_alone,
        says=lambda facts: ("The kiln reached {top temperature reached}.",),
        sources=("common practice",),
    ),
    Calculator(
        name="recorded top hold",
        title="Hold at the top, when only that was noted",
        stage="burnout",
        needs=("burnout top hold",),
        gives=("time at the top",),
        formula=("{time at the top} = {burnout top hold}",),
        run=_hold_alone,
        says=lambda facts: ("It held there {time at the top}.",),
        sources=("common practice",),
    ),
    Calculator(
        name="burnout ramps",
        title="Ramps of the recorded burnout against what the flask stands",
        stage="burnout",
        needs=(
            *RECORDED,
            *SHAPE,
            *RAMPS,
            *CHANGES,
            "investment gentle until",
            "investment clean from",
        ),
        takes=SHAPE_MORE,
        gives=(
            "steepest ramp",
            "ramp use",
            "steepest wet ramp",
            "wet ramp use",
            "burnout time",
            "time above clean",
        ),
        formula=(
            "{steepest ramp} = steepest of {burnout ramps} that crosses {investment first change from} to "
            "{investment first change to} or {investment second change from} to {investment second change to}, up or"
            " down",
            "{ramp use} = {steepest ramp} / the limit of this flask: the less of {investment fastest ramp} and the "
            "ramp on which its middle lags by {investment largest lag}",
            "{steepest wet ramp} = steepest rise between {kiln loading temperature} and {investment gentle until}",
            "{wet ramp use} = {steepest wet ramp} / the gentle limit: the less of {investment gentle ramp} and the "
            "limit of this flask",
            "ramp for a lag = 4 x diffusivity x lag / radius^2 for a long mold, more for a short one; half of {flask"
            " diameter}, {measured diffusivity} or else {investment diffusivity}",
            "{burnout time} = all of {burnout hold times}, and between them the way at {burnout ramps}",
            "{time above clean} = time that the kiln spent over {investment clean from}",
        ),
        run=_ramps,
        says=_say_ramps,
        sources=("from memory of carslaw-jaeger-1959", "common practice"),
        drawing="burnout",
    ),
    Calculator(
        name="drying",
        title="Whether the recorded burnout dried the middle of the mold",
        stage="burnout",
        needs=(*RECORDED, *WETNESS, "investment dry temperature"),
        takes=WETNESS_MORE,
        gives=("drying done", "drying shortfall", "needed dry hold"),
        formula=(
            "{drying done} = degrees over 100 °C x time in the kiln, up to the end of the hold near {investment dry "
            "temperature} / what the water takes",
            "what the water takes = water in each volume of mold x heat to boil it x radius^2 / (4 x {investment "
            "conductivity}), with half of {flask diameter}; water from {mixed water}, else {label water}, else "
            "{investment label water}, and from the plaster ({investment binder share})",
            "{drying shortfall} = 1 - {drying done}, or nothing if that is below zero",
            "{needed dry hold} = what the rest of the burnout leaves undone / ({investment dry temperature} - 100 °C)",
        ),
        run=_drying,
        says=_say_drying,
        sources=("computed from a heat balance", "common practice"),
    ),
    Calculator(
        name="burnout top",
        title="Top of the burnout against the ceiling, and its hold",
        stage="burnout",
        needs=(
            "top temperature reached",
            "investment top ceiling",
            "investment clean from",
            "investment top temperature",
            "investment top hold",
            "flask diameter",
        ),
        takes=(
            "time at the top",
            "kiln offset",
            "stone heat limit",
            "printed resin share",
            "kiln fill",
            "investment resin top hold",
            "investment cool top hold",
        ),
        gives=(
            "true top temperature",
            "top temperature margin",
            "clean burning margin",
            "needed top hold",
            "top hold shortfall",
        ),
        formula=(
            "{true top temperature} = {top temperature reached} + {kiln offset}",
            "{top temperature margin} = the lower of {investment top ceiling} and {stone heat limit}, less {true top"
            " temperature}",
            "{clean burning margin} = {true top temperature} - {investment clean from}",
            "{needed top hold} = {investment top hold} x {flask diameter} / 100 mm, an hour at least; longer for a "
            "cool top ({investment cool top hold}), printed resin ({investment resin top hold}) and a packed kiln "
            "({kiln fill})",
            "{top hold shortfall} = {needed top hold} - {time at the top}",
        ),
        run=_top,
        says=_say_top,
        sources=("strydom-1997, abstract", "common practice"),
    ),
)
