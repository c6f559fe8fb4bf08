"""Calculators that say how long and how hot: needed time, the shop's rule, warm-up."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from diagnose.calc.cure import MIDDLE, History
from diagnose.calc.cure_schedule import (
    middle_warm_time,
    needed_time,
    schedule_for,
    thickness_limit,
)
from diagnose.derive.calculator import Calculator, Facts, Value, number
from diagnose.derive.mold_inputs import (
    FACES,
    NINE_TENTHS,
    NO_VERDICT,
    PACK,
    PRESS_DETAILS,
    REACTION,
    known,
    nine_tenths,
    press,
    reaction,
    slab,
)
from diagnose.derive.told import positive

HEATED = (*FACES, *PACK)
LITTLE = 1.5  # times nine tenths cured; below this the middle is a little short


def _start(facts: Facts) -> float:
    return number(facts, "rubber start temperature")


def _schedule(facts: Facts) -> dict[str, Value]:
    t90 = nine_tenths(facts)
    if t90 is None:
        return {}
    now, dose = press(facts), number(facts, "wanted core cure") * t90
    coolest = known(facts, "rubber coolest cure") or now.mean
    ceiling = known(facts, "rubber working ceiling")
    plan = now.moved_to(max(coolest, now.mean if ceiling is None else min(now.mean, ceiling)))
    limit = known(facts, "rubber skin limit")
    most = limit * t90 if limit is not None else 1e9
    best = schedule_for(slab(facts), _start(facts), plan, reaction(facts), dose, most, min(coolest, plan.mean))
    shown = known(facts, "platen temperature")
    found: dict[str, Value] = {
        "needed cure time": best.time,
        "needed platen temperature": best.platens if shown is None else shown + best.platens - now.mean,
        "skin overcure at needed time": best.skin_dose / t90,
    }
    given = known(facts, "cure time")
    if given is not None:
        need = needed_time(slab(facts), _start(facts), now, reaction(facts), dose)
        found["cure time against need"] = given / need
    return found


def _say_schedule(facts: Facts) -> Sequence[str]:
    if "needed cure time" not in facts:
        return [NO_VERDICT]
    lines = [
        "For {wanted core cure} times nine tenths cured in the middle: {needed cure time} with the platens at "
        "{needed platen temperature}. What the middle gains while cooling comes on top."
    ]
    shown = known(facts, "platen temperature")
    if shown is not None and number(facts, "needed platen temperature") < shown - 0.5:
        lines.append(
            "Cooler and longer go together as one change: at {platen temperature} the skin would get too much "
            "before the middle has enough."
        )
    limit = known(facts, "rubber skin limit")
    if limit is not None and number(facts, "skin overcure at needed time") > 1.01 * limit:
        lines.append(
            "Even so the skin gets {skin overcure at needed time} times what nine tenths cured takes: this block "
            "is too thick to cure evenly."
        )
    return lines


def _rule(facts: Facts) -> dict[str, Value]:
    pace = number(facts, "rubber layer time") / positive(facts, "rubber layer thickness")
    time = pace * number(facts, "rubber thickness")
    found: dict[str, Value] = {"rule of thumb time": time}
    needed = (*HEATED, *REACTION)
    t90 = nine_tenths(facts) if all(name in facts for name in needed) else None
    if t90 is None:
        return found
    hot = press(facts)
    history = History(slab(facts), _start(facts), hot, time)
    found["rule of thumb core cure"] = float(history.doses(reaction(facts), np.array([MIDDLE]))[0][0]) / t90
    limit = thickness_limit(
        _start(facts), hot, reaction(facts), number(facts, "rubber diffusivity"), pace, LITTLE * t90
    )
    if limit is not None:
        found["rule of thumb limit"] = limit
    return found


def _say_rule(facts: Facts) -> Sequence[str]:
    lines = ["The shop's rule of {rubber layer time} for {rubber layer thickness} gives {rule of thumb time}."]
    if "rule of thumb core cure" in facts:
        lines.append("With it the middle gets {rule of thumb core cure} times what nine tenths cured takes.")
        if "rule of thumb limit" in facts:
            lines.append(
                "With these platens the rule serves up to {rule of thumb limit}: time in the rule grows with "
                "thickness, but heat needs its square."
            )
        else:
            lines.append("With these platens the rule cures no thickness enough.")
    return lines


def _warm_up(facts: Facts) -> dict[str, Value]:
    return {"warm-up time of the middle": middle_warm_time(slab(facts), _start(facts), press(facts))}


def _say_warm_up(_: Facts) -> Sequence[str]:
    return ["The middle has come nine tenths of the way to the platens after {warm-up time of the middle}."]


_SOURCES = ("from memory of carslaw-jaeger-1959, ch. 3", "common practice")

CALCULATORS = (
    Calculator(
        name="cure schedule",
        title="How long and how hot to cure this thickness",
        stage="mold",
        needs=("wanted core cure", *HEATED, *REACTION),
        takes=(
            *PRESS_DETAILS,
            *NINE_TENTHS,
            "rubber skin limit",
            "rubber coolest cure",
            "rubber working ceiling",
            "platen temperature",
            "cure time",
        ),
        gives=(
            "needed cure time",
            "needed platen temperature",
            "skin overcure at needed time",
            "cure time against need",
        ),
        formula=(
            "{needed cure time} = time until the pace of cure, summed in the middle, has come to {wanted core cure} "
            "x nine tenths cured, with the platens at {needed platen temperature}",
            "{needed platen temperature} = {platen temperature}, at most {rubber working ceiling}, and lowered "
            "towards {rubber coolest cure} as far as it takes to keep the skin under {rubber skin limit} x nine "
            "tenths cured",
            "{skin overcure at needed time} = pace of cure summed at the hotter skin over {needed cure time} / nine "
            "tenths cured",
            "{cure time against need} = {cure time} / time that the middle needs with the platens as they were",
            "nine tenths cured = {own t90}, moved by the pace of cure from {own t90 temperature} to {rubber "
            "reference temperature}, where you told your own; else {rubber t90}",
            "pace of cure = exp({rubber activation energy} / R x (1 / {rubber reference temperature} - 1 / "
            "temperature)), in kelvin: how many times faster than at {rubber reference temperature}",
            "temperature inside = heat spreading at {rubber diffusivity} through a slab {rubber thickness} thick, "
            "from {rubber start temperature}, between faces at {top face temperature} and {bottom face temperature} "
            "that pass {platen contact}: the series for a slab",
        ),
        run=_schedule,
        says=_say_schedule,
        sources=_SOURCES,
    ),
    Calculator(
        name="rule of thumb",
        title="What the shop's rule of minutes for a layer gives, and where it ends",
        stage="mold",
        needs=("rubber thickness", "rubber layer time", "rubber layer thickness"),
        takes=(*(n for n in HEATED if n != "rubber thickness"), *REACTION, *PRESS_DETAILS, *NINE_TENTHS),
        gives=("rule of thumb time", "rule of thumb core cure", "rule of thumb limit"),
        formula=(
            "{rule of thumb time} = {rubber layer time} / {rubber layer thickness} x {rubber thickness}",
            "{rule of thumb core cure} = pace of cure summed in the middle over {rule of thumb time} / nine tenths "
            "cured",
            "{rule of thumb limit} = thickness beyond which the rule leaves the middle short of one and a half times"
            " nine tenths cured",
            "nine tenths cured = {own t90}, moved by the pace of cure from {own t90 temperature} to {rubber "
            "reference temperature}, where you told your own; else {rubber t90}",
            "pace of cure = exp({rubber activation energy} / R x (1 / {rubber reference temperature} - 1 / "
            "temperature)), in kelvin: how many times faster than at {rubber reference temperature}",
            "temperature inside = heat spreading at {rubber diffusivity} through a slab {rubber thickness} thick, "
            "from {rubber start temperature}, between faces at {top face temperature} and {bottom face temperature} "
            "that pass {platen contact}: the series for a slab",
        ),
        run=_rule,
        says=_say_rule,
        sources=_SOURCES,
    ),
    Calculator(
        name="warm-up of the middle",
        title="When the middle is nearly as hot as the platens",
        stage="mold",
        needs=HEATED,
        takes=PRESS_DETAILS,
        gives=("warm-up time of the middle",),
        formula=(
            "{warm-up time of the middle} = time until the middle has nine tenths of the way from {rubber start "
            "temperature} to the mean of {top face temperature} and {bottom face temperature} behind it",
            "temperature inside = heat spreading at {rubber diffusivity} through a slab {rubber thickness} thick, "
            "from {rubber start temperature}, between faces at {top face temperature} and {bottom face temperature} "
            "that pass {platen contact}: the series for a slab",
        ),
        run=_warm_up,
        says=_say_warm_up,
        sources=_SOURCES,
    ),
)
