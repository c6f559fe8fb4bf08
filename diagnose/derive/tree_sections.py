"""The calculator of cooling thickness for the common shapes of a section."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.calc.modulus import bar, cylinder, half_round, plate, rod, sphere, tube
from diagnose.derive.calculator import Calculator, Facts, Value, number


def _shapes(facts: Facts) -> dict[str, Value]:
    thick = number(facts, "heaviest section")
    found: dict[str, Value] = {"wall modulus": plate(thick), "rod modulus": rod(thick), "ball modulus": sphere(thick)}
    if "heaviest section width" in facts:
        wide = number(facts, "heaviest section width")
        found["bar modulus"] = bar(thick, wide)
        found["disc modulus"] = cylinder(wide, thick)
        if thick <= 0.5 * wide:
            found["half-round modulus"] = half_round(wide, thick)
        if 2.0 * thick < wide:
            found["tube modulus"] = tube(wide, thick)
    return found


def _say_shapes(facts: Facts) -> Sequence[str]:
    says = [
        "With {heaviest section} of thickness: a wide flat wall cools like {wall modulus}, a round rod like {rod "
        "modulus}, a ball like {ball modulus}."
    ]
    if "bar modulus" in facts:
        more = ["a bar like {bar modulus}", "a flat disc so wide like {disc modulus}"]
        if "half-round modulus" in facts:
            more.append("a half-round shank like {half-round modulus}")
        if "tube modulus" in facts:
            more.append("a tube so wide, cooled inside and out, like {tube modulus}")
        says.append("With {heaviest section width} of width: " + ", ".join(more) + ".")
    return [*says, "A closed ring cools like the bar or rod that it is bent from. Freezing time goes with the square."]


CALCULATORS = (
    Calculator(
        name="section moduli",
        title="Cooling thickness of a section in the common shapes",
        stage="tree",
        needs=("heaviest section",),
        takes=("heaviest section width",),
        gives=(
            "wall modulus", "rod modulus", "ball modulus", "bar modulus", "disc modulus", "half-round modulus",
            "tube modulus",
        ),
        formula=(
            "Cooling thickness is volume over cooling surface.",
            "{wall modulus} = {heaviest section} / 2",
            "{rod modulus} = {heaviest section} / 4",
            "{ball modulus} = {heaviest section} / 6",
            "{bar modulus} = {heaviest section} x {heaviest section width} / (2 x ({heaviest section} + {heaviest "
            "section width}))",
            "{disc modulus} = {heaviest section} x {heaviest section width} / (2 x {heaviest section width} + 4 x "
            "{heaviest section})",
            "{half-round modulus}: area over outline of the circle's part that is so wide and so high",
            "{tube modulus} = {heaviest section} / 2",
        ),
        run=_shapes,
        says=_say_shapes,
        sources=("from memory of chvorinov-1940", "from memory of wlodawer-1966"),
    ),
)  # fmt: skip
