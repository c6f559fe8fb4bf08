"""Calculators for the charge: how much metal, how much of it new, how fine, where a mix melts."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.calc.alloying import (
    addition_for_fineness,
    fineness_after_loss,
    fineness_from_karat,
    mixture_density,
)
from diagnose.calc.charge import charge_mass, fresh_metal, metal_for_wax
from diagnose.calc.phase_diagram import eutectic_in_balance
from diagnose.calc.two_metals import Mixing, PureMetal, TwoMetals, eutectic, melting_range
from diagnose.derive.calculator import Calculator, Facts, Value, number
from diagnose.errors import OutOfRange

PHASES = tuple(
    f"metal mix {phase} {term} {end}"
    for phase in ("liquid", "solid")
    for term in ("even", "skew")
    for end in ("low", "high")
)
PURE = tuple(
    f"metal mix {which} {what}" for which in ("first", "second") for what in ("melting point", "molar mass", "gap")
)


def _needed_metal(facts: Facts) -> dict[str, Value]:
    density, wax = number(facts, "metal density"), number(facts, "wax density")
    tree = metal_for_wax(number(facts, "tree wax weight"), wax, density)
    if "button weight" in facts:
        button = number(facts, "button weight")
    else:
        button = tree * number(facts, "button share")
    needed = charge_mass(tree, button, number(facts, "loss allowance"))
    found: dict[str, Value] = {
        "wax to metal factor": density / wax,
        "metal in the tree": tree,
        "needed metal": needed,
    }
    if "metal weight" in facts:
        found["missing metal"] = needed - number(facts, "metal weight")
    return found


def _say_needed_metal(facts: Facts) -> Sequence[str]:
    says = [
        "Each part of wax becomes {wax to metal factor} parts of metal: {metal in the tree} for the tree.",
        "With button and losses the charge is {needed metal}.",
    ]
    if "missing metal" in facts:
        if number(facts, "missing metal") > 0.0:
            says.append("The charge of {metal weight} was {missing metal} short.")
        else:
            says.append("The charge of {metal weight} was enough: {missing metal|size} to spare.")
    return says


def _recycled(facts: Facts) -> dict[str, Value]:
    share = 1.0 - number(facts, "fresh metal share")
    found: dict[str, Value] = {"recycled share": share}
    if "metal highest recycled share" in facts:
        highest = number(facts, "metal highest recycled share")
        found["recycled excess"] = share - highest
        found["needed fresh share"] = 1.0 - highest
    return found


def _say_recycled(facts: Facts) -> Sequence[str]:
    says = ["{recycled share} of the charge had been cast before."]
    if "needed fresh share" in facts:
        says.append("For this metal at least {needed fresh share} should be new.")
    return says


def _make_up(facts: Facts) -> dict[str, Value]:
    charge = number(facts, "needed metal")
    fresh = fresh_metal(charge, number(facts, "metal highest recycled share"))
    return {"needed fresh metal": fresh, "most recycled metal": charge - fresh}


def _mixture(facts: Facts) -> dict[str, Value]:
    shares, densities = facts["alloy shares"], facts["alloy densities"]
    if not isinstance(shares, tuple) or not isinstance(densities, tuple):
        raise OutOfRange("an alloy needs several shares and several densities.", next_step="List them with commas.")
    return {"alloy density": mixture_density(shares, densities)}


def _fineness_change(facts: Facts) -> dict[str, Value]:
    mass, wanted = number(facts, "stock weight"), number(facts, "wanted fineness")
    addition = addition_for_fineness(mass, number(facts, "stock fineness"), wanted, number(facts, "addition fineness"))
    return {"needed addition": addition, "weight after addition": mass + addition}


def _say_fineness_change(facts: Facts) -> Sequence[str]:
    if number(facts, "needed addition") == 0.0:
        return ("It has {wanted fineness} already: add nothing.", "Have an assay made before marking.")
    return (
        "Add {needed addition} to {stock weight}: {weight after addition} of {wanted fineness}.",
        "Have an assay made before marking.",
    )


def _after_melting(facts: Facts) -> dict[str, Value]:
    charge, lost = number(facts, "metal weight"), number(facts, "weight lost")
    share = lost / charge if charge > 0.0 else -1.0
    if "metal fineness" not in facts:
        if not 0.0 <= share < 1.0:
            raise OutOfRange(
                "{weight lost:kg} cannot be lost from a charge of {metal weight:kg}.",
                {"weight lost": lost, "metal weight": charge},
                next_step="Weigh charge, castings and sprues again.",
            )
        return {"melting loss": share}
    fineness = fineness_after_loss(number(facts, "metal fineness"), share)
    found: dict[str, Value] = {"melting loss": share, "fineness after melting": fineness}
    if "marked fineness" in facts:
        mark = number(facts, "marked fineness")
        if fineness < mark:
            raise OutOfRange(
                f"the metal, {fineness:.2%} fine, is under the mark of {mark:.2%} already.",
                next_step="Add finer metal, or refine it; never alloy metal.",
            )
        found["most alloy metal to add"] = min(lost, addition_for_fineness(charge - lost, fineness, mark, 0.0))
    return found


def _say_after_melting(facts: Facts) -> Sequence[str]:
    if "fineness after melting" not in facts:
        return ("{melting loss} of the charge burned off.",)
    says = ["{melting loss} of the charge burned off; what is left is {fineness after melting} fine."]
    if "most alloy metal to add" in facts:
        says.append(
            "At most {most alloy metal to add} of what burned off may be put back under the mark: wrapped, "
            "with the heat off, the melt barely fluid and the extraction running."
        )
    return says


def _mix(facts: Facts) -> dict[str, Value]:
    low, high = number(facts, "metal mix low temperature"), number(facts, "metal mix high temperature")
    first, second = (
        PureMetal(
            melts=number(facts, f"metal mix {which} melting point"),
            molar_mass=number(facts, f"metal mix {which} molar mass") / 1000.0,
            gap=number(facts, f"metal mix {which} gap"),
        )
        for which in ("first", "second")
    )
    energies = [number(facts, name) for name in PHASES]
    metals = TwoMetals(first, second, Mixing(*energies[:4]), Mixing(*energies[4:]), low, high)
    content = number(facts, "second metal share")
    found, bottom = melting_range(metals, content), eutectic(metals)
    return {
        "mix liquidus": found.liquidus,
        "mix solidus": found.solidus,
        "mix end of freezing": found.end_of_freezing,
        "mix freezing range": found.liquidus - found.end_of_freezing,
        "mix frozen last": found.frozen_last,
        "mix eutectic in balance": eutectic_in_balance(content, bottom.first_solid, bottom.liquid),
    }


def _say_mix(facts: Facts) -> Sequence[str]:
    balance = "none" if number(facts, "mix eutectic in balance") == 0.0 else "only {mix eutectic in balance}"
    return (
        "It is fully melted from {mix liquidus} up and, cooled slowly, fully solid under {mix solidus}.",
        "As cast, {mix frozen last} of it is still liquid down to {mix end of freezing}: do not move it, load it or "
        f"anneal it hotter. Cooled very slowly {balance} of it would be.",
    )


CALCULATORS = (
    Calculator(
        name="needed metal",
        title="Metal for a wax tree",
        stage="casting",
        needs=("tree wax weight", "wax density", "metal density", "button share", "loss allowance"),
        takes=("button weight", "metal weight"),
        gives=("wax to metal factor", "metal in the tree", "needed metal", "missing metal"),
        formula=(
            "{wax to metal factor} = {metal density} / {wax density}",
            "{metal in the tree} = {tree wax weight} x {metal density} / {wax density}",
            "{needed metal} = ({metal in the tree} + button) x (1 + {loss allowance}), with the button {button "
            "weight}, else {button share} of {metal in the tree}",
            "{missing metal} = {needed metal} - {metal weight}",
        ),
        run=_needed_metal,
        says=_say_needed_metal,
        sources=("common practice",),
    ),
    Calculator(
        name="recycled share",
        title="How much of the charge had been cast before",
        stage="casting",
        needs=("fresh metal share",),
        takes=("metal highest recycled share",),
        gives=("recycled share", "recycled excess", "needed fresh share"),
        formula=(
            "{recycled share} = 1 - {fresh metal share}",
            "{recycled excess} = {recycled share} - {metal highest recycled share}",
            "{needed fresh share} = 1 - {metal highest recycled share}",
        ),
        run=_recycled,
        says=_say_recycled,
        sources=("common practice",),
    ),
    Calculator(
        name="charge make-up",
        title="New and re-used metal in a charge",
        stage="casting",
        needs=("needed metal", "metal highest recycled share"),
        gives=("needed fresh metal", "most recycled metal"),
        formula=(
            "{needed fresh metal} = {needed metal} x (1 - {metal highest recycled share})",
            "{most recycled metal} = {needed metal} - {needed fresh metal}",
        ),
        run=_make_up,
        says=lambda facts: (
            "Of {needed metal} at least {needed fresh metal} must be new.",
            "At most {most recycled metal} may be clean buttons and sprues.",
        ),
        sources=("common practice",),
    ),
    Calculator(
        name="alloy density",
        title="Density of an alloy from its metals",
        stage="casting",
        needs=("alloy shares", "alloy densities"),
        gives=("alloy density",),
        formula=("{alloy density} = 1 / sum of (share / density), over {alloy shares} and {alloy densities}",),
        run=_mixture,
        says=lambda facts: (
            "If the metals keep their volumes the alloy has {alloy density}.",
            "With much zinc or silicon in copper that is 2 to 6 % too little: weigh a sound piece in water.",
        ),
        sources=("brillo-2006",),
    ),
    Calculator(
        name="karat",
        title="Fineness of a karat",
        stage="casting",
        needs=("karat",),
        gives=("karat fineness",),
        formula=("{karat fineness} = {karat} / 24",),
        run=lambda facts: {"karat fineness": fineness_from_karat(number(facts, "karat"))},
        says=lambda facts: ("{karat} karat is {karat fineness} gold; the stamped grade may be a rounded one.",),
        sources=("common practice",),
    ),
    Calculator(
        name="fineness change",
        title="What to add to raise or lower a fineness",
        stage="casting",
        needs=("stock weight", "stock fineness", "wanted fineness", "addition fineness"),
        gives=("needed addition", "weight after addition"),
        formula=(
            "{needed addition} = {stock weight} x ({wanted fineness} - {stock fineness}) / ({addition fineness} - "
            "{wanted fineness})",
            "{weight after addition} = {stock weight} + {needed addition}",
        ),
        run=_fineness_change,
        says=_say_fineness_change,
        sources=("common practice",),
    ),
    Calculator(
        name="fineness after melting",
        title="Fineness after zinc burned off",
        stage="casting",
        needs=("metal weight", "weight lost"),
        takes=("metal fineness", "marked fineness"),
        gives=("melting loss", "fineness after melting", "most alloy metal to add"),
        formula=(
            "{melting loss} = {weight lost} / {metal weight}",
            "{fineness after melting} = {metal fineness} / (1 - {melting loss})",
            "{most alloy metal to add} = the less of {weight lost} and ({metal weight} - {weight lost}) x ({fineness"
            " after melting} - {marked fineness}) / {marked fineness}",
        ),
        run=_after_melting,
        says=_say_after_melting,
        sources=("common practice",),
    ),
    Calculator(
        name="melting range of a mix",
        title="Where a mix of two metals melts and freezes",
        stage="casting",
        needs=(
            "second metal share",
            "metal mix low temperature",
            "metal mix high temperature",
            *PURE,
            *PHASES,
        ),
        gives=(
            "mix liquidus",
            "mix solidus",
            "mix end of freezing",
            "mix freezing range",
            "mix frozen last",
            "mix eutectic in balance",
        ),
        formula=(
            "{mix liquidus} = temperature at which crystals of the first metal are in balance with liquid that holds"
            " {second metal share}",
            "{mix solidus} = temperature at which the last liquid is in balance with crystals that hold {second "
            "metal share}, at lowest the eutectic",
            "{mix end of freezing} = the eutectic: where the liquid is in balance with crystals of both metals",
            "{mix freezing range} = {mix liquidus} - {mix end of freezing}",
            "{mix frozen last} = liquid left at the eutectic when crystals have no time to even out (Scheil)",
            "{mix eutectic in balance} = ({second metal share} - what crystals hold at the eutectic) / (what the "
            "eutectic holds - what crystals hold), at least 0 (lever rule)",
            "balance = equal chemical potential of each metal in liquid and crystal; mixing energies {metal mix "
            "liquid even low} and so on, straight between {metal mix low temperature} and {metal mix high "
            "temperature}",
        ),
        run=_mix,
        says=_say_mix,
        sources=("from memory of hayes-1986", "from memory of flemings-1974"),
    ),
)
