"""Calculators for powder, water and slurry: how much, how thick, how dense, and how much air."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.calc.allowed_range import above_zero
from diagnose.calc.flask import room_for_slurry
from diagnose.calc.gypsum import free_water, mold_masses, water_to_set
from diagnose.calc.porosity import water_density
from diagnose.calc.slurry import air_share, powder_for_volume, slurry_density, slurry_volume
from diagnose.derive.calculator import Calculator, Facts, Value, number
from diagnose.derive.told import positive, told

ROOM = 295.15  # K, for the density of water when nobody measured it: 0.1 % at most
MOST_OVER = 2.0  # ml for 100 g over the label; more leaves a mold that metal breaks out of
MIX_SOURCES = ("computed from densities of powder and water", "common practice")


def _label(facts: Facts) -> float:
    return told(facts, "label water", told(facts, "investment label water", 0.0))


def _water_density(facts: Facts) -> float:
    return water_density(told(facts, "slurry temperature", ROOM))


def _filling(facts: Facts) -> dict[str, Value]:
    wax = 0.0
    if "tree wax weight" in facts and "wax density" in facts:
        wax = number(facts, "tree wax weight") / positive(facts, "wax density")
    room = room_for_slurry(number(facts, "flask diameter"), number(facts, "flask height"), wax)
    flasks = told(facts, "flasks in one mix", 1.0)
    volume = flasks * room * (1.0 + number(facts, "bowl loss"))
    ratio = _label(facts)
    powder = powder_for_volume(volume, ratio, number(facts, "investment grain density"), _water_density(facts))
    found: dict[str, Value] = {
        "room in the flask": room,
        "needed slurry": volume,
        "needed powder": powder,
        "needed water": powder * ratio / 100.0,
    }
    if "boric acid share" in facts:
        found["needed boric acid"] = powder * number(facts, "boric acid share")
    if "powder weight" in facts:
        found["powder spare"] = number(facts, "powder weight") / above_zero("the powder needed", powder, "kg") - 1.0
    return found


def _say_filling(facts: Facts) -> Sequence[str]:
    says = [
        "The flask holds {room in the flask} of slurry. Weigh out {needed powder} of powder and {needed water} of "
        "water (1 g is 1 ml), with {bowl loss} for what sticks to the bowl."
    ]
    if "tree wax weight" in facts and "wax density" not in facts:
        says.append("The room of the tree is not taken off: it is not known how dense the wax is.")
    if "needed boric acid" in facts:
        says.append("Dissolve {needed boric acid} of boric acid in the water first, and time the set anew.")
    if "powder spare" in facts and number(facts, "powder spare") < -0.05:
        says.append("The powder weighed out was too little for one pour: {powder spare} against what it takes.")
    says.append("Powder goes into water, under extraction and with a fitted dust mask: it holds fine silica.")
    return says


def _off_label(facts: Facts, ratio: float) -> dict[str, Value]:
    found: dict[str, Value] = {"mixed water": ratio}
    label = _label(facts)
    if label:
        found |= {"water off label": ratio - label, "label ratio": label, "most water": label + MOST_OVER}
    return found


def _weighed(facts: Facts) -> dict[str, Value]:
    powder = positive(facts, "powder weight")
    found = _off_label(facts, 100.0 * number(facts, "water weight") / powder)
    if label := _label(facts):
        found["label water weight"] = powder * label / 100.0
    return found


def _recorded(facts: Facts) -> dict[str, Value]:
    return _off_label(facts, number(facts, "water ratio"))


def _say_ratio(facts: Facts) -> Sequence[str]:
    says = ["The mix had {mixed water} of water."]
    if "water off label" in facts:
        off = number(facts, "water off label")
        side = "on the label" if abs(off) < 0.5 else "thinner than the label" if off > 0.0 else "thicker than the label"
        says.append(f"That is {side}: {off:+.1f} ml for 100 g.")
    return says


def _density(facts: Facts) -> dict[str, Value]:
    grain, water = number(facts, "investment grain density"), _water_density(facts)
    ratio = number(facts, "mixed water")
    found: dict[str, Value] = {"sound slurry density": slurry_density(ratio, grain, water)}
    if "powder weight" in facts:
        found["slurry made"] = slurry_volume(number(facts, "powder weight"), ratio, grain, water)
    return found


def _say_density(facts: Facts) -> Sequence[str]:
    says = ["Without air this slurry would have {sound slurry density}."]
    if "slurry made" in facts:
        says.append("The powder made {slurry made} of it.")
    return says


def _air(facts: Facts) -> dict[str, Value]:
    sound = told(facts, "own slurry density", number(facts, "sound slurry density"))
    weighed = number(facts, "density cup weight") / positive(facts, "density cup volume")
    return {"air in slurry": air_share(weighed, sound)}


def _say_air(facts: Facts) -> Sequence[str]:
    says = ["The slurry in the cup held {air in slurry} of air by volume."]
    if "own slurry density" not in facts:
        says.append("Powders differ by 2 %: weigh a cup of your own well de-aired slurry once and compare with that.")
    return says


def _setting_water(facts: Facts) -> dict[str, Value]:
    binder, ratio = number(facts, "investment binder share"), number(facts, "mixed water")
    free = free_water(ratio, binder)
    found: dict[str, Value] = {"free water share": free / (ratio / 100.0)}
    if "powder weight" in facts:
        powder = number(facts, "powder weight")
        found["water bound in setting"] = powder * water_to_set(binder)
        found["free water"] = powder * free
        found["expected fired weight"] = powder * mold_masses(binder).fired
    return found


def _say_setting_water(facts: Facts) -> Sequence[str]:
    says = ["Of the water {free water share} is only there to pour, and has to leave as steam."]
    if "free water" in facts:
        says.append(
            "That is {free water}; {water bound in setting} are bound in the plaster. Fired to the end, the mold "
            "from this powder weighs {expected fired weight}."
        )
    return says


CALCULATORS = (
    Calculator(
        name="flask filling",
        title="Powder and water for a flask",
        stage="investment",
        needs=(
            "flask diameter",
            "flask height",
            "bowl loss",
            "investment label water",
            "investment grain density",
        ),
        takes=(
            "label water",
            "tree wax weight",
            "wax density",
            "flasks in one mix",
            "slurry temperature",
            "boric acid share",
            "powder weight",
        ),
        gives=(
            "room in the flask",
            "needed slurry",
            "needed powder",
            "needed water",
            "needed boric acid",
            "powder spare",
        ),
        formula=(
            "{room in the flask} = pi / 4 x {flask diameter}^2 x {flask height} - {tree wax weight} / {wax density}",
            "{needed slurry} = {flasks in one mix} x {room in the flask} x (1 + {bowl loss}); one flask unless told",
            "{needed powder} = {needed slurry} / (1 / {investment grain density} + water / (100 x density of water "
            "at {slurry temperature}))",
            "water, for 100 of powder = {label water}, else {investment label water}",
            "{needed water} = {needed powder} x water / 100",
            "{needed boric acid} = {needed powder} x {boric acid share}",
            "{powder spare} = {powder weight} / {needed powder} - 1",
        ),
        run=_filling,
        says=_say_filling,
        sources=MIX_SOURCES,
    ),
    Calculator(
        name="weighed mix",
        title="Water for 100 of powder, from the two weights",
        stage="investment",
        needs=("powder weight", "water weight"),
        takes=("label water", "investment label water"),
        gives=("mixed water", "water off label", "label ratio", "most water", "label water weight"),
        formula=(
            "{mixed water} = 100 x {water weight} / {powder weight}",
            "{label ratio} = {label water}, else {investment label water}",
            "{water off label} = {mixed water} - {label ratio}",
            "{most water} = {label ratio} + 2",
            "{label water weight} = {powder weight} x {label ratio} / 100",
        ),
        run=_weighed,
        says=_say_ratio,
        sources=("common practice",),
    ),
    Calculator(
        name="recorded mix",
        title="Water for 100 of powder, as written down",
        stage="investment",
        needs=("water ratio",),
        takes=("label water", "investment label water"),
        gives=("mixed water", "water off label", "label ratio", "most water"),
        formula=(
            "{mixed water} = {water ratio}",
            "{label ratio} = {label water}, else {investment label water}",
            "{water off label} = {mixed water} - {label ratio}",
            "{most water} = {label ratio} + 2",
        ),
        run=_recorded,
        says=_say_ratio,
        sources=("common practice",),
    ),
    Calculator(
        name="slurry density",
        title="Density and volume of the slurry without air",
        stage="investment",
        needs=("mixed water", "investment grain density"),
        takes=("slurry temperature", "powder weight"),
        gives=("sound slurry density", "slurry made"),
        formula=(
            "{sound slurry density} = (1 + {mixed water} / 100) / (1 / {investment grain density} + {mixed water} / "
            "(100 x density of water at {slurry temperature}))",
            "{slurry made} = {powder weight} x (1 / {investment grain density} + {mixed water} / (100 x density of "
            "water at {slurry temperature}))",
        ),
        run=_density,
        says=_say_density,
        sources=("computed from densities of powder and water",),
    ),
    Calculator(
        name="air in slurry",
        title="Air in the slurry, from a weighed cup",
        stage="investment",
        needs=("sound slurry density", "density cup weight", "density cup volume"),
        takes=("own slurry density",),
        gives=("air in slurry",),
        formula=(
            "{air in slurry} = 1 - {density cup weight} / {density cup volume} / {own slurry density}, else / {sound"
            " slurry density}",
        ),
        run=_air,
        says=_say_air,
        sources=("common practice",),
    ),
    Calculator(
        name="setting water",
        title="Where the water of the mix stays",
        stage="investment",
        needs=("mixed water", "investment binder share"),
        takes=("powder weight",),
        gives=("free water share", "water bound in setting", "free water", "expected fired weight"),
        formula=(
            "bound, of each part of powder = {investment binder share} x 1.5 x 18.015 / 145.15: three more half "
            "waters for each plaster molecule",
            "{free water share} = ({mixed water} / 100 - bound) / ({mixed water} / 100)",
            "{water bound in setting} = {powder weight} x bound",
            "{free water} = {powder weight} x ({mixed water} / 100 - bound)",
            "{expected fired weight} = {powder weight} x (1 - {investment binder share} x 0.5 x 18.015 / 145.15)",
        ),
        run=_setting_water,
        says=_say_setting_water,
        sources=("from memory of iupac-2013",),
    ),
)
