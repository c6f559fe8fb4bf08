"""The freezing order of a tree: how long part, gate, trunk and button stay liquid, against the part."""

from __future__ import annotations

from diagnose.calc.chvorinov import time_ratio
from diagnose.consult.show import Shower
from diagnose.derive.calculator import Facts, number
from diagnose.report.pictures.panels import Bar, Bars, Kind, Level
from diagnose.report.pictures.picture import Picture
from diagnose.report.pictures.scale import scale_of

CHAIN = ("part", "gate", "trunk", "button")


def freezing_picture(show: Shower, recorded: Facts, revised: Facts | None = None) -> Picture:
    """Return the freezing order; the facts are those that the calculator `freezing order` needs and gives."""
    told: dict[Kind, Facts] = {"recorded": recorded}
    if revised is not None:
        told["revised"] = revised
    several = len(told) > 1
    length = scale_of(show, "part modulus")
    bars, rows, words = [], [], []
    for kind, facts in told.items():
        part, before = number(facts, "part modulus"), 0.0
        chain = []
        for name in CHAIN:
            if f"{name} modulus" not in facts:
                continue
            modulus = number(facts, f"{name} modulus")
            times = time_ratio(modulus, part)
            late = "" if modulus > before else ", too early"
            said = f"{times:.2f}"
            bars.append(Bar(f"{name}, {kind}" if several else name, 0.0, times, said + late, kind))
            rows.append((*((kind,) if several else ()), name, length.text(modulus), said, "no" if late else "yes"))
            chain.append(f"{name} {said}{late}")
            before = modulus
        words.append(f"With the {kind} sizes, freezing times against the part's: {', '.join(chain)}.")
    header = ("section", "cooling thickness", "freezing time against the part", "after what it feeds")
    return Picture(
        name="freezing-order",
        title="Freezing order, from the part to the button",
        alt=" ".join(words) + " Each bar should be longer than the one above it.",
        header=("sizes", *header) if several else header,
        rows=tuple(rows),
        panels=(Bars("freezing time, times that of the part", tuple(bars), (Level(1.0, "the part is solid"),)),),
    )
