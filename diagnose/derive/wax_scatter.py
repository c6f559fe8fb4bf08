"""Calculator for a row of waxes weighed one after the other."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.calc.scatter import mean_and_scatter, mean_uncertainty, odd_reading, scatter_range, trend
from diagnose.derive.calculator import Calculator, Facts, Value
from diagnose.errors import OutOfRange


def _weights(facts: Facts) -> tuple[float, ...]:
    weights = facts["wax weights"]
    if not isinstance(weights, tuple):
        raise OutOfRange("one weight alone has no scatter.", next_step="Weigh at least three waxes, better ten.")
    return weights


def _scatter(facts: Facts) -> dict[str, Value]:
    weights = _weights(facts)
    mean, scatter = mean_and_scatter(weights)
    low, high = scatter_range(scatter, len(weights))
    odd = odd_reading(weights)
    found: dict[str, Value] = {
        "wax weight mean": mean,
        "wax weight mean uncertainty": mean_uncertainty(scatter, len(weights)),
        "wax weight scatter": scatter / mean,
        "lowest true scatter": low / mean,
        "highest true scatter": high / mean,
        "wax weight spread": (max(weights) - min(weights)) / mean,
        "one wax does not belong": "no" if odd is None else "yes",
    }
    if odd is not None:
        found["odd wax number"] = float(odd + 1)
    if len(weights) >= 4:
        slope, found["wax weight trend"] = trend(weights)
        found["wax weight drift"] = slope * (len(weights) - 1) / mean
    return found


def _say_scatter(facts: Facts) -> Sequence[str]:
    says = [
        "Mean {wax weight mean}, scatter {wax weight scatter|about}, from lightest to heaviest "
        "{wax weight spread|about}.",
        "So few waxes leave the true scatter open from {lowest true scatter|about} to {highest true scatter|about}.",
    ]
    if "odd wax number" in facts:
        says.append("Wax {odd wax number} does not belong to the others: look for a reason before striking it out.")
    if facts.get("wax weight trend") in ("rising", "falling"):
        says.append("From first to last the weight drifts by {wax weight drift}: more than chance.")
    return [*says, "Weighing finds swelling, squeezing and short fills; a bubble 1 mm wide hardly shows."]


CALCULATORS = (
    Calculator(
        name="wax weights",
        title="What the weights of waxes from one mold say",
        stage="wax",
        needs=("wax weights",),
        gives=(
            "wax weight mean", "wax weight mean uncertainty", "wax weight scatter", "lowest true scatter",
            "highest true scatter", "wax weight spread", "one wax does not belong", "odd wax number",
            "wax weight trend", "wax weight drift",
        ),
        formula=(
            "{wax weight mean} = sum of {wax weights} / their number",
            "{wax weight scatter} = standard deviation of {wax weights} (with their number less one) / {wax weight "
            "mean}",
            "{wax weight mean uncertainty} = Student's t for 95 % x standard deviation / square root of their number",
            "{lowest true scatter}, {highest true scatter} = {wax weight scatter} x sqrt((number - 1) / chi square),"
            " at both ends of 95 %",
            "{wax weight spread} = (heaviest - lightest) / {wax weight mean}",
            "{one wax does not belong}, {odd wax number} = Grubbs' test at 5 %: the wax furthest from the mean, if "
            "it lies too many standard deviations away",
            "{wax weight trend}, {wax weight drift} = slope of a straight line through {wax weights} in their order,"
            " x (number - 1) / {wax weight mean}; a trend where the slope is more than chance (Student's t, 5 %)",
        ),
        run=_scatter,
        says=_say_scatter,
        sources=("from memory of grubbs-1969",),
    ),
)  # fmt: skip
