"""A calculator for trees with thick and thin on them: what flask each of the two would have alone."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.calc.pour_temperature import by_section
from diagnose.derive.calculator import Calculator, Facts, Value, number
from diagnose.derive.kiln_doubts import KILN_DOUBTS, kiln_believed
from diagnose.derive.told import told

MIXED_FROM = 3.0  # times as thick; less than that is one tree's usual mix
# A colder flask is meant for metal that is thrown in, not for metal that is sucked or falls in.
ONLY_SPUN = {"metal spin flask drop": ("casting method", "spin casting")}
SUITS = 40.0  # K; a flask this near to what a section wants alone still serves it


def flask_for(section: float, facts: Facts) -> float:
    """Return the flask [K] that a section [m] of this metal and method wants alone; source: common practice."""
    wanted = by_section(
        section, number(facts, "metal flask for heavy sections"), number(facts, "metal flask for fine sections")
    )
    spun = facts.get("casting method") == "spin casting"
    return wanted - (told(facts, "metal spin flask drop", 0.0) if spun else 0.0)


def _both(facts: Facts) -> dict[str, Value]:
    now = number(facts, "flask temperature")
    if not kiln_believed(facts) or number(facts, "heaviest section") < told(facts, "thinnest section", 0.0):
        return {}  # the flask was not what it is said to have been, or one of the two sections is wrong
    heavy = flask_for(number(facts, "heaviest section"), facts)
    found: dict[str, Value] = {"flask for the heaviest section": heavy, "flask over the heaviest section": now - heavy}
    if "thinnest section" in facts:
        thin = flask_for(number(facts, "thinnest section"), facts)
        found["flask for the thinnest section"] = thin
        if number(facts, "heaviest section") >= MIXED_FROM * number(facts, "thinnest section"):
            found["flask and both sections"] = _suits(abs(now - thin) <= SUITS, abs(now - heavy) <= SUITS)
    return found


def _suits(thin: bool, heavy: bool) -> str:
    if thin and heavy:
        return "suits both"
    if thin:
        return "suits the thin only"
    return "suits the heavy only" if heavy else "suits neither"


def _say_both(facts: Facts) -> Sequence[str]:
    if "flask for the thinnest section" not in facts:
        return ()
    says = "Alone on a tree {heaviest section} wants {flask for the heaviest section}, {thinnest section} wants {flask "
    return (says + "for the thinnest section}.",)


CALCULATORS = (
    Calculator(
        name="flask for two sections",
        title="What flask the heaviest and the thinnest section want, each alone",
        stage="casting",
        needs=(
            "flask temperature",
            "heaviest section",
            "metal flask for heavy sections",
            "metal flask for fine sections",
        ),
        takes=("thinnest section", "metal spin flask drop", "casting method", *KILN_DOUBTS),
        only_with=ONLY_SPUN,
        gives=(
            "flask for the heaviest section",
            "flask for the thinnest section",
            "flask over the heaviest section",
            "flask and both sections",
        ),
        formula=(
            "{flask for the heaviest section}, {flask for the thinnest section} = between {metal flask for heavy "
            "sections} and {metal flask for fine sections} by {heaviest section} and {thinnest section}, less {metal "
            "spin flask drop} for spin casting ({casting method})",
            "{flask over the heaviest section} = {flask temperature} - {flask for the heaviest section}",
            "{flask and both sections} = which of the two are within 40 K of {flask temperature}, where one "
            "is at least three times as thick as the other",
        ),
        run=_both,
        says=_say_both,
        sources=("common practice",),
    ),
)
