"""Calculators for size: what rubber, wax and metal take off, which model leads to which piece, ring sizes."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.calc.ring_size import (
    bore_of_circumference_size,
    bore_of_inch_system_size,
    inch_system_size,
    size_by_circumference,
)
from diagnose.calc.shrinkage import (
    chain_share,
    finished_size,
    measured_shrinkage,
    model_size,
    rubber_shrinkage,
)
from diagnose.derive.calculator import Calculator, Facts, Value, number
from diagnose.derive.mold_inputs import known
from diagnose.errors import OutOfRange

NOTHING = 0.002  # shrinkage beyond heat that a ruler test cannot tell from none
STEPS = ("wax shrinkage step", "metal shrinkage step")


def _rubber(facts: Facts) -> dict[str, Value]:
    set_at = known(facts, "gel temperature")
    if set_at is None:
        set_at = known(facts, "platen temperature")
    if set_at is None:
        return {}
    room = number(facts, "measuring temperature")
    by_heat = rubber_shrinkage(
        number(facts, "rubber volume expansion"), number(facts, "model metal expansion"), set_at - room
    )
    return {"rubber shrinkage": by_heat}


def _say_rubber(facts: Facts) -> Sequence[str]:
    if "rubber shrinkage" not in facts:
        return ["Tell the platen temperature, or the temperature at which the rubber sets."]
    return [
        "By heat alone the cavity ends {rubber shrinkage} smaller than the model. A ruler test of your own rubber "
        "beats this number."
    ]


def _measured(facts: Facts) -> dict[str, Value]:
    model, cavity = number(facts, "model size"), known(facts, "cavity size")
    wax, cast = known(facts, "wax size"), known(facts, "cast size")
    found: dict[str, Value] = {}
    if cavity is not None:
        found["cavity shrinkage"] = measured_shrinkage(model, cavity)
        by_heat = known(facts, "rubber shrinkage")
        if by_heat is not None:
            found["shrinkage beyond heat"] = measured_shrinkage(model, cavity) - by_heat
    if wax is not None:
        found["wax step measured"] = measured_shrinkage(model if cavity is None else cavity, wax)
    if wax is not None and cast is not None:
        found["metal step measured"] = measured_shrinkage(wax, cast)
    return found


def _say_measured(facts: Facts) -> Sequence[str]:
    lines = []
    if "cavity shrinkage" in facts:
        lines.append("From model to cavity: {cavity shrinkage} smaller, as measured.")
    if "shrinkage beyond heat" in facts:
        beyond = number(facts, "shrinkage beyond heat")
        side = "more" if beyond > 0.0 else "less"
        lines.append(
            f"That is {{shrinkage beyond heat|size}} {side} than heat explains. Heat takes the same share in every "
            "direction; a difference in thickness alone comes from closing or from a bulge."
            if abs(beyond) >= NOTHING
            else "Heat explains it."
        )
    if "wax step measured" in facts:
        lines.append("To the wax: {wax step measured} smaller.")
    if "metal step measured" in facts:
        lines.append("From wax to casting: {metal step measured} smaller.")
    return lines or ["Measure cavity, wax or casting in the same dimension as the model."]


def _chain(facts: Facts) -> tuple[float, ...] | None:
    rubber = known(facts, "measured rubber shrinkage")
    if rubber is None:
        rubber = known(facts, "cavity shrinkage")
    if rubber is None:
        rubber = known(facts, "rubber shrinkage")
    return None if rubber is None else (rubber, *(number(facts, step) for step in STEPS))


def _sizes(facts: Facts) -> dict[str, Value]:
    chain = _chain(facts)
    if chain is None:
        return {}
    left, off = chain_share(chain), number(facts, "finishing loss")
    found: dict[str, Value] = {"total shrinkage": 1.0 - left, "master scale": 1.0 / left}
    model, wanted = known(facts, "model size"), known(facts, "wanted finished size")
    if model is not None:
        found["expected finished size"] = finished_size(model, chain, off)
    if wanted is not None:
        found["needed model size"] = model_size(wanted, chain, off)
    return found


def chain_sizes(facts: Facts) -> tuple[tuple[str, float, float], ...]:
    """Return, from model to finished piece, what a step leads to, its size [m] and the share it took, for a drawing.

    Without a recorded or wanted size the model counts as 1.
    """
    chain = _chain(facts)
    if chain is None:
        raise OutOfRange("the shrinkage of the rubber is not known.", next_step="Tell the rubber, or a ruler test.")
    off, wanted = number(facts, "finishing loss"), known(facts, "wanted finished size")
    size = known(facts, "model size")
    if size is None:
        size, off = (1.0, 0.0) if wanted is None else (model_size(wanted, chain, off), off)
    found = [("model", size, 0.0)]
    for name, share in zip(("cavity", "wax", "casting"), chain, strict=True):
        size *= 1.0 - share
        found.append((name, size, share))
    return (*found, ("finished piece", size - off, off / size)) if off else tuple(found)


def _say_sizes(facts: Facts) -> Sequence[str]:
    if "total shrinkage" not in facts:
        return ["The shrinkage of the rubber is not known: tell the rubber, or your own ruler test."]
    lines = ["Rubber, wax and metal together take {total shrinkage}; a model must be {master scale} times as large."]
    if "expected finished size" in facts:
        lines.append("A model of {model size} ends, finished, at {expected finished size}.")
    if "needed model size" in facts:
        lines.append("For {wanted finished size} finished the model must measure {needed model size}.")
    return lines


def _bore(facts: Facts) -> float | None:
    bore = known(facts, "ring bore")
    if bore is not None:
        return bore
    around = known(facts, "ring circumference size")
    if around is not None:
        return bore_of_circumference_size(around)
    inch = known(facts, "ring inch size")
    return None if inch is None else bore_of_inch_system_size(inch, *_system(facts))


def _system(facts: Facts) -> tuple[float, float]:
    return number(facts, "inch system zero bore"), number(facts, "inch system step")


def _ring(facts: Facts) -> dict[str, Value]:
    bore = _bore(facts)
    if bore is None:
        return {}
    found: dict[str, Value] = {
        "bore found": bore,
        "size as circumference": size_by_circumference(bore),
        "size in the inch system": inch_system_size(bore, *_system(facts)),
    }
    chain = _chain(facts)
    if chain is not None:
        wide = number(facts, "bore widening")
        found["needed model bore"] = model_size(bore, chain, -wide)
        found["inch sizes lost"] = bore * (1.0 - chain_share(chain)) / _system(facts)[1]
    return found


def _say_ring(facts: Facts) -> Sequence[str]:
    lines = [
        "A bore of {bore found} is size {size as circumference} by circumference and {size in the inch system} in "
        "the inch system, whose steps differ a little from stick to stick."
    ]
    if "needed model bore" in facts:
        lines.append(
            "Cast from a model of that bore the ring comes out {inch sizes lost} inch sizes smaller; the model "
            "needs a bore of {needed model bore}."
        )
    return lines


RUBBER_STEP = ("measured rubber shrinkage", "cavity shrinkage", "rubber shrinkage")
SIZES = ("model size", "wanted finished size")
BORES = {"bore": "ring bore", "circumference": "ring circumference size", "inch size": "ring inch size"}


_CHAIN = (
    "{total shrinkage} = 1 - (1 - rubber) x (1 - {wax shrinkage step}) x (1 - {metal shrinkage step})",
    "{master scale} = 1 / (1 - {total shrinkage})",
    "rubber = {measured rubber shrinkage}, else {cavity shrinkage}, else {rubber shrinkage}",
)
_ENDS = (
    "{expected finished size} = {model size} x (1 - {total shrinkage}) - {finishing loss}",
    "{needed model size} = ({wanted finished size} + {finishing loss}) / (1 - {total shrinkage})",
)


def _without(names: tuple[str, ...], *left_out: str) -> tuple[str, ...]:
    return tuple(n for n in names if n not in left_out)


def _by_heat(name: str, known_by: str) -> Calculator:
    """Return the calculator of shrinkage by heat that starts from one of the two temperatures."""
    return Calculator(
        name=name,
        title="How much smaller than the model the cavity gets by heat alone",
        stage="mold",
        needs=(known_by, "rubber volume expansion", "model metal expansion", "measuring temperature"),
        takes=_without(("gel temperature", "platen temperature"), known_by),
        gives=("rubber shrinkage",),
        formula=(
            "{rubber shrinkage} = 1 - (1 + {model metal expansion} x c) / (1 + {rubber volume expansion} x c)^(1 / 3)",
            "c, the cooling = {gel temperature}, else {platen temperature}, less {measuring temperature}",
        ),
        run=_rubber,
        says=_say_rubber,
        sources=("common practice",),
    )


def _chain_of(name: str, title: str, known_by: str, found: tuple[str, ...]) -> Calculator:
    """Return the calculator of the whole chain that starts from one recorded size or shrinkage."""
    return Calculator(
        name=name,
        title=title,
        stage="mold",
        needs=(known_by, *STEPS, "finishing loss"),
        takes=_without((*RUBBER_STEP, *(SIZES if found else ())), known_by),
        gives=("total shrinkage", "master scale", *found),
        formula=(*_CHAIN, *(_ENDS if found else ())),
        run=_sizes,
        says=_say_sizes,
        sources=("common practice",),
        drawing="size chain",
    )


def _ring_by(what: str, known_by: str) -> Calculator:
    """Return the calculator of ring sizes that starts from one way of telling the size."""
    return Calculator(
        name=f"ring size by {what}",
        title="Ring sizes, and the bore a model needs",
        stage="mold",
        needs=(known_by, "inch system zero bore", "inch system step", *STEPS, "bore widening"),
        takes=(*_without(tuple(BORES.values()), known_by), *RUBBER_STEP),
        gives=(
            "bore found",
            "size as circumference",
            "size in the inch system",
            "needed model bore",
            "inch sizes lost",
        ),
        formula=(
            "{bore found} = {ring bore}, else {ring circumference size} / pi, else {inch system zero bore} + "
            "{ring inch size} x {inch system step}",
            "{size as circumference} = pi x {bore found}, in mm",
            "{size in the inch system} = ({bore found} - {inch system zero bore}) / {inch system step}",
            "{needed model bore} = ({bore found} - {bore widening}) / left over",
            "{inch sizes lost} = {bore found} x (1 - left over) / {inch system step}",
            "left over = (1 - rubber) x (1 - {wax shrinkage step}) x (1 - {metal shrinkage step}), with rubber = "
            "{measured rubber shrinkage}, else {cavity shrinkage}, else {rubber shrinkage}",
        ),
        run=_ring,
        says=_say_ring,
        sources=("iso-8653-2016", "common practice"),
    )


CALCULATORS = (
    _by_heat("rubber shrinkage", "platen temperature"),
    _by_heat("rubber shrinkage from set temperature", "gel temperature"),
    Calculator(
        name="measured shrinkage",
        title="What each step took, from measured sizes",
        stage="mold",
        needs=("model size",),
        takes=("cavity size", "wax size", "cast size", "rubber shrinkage"),
        gives=("cavity shrinkage", "shrinkage beyond heat", "wax step measured", "metal step measured"),
        formula=(
            "{cavity shrinkage} = 1 - {cavity size} / {model size}",
            "{shrinkage beyond heat} = {cavity shrinkage} - {rubber shrinkage}",
            "{wax step measured} = 1 - {wax size} / {cavity size}; where no cavity was measured, {model size} stands"
            " for it",
            "{metal step measured} = 1 - {cast size} / {wax size}",
        ),
        run=_measured,
        says=_say_measured,
        sources=("common practice",),
    ),
    _chain_of(
        "finished size",
        "What a model leads to",
        "model size",
        ("expected finished size", "needed model size"),
    ),
    _chain_of(
        "needed model size",
        "Which model leads to the size wanted",
        "wanted finished size",
        ("needed model size", "expected finished size"),
    ),
    _chain_of("size chain", "What rubber, wax and metal take off in all", "rubber shrinkage", ()),
    _chain_of(
        "size chain by ruler test",
        "What rubber, wax and metal take off in all, from your own ruler test",
        "measured rubber shrinkage",
        (),
    ),
    *(_ring_by(what, known_by) for what, known_by in BORES.items()),
)
