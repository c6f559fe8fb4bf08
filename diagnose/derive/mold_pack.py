"""Calculators for packing a frame and for the age of raw rubber."""

from __future__ import annotations

from collections.abc import Sequence
from math import floor

from diagnose.calc.packing import (
    heat_squeeze_out,
    needed_rubber,
    overfill,
    proud_height,
    squeezed_out_share,
)
from diagnose.calc.storage import stock_age
from diagnose.derive.calculator import Calculator, Facts, Value, number
from diagnose.derive.mold_inputs import known
from diagnose.derive.told import positive


def _area(facts: Facts) -> float:
    return number(facts, "frame length") * number(facts, "frame width")


def _model_volume(facts: Facts) -> float | None:
    told = known(facts, "model volume")
    if told is not None:
        return told
    mass, density = known(facts, "model mass"), known(facts, "model metal density")
    return None if mass is None or density is None else mass / positive(facts, "model metal density")


def _rubber_volume(facts: Facts) -> float | None:
    mass = known(facts, "pack mass")
    if mass is not None:
        return mass / positive(facts, "rubber density")
    sheets = known(facts, "sheets")
    return None if sheets is None else sheets * number(facts, "sheet thickness") * _area(facts)


def _heat_share(facts: Facts) -> float | None:
    expansion, hot = known(facts, "rubber volume expansion"), known(facts, "platen temperature")
    if expansion is None or hot is None:
        return None
    warming = max(0.0, hot - number(facts, "rubber start temperature"))
    return heat_squeeze_out(expansion, number(facts, "frame expansion"), warming)


def _pack(facts: Facts) -> dict[str, Value]:
    area, depth = _area(facts), number(facts, "frame depth")
    density, sheet = positive(facts, "rubber density"), positive(facts, "sheet thickness")
    model = _model_volume(facts) or 0.0
    needed = needed_rubber(area, depth, model, number(facts, "wanted proud height"))
    found: dict[str, Value] = {
        "needed rubber mass": needed * density,
        "needed sheets": needed / (sheet * area),
    }
    heat = _heat_share(facts)
    if heat is not None:
        found["heat squeeze-out"] = heat
    rubber = _rubber_volume(facts)
    if rubber is None:
        return found
    over = overfill(area * depth, rubber, model)
    found["overfill"] = over
    found["pack proud height"] = max(0.0, proud_height(area, depth, rubber, model))
    found["rubber mass"] = rubber * density
    if heat is not None:
        share = squeezed_out_share(over, heat, number(facts, "air in the pack"))
        found["expected squeeze-out"] = share
        found["expected flash mass"] = share * rubber * density
    flash = known(facts, "flash mass")
    if flash is not None and rubber > 0.0:
        found["measured squeeze-out"] = flash / (rubber * density)
    return found


def _say_pack(facts: Facts) -> Sequence[str]:
    whole = floor(number(facts, "needed sheets"))
    lines = [
        "For a pack {wanted proud height} above the frame: {needed rubber mass} of rubber, {needed sheets} sheets; "
        f"that is {whole} whole ones and the rest in cut pieces, hollows first.",
    ]
    if _model_volume(facts) is None:
        lines.append("The room that the model takes was not told and is counted as rubber.")
    if "overfill" in facts:
        lines.append("This pack is {overfill} over the frame ({rubber mass} of rubber).")
        if number(facts, "overfill") < 0.0:
            lines.append("It is short: without spare rubber no pressure builds up in it.")
    if "expected squeeze-out" in facts:
        lines.append(
            "Heat alone pushes out {heat squeeze-out} of a full frame; in all {expected squeeze-out} of the pack, "
            "{expected flash mass}, should come out."
        )
    if "measured squeeze-out" in facts:
        lines.append("By weight {measured squeeze-out} came out.")
    return lines


def _storage(facts: Facts) -> dict[str, Value]:
    age = stock_age(
        number(facts, "storage time"),
        number(facts, "storage temperature"),
        number(facts, "rubber shelf temperature"),
        number(facts, "rubber activation energy"),
    )
    return {"raw stock age": age, "raw stock life used": age / positive(facts, "rubber shelf life")}


def _say_storage(facts: Facts) -> Sequence[str]:
    lines = [
        "{storage time} at {storage temperature} ages it like {raw stock age} at {rubber shelf temperature}: "
        "{raw stock life used} times its shelf life. That is an order of size only."
    ]
    if number(facts, "raw stock life used") > 0.75:
        lines.append("Try a cube on the hot plate before use: it must flow flat.")
    return lines


CALCULATORS = (
    Calculator(
        name="packing",
        title="How full the frame is, and how much rubber it needs",
        stage="mold",
        needs=(
            "frame length",
            "frame width",
            "frame depth",
            "sheet thickness",
            "wanted proud height",
            "rubber density",
        ),
        takes=(
            "sheets",
            "pack mass",
            "flash mass",
            "model volume",
            "model mass",
            "model metal density",
            "air in the pack",
            "frame expansion",
            "rubber volume expansion",
            "rubber start temperature",
            "platen temperature",
        ),
        gives=(
            "needed rubber mass",
            "needed sheets",
            "heat squeeze-out",
            "overfill",
            "pack proud height",
            "rubber mass",
            "expected squeeze-out",
            "expected flash mass",
            "measured squeeze-out",
        ),
        formula=(
            "{needed rubber mass} = ({frame length} x {frame width} x ({frame depth} + {wanted proud height}) - room"
            " of the model) x {rubber density}",
            "room of the model = {model volume}, or {model mass} / {model metal density}, or nothing where neither "
            "was told",
            "{needed sheets} = {needed rubber mass} / ({rubber density} x {sheet thickness} x {frame length} x "
            "{frame width})",
            "{rubber mass} = {pack mass}, or {sheets} x {sheet thickness} x {frame length} x {frame width} x {rubber"
            " density}",
            "{overfill} = ({rubber mass} / {rubber density} + room of the model) / ({frame length} x {frame width} x"
            " {frame depth}) - 1",
            "{pack proud height} = ({rubber mass} / {rubber density} + room of the model) / ({frame length} x {frame"
            " width}) - {frame depth}, or nothing if that is below zero",
            "{heat squeeze-out} = (1 + {rubber volume expansion} x w) / (1 + {frame expansion} x w)^3 - 1, with w = "
            "{platen temperature} - {rubber start temperature}",
            "{expected squeeze-out} = ({overfill} + {heat squeeze-out} - {air in the pack}) / (1 + {overfill}), or "
            "nothing if that is below zero",
            "{expected flash mass} = {expected squeeze-out} x {rubber mass}",
            "{measured squeeze-out} = {flash mass} / {rubber mass}",
        ),
        run=_pack,
        says=_say_pack,
        sources=("common practice",),
    ),
    Calculator(
        name="raw rubber age",
        title="How far raw rubber has aged in store",
        stage="mold",
        needs=(
            "storage time",
            "storage temperature",
            "rubber shelf temperature",
            "rubber shelf life",
            "rubber activation energy",
        ),
        gives=("raw stock age", "raw stock life used"),
        formula=(
            "{raw stock age} = {storage time} x exp({rubber activation energy} / R x (1 / {rubber shelf temperature}"
            " - 1 / {storage temperature})), in kelvin",
            "{raw stock life used} = {raw stock age} / {rubber shelf life}",
        ),
        run=_storage,
        says=_say_storage,
        sources=("common practice",),
    ),
)
