"""Calculators for feeding: which section freezes first, and how thick gate, legs, trunk and button should be."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.calc.chvorinov import time_ratio
from diagnose.calc.feeding import (
    button_height,
    button_height_for_modulus,
    button_mass,
    feeder_volume_share,
    first_break,
    junction_circle,
    leg_for_equal_area,
    rod_for_modulus,
    stem_for_legs,
)
from diagnose.calc.modulus import bar, cylinder, rod, section
from diagnose.derive.calculator import Calculator, Facts, Value, number
from diagnose.derive.told import positive
from diagnose.errors import OutOfRange

PLATE_LIKE = 4.0  # width over thickness from which a section counts as a flat wall


def _part(facts: Facts) -> dict[str, Value]:
    return {"part modulus": section(number(facts, "heaviest section"), number(facts, "heaviest section width"))}


def _gate(facts: Facts) -> dict[str, Value]:
    part, diameter = positive(facts, "part modulus"), number(facts, "gate diameter")
    gate = bar(diameter, number(facts, "gate width")) if "gate width" in facts else rod(diameter)
    ratio = gate / part
    return {
        "gate modulus": gate,
        "gate modulus ratio": ratio,
        "gate time ratio": time_ratio(gate, part),
        "gate freezes before part": "yes" if ratio < 1.0 else "no",
    }


def _say_gate(facts: Facts) -> Sequence[str]:
    times = "The gate freezes in {gate time ratio} times the time of the heaviest section"
    if facts["gate freezes before part"] == "yes":
        return (f"{times}: it shuts first, and the part goes short of metal.",)
    if number(facts, "gate modulus ratio") < 1.1:
        return (f"{times}: hardly later, so feeding is a matter of luck.",)
    return (f"{times}: it can feed to the end.",)


def _needed_gate(facts: Facts) -> dict[str, Value]:
    return {"needed gate diameter": rod_for_modulus(number(facts, "feeding margin") * number(facts, "part modulus"))}


def _trunk(facts: Facts) -> dict[str, Value]:
    margin = number(facts, "trunk margin")
    gate = number(facts, "gate modulus")
    found: dict[str, Value] = {"needed trunk diameter": rod_for_modulus(margin * gate)}
    if "trunk diameter" in facts:
        trunk = rod(number(facts, "trunk diameter"))
        found |= {"trunk modulus": trunk, "trunk modulus ratio": trunk / gate}
    return found


def _say_trunk(facts: Facts) -> Sequence[str]:
    says = ["The trunk should be {needed trunk diameter} or more for these gates."]
    if "trunk modulus ratio" in facts:
        says.append("Its cooling thickness is {trunk modulus ratio} of the gate's.")
    return says


def _button(facts: Facts) -> dict[str, Value]:
    diameter, density = number(facts, "button diameter"), number(facts, "metal density")
    wanted = number(facts, "button margin") * rod(number(facts, "trunk diameter"))
    height = button_height_for_modulus(diameter, wanted)
    found: dict[str, Value] = {
        "needed button height": height,
        "needed button weight": button_mass(diameter, height, density),
    }
    if "button weight" in facts:
        is_high = button_height(number(facts, "button weight"), density, diameter)
        modulus = cylinder(diameter, is_high)
        found |= {"button height": is_high, "button modulus": modulus}
        found["button modulus ratio"] = modulus / rod(number(facts, "trunk diameter"))
    return found


def _say_button(facts: Facts) -> Sequence[str]:
    says = [
        "To stay liquid longer than the trunk the button needs {needed button weight}, {needed button height} high."
    ]
    if "button modulus ratio" in facts:
        says.append("The one there is stands {button height} high; its ratio to the trunk is {button modulus ratio}.")
    return says


def _order(facts: Facts) -> dict[str, Value]:
    names = ("part", "gate", "trunk", "button")
    moduli = {n: number(facts, f"{n} modulus") for n in names if f"{n} modulus" in facts}
    broken = first_break(moduli)
    return {"freezing order": "right" if broken is None else f"{broken[0]} freezes too early"}


def _say_order(facts: Facts) -> Sequence[str]:
    if facts["freezing order"] == "right":
        return ("Each section freezes after the one it feeds, as it should.",)
    return ("The chain is broken: {freezing order}.",)


def _feed(facts: Facts) -> dict[str, Value]:
    share = feeder_volume_share(number(facts, "metal freezing shrinkage"), number(facts, "feeder efficiency"))
    return {"feed metal share": share, "needed feed metal": share * number(facts, "metal in the tree")}


def _say_feed(facts: Facts) -> Sequence[str]:
    return (
        "Trunk and button together should hold {feed metal share} of the metal of the parts they feed.",
        "If all of the tree had to be fed from the button that would be {needed feed metal}.",
    )


def _joint(facts: Facts) -> dict[str, Value]:
    wall, gate = number(facts, "heaviest section"), number(facts, "gate diameter")
    if number(facts, "heaviest section width") < PLATE_LIKE * max(wall, gate / 2.0):
        return {}  # the circle holds for flat walls; on a rod or bar a gate of its own width is right
    circle, share = junction_circle(wall, gate), gate / wall
    place = "in the gate" if share >= 2.0 else "in the wall" if share > 0.5 else "none"
    return {
        "gate to wall ratio": share,
        "joint time ratio": time_ratio(circle, wall),
        "joint hot spot": place,
    }


def _say_joint(facts: Facts) -> Sequence[str]:
    if "joint hot spot" not in facts:
        return ("The section is no flat wall, so the joint makes no hot spot of its own.",)
    says = ["The gate is {gate to wall ratio} times as wide as the wall is thick."]
    if facts["joint hot spot"] == "in the wall":
        says.append(
            "The joint freezes {joint time ratio} times as late as the wall, and the spot lies in the wall: "
            "widen the gate to twice the wall, or use several of half its thickness only to fill."
        )
    elif facts["joint hot spot"] == "in the gate":
        says.append("The last place to freeze lies in the gate, where it does no harm.")
    else:
        says.append("Gates this thin fill but do not feed.")
    return says


def _legs(facts: Facts) -> dict[str, Value]:
    count = round(number(facts, "gate legs"))
    if abs(count - number(facts, "gate legs")) > 1e-6 or count < 2:
        raise OutOfRange(f"{number(facts, 'gate legs'):g} legs is no split.", next_step="Give a whole number from 2.")
    part, margin = number(facts, "part modulus"), number(facts, "feeding margin")
    leg = rod_for_modulus(margin * part)
    found: dict[str, Value] = {
        "needed leg diameter": leg,
        "needed stem diameter": stem_for_legs(leg, count, margin),
    }
    if "gate diameter" in facts:
        found["equal area leg diameter"] = leg_for_equal_area(number(facts, "gate diameter"), count)
    if "leg diameter" in facts:
        found["leg modulus ratio"] = rod(number(facts, "leg diameter")) / part
    return found


def _say_legs(facts: Facts) -> Sequence[str]:
    says = ["Each leg should be {needed leg diameter} or more, the stem {needed stem diameter}."]
    if "equal area leg diameter" in facts:
        says.append("Legs of {equal area leg diameter} pass as much as the stem, which fills but may not feed.")
    if "leg modulus ratio" in facts:
        says.append("A leg's cooling thickness is {leg modulus ratio} of the part's.")
    return says


CALCULATORS = (
    Calculator(
        name="part modulus",
        title="Cooling thickness of the heaviest section",
        stage="tree",
        # Without its width the same thickness can be a thin rod or a wall with twice the cooling thickness.
        needs=("heaviest section", "heaviest section width"),
        gives=("part modulus",),
        formula=("{part modulus} = a x b / (2 x (a + b)) for a bar of {heaviest section} by {heaviest section width}",),
        run=_part,
        says=lambda facts: ("The heaviest section has a cooling thickness of {part modulus}.",),
        sources=("from memory of chvorinov-1940",),
    ),
    Calculator(
        name="gate",
        title="Whether the gate freezes before the part",
        stage="tree",
        needs=("part modulus", "gate diameter"),
        takes=("gate width",),
        gives=("gate modulus", "gate modulus ratio", "gate time ratio", "gate freezes before part"),
        formula=(
            "{gate modulus} = {gate diameter} / 4; a flat gate: {gate diameter} x {gate width} / (2 x ({gate "
            "diameter} + {gate width}))",
            "{gate modulus ratio} = {gate modulus} / {part modulus}",
            "{gate time ratio} = ({gate modulus} / {part modulus})^2",
            "{gate freezes before part} = yes when {gate modulus ratio} is under 1",
        ),
        run=_gate,
        says=_say_gate,
        sources=("from memory of chvorinov-1940", "from memory of wlodawer-1966"),
    ),
    Calculator(
        name="needed gate",
        title="How thick the gate should be",
        stage="tree",
        needs=("part modulus", "feeding margin"),
        gives=("needed gate diameter",),
        formula=(
            "{needed gate diameter} = 4 x {feeding margin} x {part modulus}",
        ),
        run=_needed_gate,
        says=lambda facts: ("A round gate should be {needed gate diameter} or more.",),
        sources=("from memory of wlodawer-1966",),
    ),
    Calculator(
        name="trunk",
        title="How thick the trunk should be",
        stage="tree",
        needs=("gate modulus", "trunk margin"),
        takes=("trunk diameter",),
        gives=("needed trunk diameter", "trunk modulus", "trunk modulus ratio"),
        formula=(
            "{needed trunk diameter} = 4 x {trunk margin} x {gate modulus}",
            "{trunk modulus} = {trunk diameter} / 4",
            "{trunk modulus ratio} = {trunk modulus} / {gate modulus}",
        ),
        run=_trunk,
        says=_say_trunk,
        sources=("from memory of wlodawer-1966",),
    ),
    Calculator(
        name="button",
        title="How large the button should be",
        stage="tree",
        needs=("button diameter", "trunk diameter", "metal density", "button margin"),
        takes=("button weight",),
        gives=(
            "needed button height", "needed button weight", "button height", "button modulus", "button modulus ratio",
        ),
        formula=(
            "{needed button height} = 2 x D x M / (D - 4 x M), with D = {button diameter} and M = {button margin} x "
            "{trunk diameter} / 4",
            "{needed button weight} = pi / 4 x {button diameter}^2 x {needed button height} x {metal density}",
            "{button height} = {button weight} / (pi / 4 x {button diameter}^2 x {metal density})",
            "{button modulus} = {button diameter} x {button height} / (2 x {button diameter} + 4 x {button height})",
            "{button modulus ratio} = {button modulus} / ({trunk diameter} / 4)",
        ),
        run=_button,
        says=_say_button,
        sources=("from memory of wlodawer-1966",),
    ),
    Calculator(
        name="freezing order",
        title="Whether the metal freezes from the part to the button",
        stage="tree",
        needs=("part modulus", "gate modulus"),
        takes=("trunk modulus", "button modulus"),
        gives=("freezing order",),
        formula=(
            "{freezing order} = right when each of {part modulus}, {gate modulus}, {trunk modulus}, {button modulus}"
            " is larger than the one before it",
        ),
        run=_order,
        says=_say_order,
        sources=("from memory of chvorinov-1940",),
        drawing="freezing order",
    ),
    Calculator(
        name="feed metal",
        title="How much metal it takes to feed what shrinks",
        stage="tree",
        needs=("metal in the tree", "metal freezing shrinkage", "feeder efficiency"),
        gives=("feed metal share", "needed feed metal"),
        formula=(
            "{feed metal share} = {metal freezing shrinkage} / ({feeder efficiency} - {metal freezing shrinkage})",
            "{needed feed metal} = {feed metal share} x {metal in the tree}",
        ),
        run=_feed,
        says=_say_feed,
        sources=("from memory of campbell-2011", "kawai-1982"),
    ),
    Calculator(
        name="gate joint",
        title="Whether a gate on a flat wall makes a hot spot",
        stage="tree",
        needs=("heaviest section", "heaviest section width", "gate diameter"),
        gives=("gate to wall ratio", "joint time ratio", "joint hot spot"),
        formula=(
            "{gate to wall ratio} = {gate diameter} / {heaviest section}",
            "{joint time ratio} = (largest circle that fits in the joint / {heaviest section})^2; the circle is "
            "{heaviest section} + {gate diameter}^2 / (4 x {heaviest section}) wide up to a gate of twice the wall, "
            "beyond that as wide as the gate",
            "{joint hot spot} = by {gate to wall ratio}: from 2 up in the gate, from 0.5 up in the wall; only on a "
            "flat wall, much wider than thick ({heaviest section width})",
        ),
        run=_joint,
        says=_say_joint,
        sources=("from memory of campbell-2011",),
    ),
    Calculator(
        name="gate legs",
        title="How thick the legs of a split gate should be",
        stage="tree",
        needs=("gate legs", "part modulus", "feeding margin"),
        takes=("gate diameter", "leg diameter"),
        gives=("needed leg diameter", "needed stem diameter", "equal area leg diameter", "leg modulus ratio"),
        formula=(
            "{needed leg diameter} = 4 x {feeding margin} x {part modulus}",
            "{needed stem diameter} = {needed leg diameter} x the larger of the square root of {gate legs} and "
            "{feeding margin}",
            "{equal area leg diameter} = {gate diameter} / sqrt({gate legs})",
            "{leg modulus ratio} = {leg diameter} / 4 / {part modulus}",
        ),
        run=_legs,
        says=_say_legs,
        sources=("from memory of wlodawer-1966",),
    ),
)  # fmt: skip
