"""The calculator for fins of wax: what a tighter parting or less pressure does to their length."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.calc.wax_injection import reach_ratio
from diagnose.derive.calculator import Calculator, Facts, Value, number


def _fin(facts: Facts) -> dict[str, Value]:
    gap, wanted = number(facts, "parting gap"), number(facts, "wanted parting gap")
    now = number(facts, "injection pressure")
    then = number(facts, "wanted injection pressure") if "wanted injection pressure" in facts else now
    found: dict[str, Value] = {
        "fin by the gap alone": reach_ratio(wanted, gap, now, now),
        "fin by the pressure alone": reach_ratio(gap, gap, then, now),
        "fin length ratio": reach_ratio(wanted, gap, then, now),
    }
    if "fin length" in facts:
        found["expected fin length"] = number(facts, "fin length") * number(found, "fin length ratio")
    return found


def _say_fin(facts: Facts) -> Sequence[str]:
    says = ["Closed to {wanted parting gap}, the fin runs {fin by the gap alone} of its length at the same pressure."]
    if "wanted injection pressure" in facts:
        says.append(
            "At {wanted injection pressure} alone it would still run {fin by the pressure alone}; both together make "
            "{fin length ratio}."
        )
    if "expected fin length" in facts:
        says.append("A fin of {fin length} would come down to about {expected fin length}.")
    return [*says, "Half the gap quarters a fin, half the pressure takes off under a third: shut the mold first."]


CALCULATORS = (
    Calculator(
        name="fin length",
        title="What a tighter parting or less pressure does to a fin",
        stage="wax",
        needs=("parting gap", "wanted parting gap", "injection pressure"),
        takes=("wanted injection pressure", "fin length"),
        gives=("fin by the gap alone", "fin by the pressure alone", "fin length ratio", "expected fin length"),
        formula=(
            "{fin by the gap alone} = ({wanted parting gap} / {parting gap})^2",
            "{fin by the pressure alone} = sqrt({wanted injection pressure} / {injection pressure}), 1 when no other "
            "pressure is wanted",
            "{fin length ratio} = {fin by the gap alone} x {fin by the pressure alone}",
            "{expected fin length} = {fin length} x {fin length ratio}",
        ),
        run=_fin,
        says=_say_fin,
        sources=("common practice", "bazhenov-2023"),
    ),
)
