"""Calculators of an alloy as it stands in the rules base: its melting range, and the karat of a fineness."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.calc.alloying import karat_from_fineness
from diagnose.derive.calculator import Calculator, Facts, Value, number
from diagnose.errors import OutOfRange

WIDE = 60.0  # K between fully melted and last frozen from which pores spread through a section


def _range(facts: Facts) -> dict[str, Value]:
    liquidus, solidus = number(facts, "metal liquidus"), number(facts, "metal solidus")
    if solidus > liquidus:
        raise OutOfRange(
            "an alloy that is solid up to {solidus:K} cannot be fully melted at {liquidus:K}.",
            {"solidus": solidus, "liquidus": liquidus},
            next_step="Check which of the two is which: solidus is the lower one.",
        )
    found: dict[str, Value] = {"melting interval": liquidus - solidus}
    if "metal last freezing" in facts:
        last = number(facts, "metal last freezing")
        if last > solidus + 0.5:
            raise OutOfRange(
                "the last drop cannot freeze at {last:K}, above the solidus of {solidus:K}.",
                {"last": last, "solidus": solidus},
                next_step="Check both; as cast the end lies at the solidus or below it.",
            )
        found["cast freezing interval"] = liquidus - last
    return found


def _say_range(facts: Facts) -> Sequence[str]:
    says = ["It is fully melted from {metal liquidus} up and, cooled slowly, fully solid below {metal solidus}."]
    if "cast freezing interval" in facts:
        says.append("As really cast its last liquid freezes at {metal last freezing}.")
    widest = number(facts, "cast freezing interval" if "cast freezing interval" in facts else "melting interval")
    if widest >= WIDE:
        says.append("A range this wide freezes mushy: fine pores all through, hard to feed, tears when quenched early.")
    else:
        says.append("A range this narrow freezes from the wall inward: feed it well, or one large hole is left.")
    return says


def _karat(facts: Facts) -> dict[str, Value]:
    return {"stock karat": karat_from_fineness(number(facts, "stock fineness"))}


CALCULATORS = (
    Calculator(
        name="melting range",
        title="Where the alloy melts and freezes",
        stage="casting",
        needs=("metal liquidus", "metal solidus"),
        takes=("metal last freezing",),
        gives=("melting interval", "cast freezing interval"),
        formula=(
            "{melting interval} = {metal liquidus} - {metal solidus}",
            "{cast freezing interval} = {metal liquidus} - {metal last freezing}",
        ),
        run=_range,
        says=_say_range,
        sources=("from memory of asm-handbook-15-2008", "from memory of flemings-1974"),
    ),
    Calculator(
        name="karat of a fineness",
        title="Karat of a fineness",
        stage="casting",
        needs=("stock fineness",),
        gives=("stock karat",),
        formula=("{stock karat} = {stock fineness} x 24",),
        run=_karat,
        says=lambda facts: ("{stock fineness} fine is {stock karat} karat; stamped grades are rounded.",),
        sources=("common practice",),
    ),
)
