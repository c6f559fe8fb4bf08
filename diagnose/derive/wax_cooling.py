"""Calculators for wax in the mold: when the gate shuts, when the part is firm, how much rest the mold needs."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf, sqrt

from diagnose.calc.feeding import rod_for_modulus
from diagnose.calc.modulus import rod, section
from diagnose.calc.mold_warming import (
    block_surface,
    molds_in_turn,
    recovery_time,
    rise_per_shot,
    settled_excess,
    shot_heat,
    shot_interval,
)
from diagnose.calc.wax_cooling import ROD, Rubber, Wax, bar_shape, cooling_times
from diagnose.derive.calculator import Calculator, Facts, Value, number
from diagnose.derive.told import positive

WAX = (
    "wax density",
    "wax specific heat",
    "wax conductivity",
    "wax latent heat",
    "wax freezing start",
    "wax freezing end",
    "wax usual temperature",
)
RUBBER = ("rubber conductivity", "rubber diffusivity")
BLOCK = ("frame length", "frame width", "rubber thickness")


def _wax(facts: Facts) -> Wax:
    """Return the wax, its freezing range moved to the congealing point that was recorded."""
    start, end = number(facts, "wax freezing start"), number(facts, "wax freezing end")
    shift = number(facts, "wax congealing point") - start if "wax congealing point" in facts else 0.0
    return Wax(
        density=number(facts, "wax density"),
        specific_heat=number(facts, "wax specific heat"),
        conductivity=number(facts, "wax conductivity"),
        latent_heat=number(facts, "wax latent heat"),
        freezing_start=start + shift,
        freezing_end=end + shift,
    )


def _rubber(facts: Facts) -> Rubber:
    depth = number(facts, "rubber thickness") / 2.0 if "rubber thickness" in facts else inf
    return Rubber(number(facts, "rubber conductivity"), number(facts, "rubber diffusivity"), depth)


def _wax_temperature(facts: Facts) -> float:
    """Return the wax temperature told, or the usual one: ten degrees change the times by a tenth."""
    told = "wax temperature" if "wax temperature" in facts else "wax usual temperature"
    return number(facts, told)


def _optional(facts: Facts, name: str) -> float | None:
    return number(facts, name) if name in facts else None


def _gate(facts: Facts) -> dict[str, Value]:
    wax, mold = _wax(facts), number(facts, "mold temperature")
    half = number(facts, "wax gate diameter") / 2.0
    (freezes,) = cooling_times(half, ROD, wax, _rubber(facts), _wax_temperature(facts), mold, (wax.freezing_end,))
    if freezes is None:
        return {}
    shut, cap = positive(facts, "gate shut share") * freezes, number(facts, "longest hold")
    found: dict[str, Value] = {
        "wax gate freeze time": freezes,
        "gate shut time": shut,
        "needed hold time": min(shut, cap),
        "pinch the gate": "yes" if shut > cap else "no",
    }
    if "hold time" in facts:
        found["hold ratio"] = number(facts, "hold time") / shut
    return found


def _say_gate(facts: Facts) -> Sequence[str]:
    if "gate shut time" not in facts:
        return ("In a mold this warm the gate does not freeze: rest the mold.",)
    says = [
        "Wax stops running through the gate after about {gate shut time}; it is solid after {wax gate freeze time}."
    ]
    if facts["pinch the gate"] == "yes":
        says.append("Hold {needed hold time}, then pinch the gate as you leave the nozzle.")
    else:
        says.append("Hold {needed hold time} on the nozzle.")
    if "hold ratio" in facts:
        says.append("It was held {hold ratio} of the time the gate needs to shut.")
    return says


def _set_time(facts: Facts) -> dict[str, Value]:
    wax, mold = _wax(facts), number(facts, "mold temperature")
    shape, half = bar_shape(number(facts, "heaviest section"), _optional(facts, "heaviest section width"))
    targets = (wax.freezing_end, number(facts, "wax firm temperature"))
    poured = _wax_temperature(facts)
    solid, firm = cooling_times(half, shape, wax, _rubber(facts), poured, mold, targets)
    found: dict[str, Value] = {"wax sets in this mold": "no" if firm is None else "yes"}
    if solid is not None:
        found["wax solid time"] = solid
    if firm is not None:
        found["wax set time"] = firm
        if "time in the mold" in facts:
            found["cooling ratio"] = number(facts, "time in the mold") / firm
        if "wax room temperature" in facts and mold > number(facts, "wax room temperature"):
            room = number(facts, "wax room temperature")
            _, rested = cooling_times(half, shape, wax, _rubber(facts), poured, room, targets)
            if rested is not None:
                found["warm mold wait ratio"] = firm / rested
    return found


def _say_set_time(facts: Facts) -> Sequence[str]:
    if facts["wax sets in this mold"] == "no":
        return ("A mold this warm never brings the heavy section to where it is firm: rest it, waiting does not help.",)
    says = ["The heaviest section is solid after {wax solid time} and firm after {wax set time}."]
    if "cooling ratio" in facts:
        says.append("The mold was opened after {cooling ratio} of that.")
    if "warm mold wait ratio" in facts:
        says.append("From a rested mold it would be {warm mold wait ratio} times sooner.")
    return [*says, "Twice as thick takes four times as long; the seconds themselves are good to about a half."]


def wax_curves(facts: Facts, points: int = 40) -> dict[str, tuple[tuple[float, float], ...]]:
    """Return time [s] and temperature [K] in the middle of the gate and of the heaviest section, for a drawing.

    Each curve runs from the shot over nine tenths of the way to the mold, or to where wax and mold settle.
    """
    wax, mold, poured = _wax(facts), number(facts, "mold temperature"), _wax_temperature(facts)
    sections: dict[str, tuple[float, float]] = {}
    if "wax gate diameter" in facts:
        sections["gate"] = (ROD, number(facts, "wax gate diameter") / 2.0)
    if "heaviest section" in facts:
        sections["heaviest section"] = bar_shape(
            number(facts, "heaviest section"), _optional(facts, "heaviest section width")
        )
    targets = tuple(poured + 0.9 * (mold - poured) * (n + 1) / points for n in range(points))
    found: dict[str, tuple[tuple[float, float], ...]] = {}
    for name, (shape, half) in sections.items():
        times = cooling_times(half, shape, wax, _rubber(facts), poured, mold, targets)
        reached = [(time, target) for time, target in zip(times, targets, strict=True) if time is not None]
        found[name] = ((0.0, poured), *reached)
    return found


def wax_marks(facts: Facts) -> dict[str, float]:
    """Return the temperatures [K] that matter in the cooling of this wax, for a drawing."""
    wax = _wax(facts)
    found = {"begins to freeze": wax.freezing_start, "frozen through": wax.freezing_end}
    if "wax firm temperature" in facts:
        found["firm"] = number(facts, "wax firm temperature")
    return found


def _wax_gate(facts: Facts) -> dict[str, Value]:
    part = section(number(facts, "heaviest section"), _optional(facts, "heaviest section width"))
    found: dict[str, Value] = {"needed wax gate": rod_for_modulus(number(facts, "feeding margin") * part)}
    if "wax gate diameter" in facts:
        found["wax gate ratio"] = rod(number(facts, "wax gate diameter")) / part
    return found


def _say_wax_gate(facts: Facts) -> Sequence[str]:
    says = ["To pack the heaviest section while it sets, the gate should be {needed wax gate} or more."]
    if "wax gate ratio" in facts:
        says.append("The gate's cooling thickness is {wax gate ratio} of the section's.")
    return says


def _gate_limit(facts: Facts) -> dict[str, Value]:
    joined = positive(facts, "most gate over its joint") * positive(facts, "section at the gate")
    wax, mold, radius = _wax(facts), number(facts, "mold temperature"), joined / 2.0
    (freezes,) = cooling_times(radius, ROD, wax, _rubber(facts), _wax_temperature(facts), mold, (wax.freezing_end,))
    if freezes is None:
        return {}
    shut, longest = positive(facts, "gate shut share") * freezes, positive(facts, "longest hold")
    # The time grows with the square of the thickness.
    return {"widest wax gate": joined * min(1.0, sqrt(longest / shut))}


def _say_gate_limit(facts: Facts) -> Sequence[str]:
    if "widest wax gate" not in facts:
        return ("In a mold this warm the gate does not freeze: rest the mold.",)
    return ("More than {widest wax gate} here feeds nothing more: the joint or the hold is the limit then.",)


def _warming(facts: Facts) -> dict[str, Value]:
    block = tuple(number(facts, side) for side in BLOCK if side in facts)
    whole = len(block) == len(BLOCK)
    if "mold mass" in facts:
        mass = number(facts, "mold mass")
    elif whole:
        mass = block[0] * block[1] * block[2] * number(facts, "rubber density")
    else:
        return {}
    wax, specific = _wax(facts), number(facts, "rubber specific heat")
    given = wax.heat(_wax_temperature(facts)) - wax.heat(number(facts, "wax firm temperature"))
    rise = rise_per_shot(shot_heat(number(facts, "wax shot weight"), given), mass, specific)
    found: dict[str, Value] = {"mold rise per shot": rise}
    if whole:
        recovery = recovery_time(mass, specific, block_surface(*block), number(facts, "air heat transfer"))
        found |= {"mold recovery time": recovery, **_rotation(facts, rise, recovery)}
    return found


def _rotation(facts: Facts, rise: float, recovery: float) -> dict[str, Value]:
    found: dict[str, Value] = {}
    if "wax room temperature" not in facts:
        return found
    room = number(facts, "wax room temperature")
    interval = shot_interval(rise, recovery, number(facts, "warmest mold") - room)
    found["needed shot interval"] = interval
    if "time between shots" in facts:
        found["molds in turn"] = float(molds_in_turn(interval, number(facts, "time between shots")))
    if "shot interval" in facts:
        settled = room + settled_excess(rise, recovery, number(facts, "shot interval"))
        found["settled mold temperature"] = min(settled, _wax_temperature(facts))
    return found


def _say_warming(facts: Facts) -> Sequence[str]:
    if "mold rise per shot" not in facts:
        return ("Weigh the mold, or record its three sides.",)
    says = ["Each shot warms the mold by {mold rise per shot}."]
    if "mold recovery time" in facts:
        says.append("Left in the open it loses two thirds of its warmth in {mold recovery time}.")
    if "needed shot interval" in facts:
        says.append("To stay under {warmest mold} in the mean it needs {needed shot interval} from shot to shot.")
    if "molds in turn" in facts:
        says.append("At your pace that is {molds in turn} molds in turn.")
    if "settled mold temperature" in facts:
        says.append("At one shot every {shot interval} it settles near {settled mold temperature}.")
    return says


CALCULATORS = (
    Calculator(
        name="wax hold time",
        title="How long to hold the mold on the nozzle",
        stage="wax",
        needs=("wax gate diameter", "mold temperature", "gate shut share", "longest hold", *WAX, *RUBBER),
        takes=("wax temperature", "wax congealing point", "rubber thickness", "hold time"),
        gives=("wax gate freeze time", "gate shut time", "needed hold time", "pinch the gate", "hold ratio"),
        formula=(
            "{wax gate freeze time} = time until a round gate {wax gate diameter} wide is solid: heat flows from wax"
            " at {wax temperature} (else {wax usual temperature}), its latent heat {wax latent heat} included, into "
            "rubber at {mold temperature}, followed step by step",
            "{gate shut time} = {gate shut share} x {wax gate freeze time}",
            "{needed hold time} = the smaller of {gate shut time} and {longest hold}",
            "{pinch the gate} = yes when {gate shut time} is over {longest hold}",
            "{hold ratio} = {hold time} / {gate shut time}",
        ),
        run=_gate,
        says=_say_gate,
        sources=("from memory of voller-1990", "common practice"),
        drawing="wax cooling",
    ),
    Calculator(
        name="wax set time",
        title="When the wax is firm enough to open the mold",
        stage="wax",
        needs=("heaviest section", "mold temperature", "wax firm temperature", *WAX, *RUBBER),
        takes=(
            "heaviest section width", "wax temperature", "wax congealing point", "rubber thickness", "time in the mold",
            "wax room temperature",
        ),
        gives=(
            "wax solid time", "wax set time", "wax sets in this mold", "cooling ratio", "warm mold wait ratio",
        ),
        formula=(
            "{wax solid time}, {wax set time} = time until the middle of a bar {heaviest section} by {heaviest "
            "section width} is solid, and until it is down to {wax firm temperature}: heat flows from wax at {wax "
            "temperature} (else {wax usual temperature}), its latent heat {wax latent heat} included, into rubber at"
            " {mold temperature}, followed step by step",
            "{wax sets in this mold} = yes when it comes down to {wax firm temperature} at all",
            "{cooling ratio} = {time in the mold} / {wax set time}",
            "{warm mold wait ratio} = {wax set time} / the same time in a mold at {wax room temperature}",
        ),
        run=_set_time,
        says=_say_set_time,
        sources=("from memory of voller-1990",),
        drawing="wax cooling",
    ),
    Calculator(
        name="wax gate",
        title="How thick the gate of the mold should be",
        stage="wax",
        needs=("heaviest section", "feeding margin"),
        takes=("heaviest section width", "wax gate diameter"),
        gives=("needed wax gate", "wax gate ratio"),
        formula=(
            "{needed wax gate} = 4 x {feeding margin} x M",
            "{wax gate ratio} = {wax gate diameter} / 4 / M",
            "M, the cooling thickness = a x b / (2 x (a + b)) for a bar of {heaviest section} by {heaviest section "
            "width}; half of {heaviest section} for a flat wall",
        ),
        run=_wax_gate,
        says=_say_wax_gate,
        sources=("from memory of wlodawer-1966", "common practice"),
    ),
    Calculator(
        name="wax gate limit",
        title="How thick a gate of the mold is of any use",
        stage="wax",
        needs=(
            "section at the gate", "most gate over its joint", "mold temperature", "gate shut share", "longest hold",
            *WAX, *RUBBER,
        ),
        takes=("wax temperature", "wax congealing point", "rubber thickness"),
        gives=("widest wax gate",),
        formula=(
            "{widest wax gate} = the smaller of {most gate over its joint} x {section at the gate} and the round gate "
            "that shuts, after {gate shut share} of its freezing time, at the end of {longest hold}",
        ),
        run=_gate_limit,
        says=_say_gate_limit,
        sources=("common practice", "from memory of voller-1990"),
    ),
    Calculator(
        name="mold warming",
        title="How much a shot warms the mold, and how many molds to use in turn",
        stage="wax",
        needs=("wax shot weight", "rubber specific heat", "rubber density", "wax firm temperature", *WAX),
        takes=(
            "wax temperature", "wax congealing point", "mold mass", *BLOCK, "air heat transfer",
            "wax room temperature", "warmest mold", "time between shots", "shot interval",
        ),
        gives=(
            "mold rise per shot", "mold recovery time", "needed shot interval", "molds in turn",
            "settled mold temperature",
        ),
        formula=(
            "{mold rise per shot} = {wax shot weight} x (heat in the wax at {wax temperature} - heat left at {wax "
            "firm temperature}) / (mold mass x {rubber specific heat})",
            "heat in the wax = {wax specific heat} x temperature, and {wax latent heat} spread over its freezing "
            "range",
            "mold mass = {mold mass}, else {frame length} x {frame width} x {rubber thickness} x {rubber density}",
            "{mold recovery time} = mold mass x {rubber specific heat} / (surface of the block x {air heat "
            "transfer})",
            "{needed shot interval} = {mold rise per shot} x {mold recovery time} / ({warmest mold} - {wax room "
            "temperature})",
            "{molds in turn} = {needed shot interval} / {time between shots}, the next whole number up",
            "{settled mold temperature} = {wax room temperature} + {mold rise per shot} x {mold recovery time} / "
            "{shot interval}, never hotter than the wax",
        ),
        run=_warming,
        says=_say_warming,
        sources=("common practice",),
    ),
)  # fmt: skip
