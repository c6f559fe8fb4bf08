"""Calculators for the mold round the tree: how thick it must be at the closed end and at the wall."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.calc.flask import needed_end_cover, plate_edge_stress
from diagnose.derive.calculator import Calculator, Facts, Value, number
from diagnose.derive.told import told
from diagnose.errors import OutOfRange

WIDE_FROM = 0.075  # m; wider flasks take the larger wall


def _cover(facts: Facts) -> dict[str, Value]:
    diameter = number(facts, "flask diameter")
    needed = needed_end_cover(diameter, number(facts, "investment least cover"))
    found: dict[str, Value] = {"needed end cover": needed}
    cover = told(facts, "end cover", told(facts, "gap left over the tip", -1.0))
    found["end cover to give"] = max(needed, cover)
    if cover >= 0.0:
        if cover >= told(facts, "flask height", float("inf")):
            raise OutOfRange(
                "a cover of {end cover:m} leaves no room for a tree in this flask.",
                {"end cover": cover},
                next_step="Measure from the tip of the tree to the open rim at the closed end.",
            )
        found["end cover margin"] = cover - needed
        pull = told(facts, "vacuum at pour", told(facts, "local air pressure", 0.0))
        if pull and 0.0 < cover <= diameter / 2.0:
            found["end plate stress"] = plate_edge_stress(pull, diameter / 2.0, cover)
    return found


def _say_cover(facts: Facts) -> Sequence[str]:
    says = ["The tip of the tree needs {needed end cover} of mold under the closed end. Never make it thinner."]
    if "end cover margin" in facts:
        if number(facts, "end cover margin") < 0.0:
            says.append("It had {end cover margin|size} too little: metal can break out there.")
        else:
            says.append("It had {end cover margin} more than that.")
    if "end plate stress" in facts:
        says.append(
            "Full vacuum bends that end with {end plate stress} at its rim; fired mold stands about 1 MPa (145 psi)."
        )
    return says


def _wall(facts: Facts) -> dict[str, Value]:
    wide = number(facts, "flask diameter") >= WIDE_FROM
    needed = number(facts, "investment wide flask wall" if wide else "investment least wall")
    found: dict[str, Value] = {"needed wall gap": needed}
    gap = told(facts, "gap to flask wall", told(facts, "gap left at the wall", -1.0))
    if gap >= 0.0:
        if gap >= number(facts, "flask diameter") / 2.0:
            raise OutOfRange(
                "a gap of {gap to flask wall:m} to the wall leaves no tree in a flask of {flask diameter:m}.",
                {"gap to flask wall": gap, "flask diameter": number(facts, "flask diameter")},
                next_step="Measure from the outermost wax to the wall.",
            )
        found["wall gap margin"] = gap - needed
    return found


def _say_wall(facts: Facts) -> Sequence[str]:
    says = ["Wax stays {needed wall gap} or more away from the wall of this flask."]
    if "wall gap margin" in facts and number(facts, "wall gap margin") < 0.0:
        says.append("It was {wall gap margin|size} nearer than that; the mold can crack there.")
    says.append("A perforated flask takes 10 to 12 mm (0.4 to 0.5 in) whatever its width.")
    return says


CALCULATORS = (
    Calculator(
        name="end cover",
        title="Mold over the tip of the tree",
        stage="investment",
        needs=("flask diameter", "investment least cover"),
        takes=("end cover", "gap left over the tip", "flask height", "local air pressure", "vacuum at pour"),
        gives=("needed end cover", "end cover to give", "end cover margin", "end plate stress"),
        formula=(
            "{needed end cover} = the larger of {flask diameter} / 4 and {investment least cover}",
            "{end cover to give} = the larger of {needed end cover} and {end cover} (else {gap left over the tip})",
            "{end cover margin} = {end cover} (else {gap left over the tip}) - {needed end cover}",
            "{end plate stress} = 3 / 4 x {vacuum at pour} (else {local air pressure}) x (half of {flask diameter} /"
            " that cover)^2",
        ),
        run=_cover,
        says=_say_cover,
        sources=("common practice", "from memory of timoshenko-1959"),
    ),
    Calculator(
        name="wall gap",
        title="Mold between the wax and the flask",
        stage="investment",
        needs=("flask diameter", "investment least wall", "investment wide flask wall"),
        takes=("gap to flask wall", "gap left at the wall"),
        gives=("needed wall gap", "wall gap margin"),
        formula=(
            "{needed wall gap} = {investment least wall}; in a wide flask {investment wide flask wall}",
            "{wall gap margin} = {gap to flask wall} (else {gap left at the wall}) - {needed wall gap}",
        ),
        run=_wall,
        says=_say_wall,
        sources=("common practice",),
    ),
)
