"""Calculators for the pour: how hot the metal, how hot the flask, how long to melt."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.calc.melt_energy import heat_to_pour, melt_time
from diagnose.calc.pour_temperature import by_section
from diagnose.derive.calculator import Calculator, Facts, Value, number
from diagnose.derive.casting_two_sections import MIXED_FROM, ONLY_SPUN, flask_for
from diagnose.derive.kiln_doubts import KILN_DOUBTS, kiln_believed
from diagnose.derive.told import told
from diagnose.errors import OutOfRange

# The trade asks for more heat in the metal where nothing pushes it: differences [K] between its advice for
# each method and its advice for each section.
METHOD_SUPERHEAT = {"spin casting": -15.0, "vacuum casting": 5.0, "gravity pouring": 45.0}
# Classes of sections in the trade's flask tables: each from this thickness [m] up.
SECTION_CLASSES = (("heavy", 5e-3), ("medium", 2e-3), ("thin", 1e-3), ("filigree", 0.0))
# With heavy parts on the same tree the flask is taken 25 K colder than the thin parts alone would want.
MIXED_DROP = 25.0
STEP = 25.0  # K; by so much a flask is made hotter where nobody knows what it needs
NEAR = 10.0  # K; a flask or a melt this near to the advice is where it should be


def _liquidus(facts: Facts) -> float:
    """Return where the charge is fully melted: computed for a mix, else that of the alloy."""
    if "mix liquidus" in facts:
        return number(facts, "mix liquidus")
    if "metal liquidus" in facts:
        return number(facts, "metal liquidus")
    raise OutOfRange("it is not known where this metal is fully melted.", next_step="Name the alloy, or its mix.")


def _thermometer(facts: Facts) -> dict[str, Value]:
    return {"thermometer error": number(facts, "fixed point reading") - number(facts, "fixed point temperature")}


def _say_thermometer(facts: Facts) -> Sequence[str]:
    error = number(facts, "thermometer error")
    if error == 0.0:
        return ("The thermometer is right at this point.",)
    side = "high" if error > 0.0 else "low"
    return (
        f"The thermometer reads {{thermometer error|size}} too {side} at this point.",
        "Correct all temperatures that were read with it.",
    )


def _superheat(facts: Facts) -> dict[str, Value]:
    if "mix liquidus" not in facts and "metal liquidus" not in facts:
        return {}
    liquidus = _liquidus(facts)
    error = number(facts, "thermometer error") if "thermometer error" in facts else 0.0
    superheat = number(facts, "pour temperature") - error - liquidus
    found: dict[str, Value] = {"superheat": superheat}
    if "metal highest superheat" in facts:
        highest = number(facts, "metal highest superheat")
        found["superheat excess"] = superheat - highest
        found["heat as read"] = "over the ceiling" if superheat > highest else "under the ceiling"
        found["highest pour temperature"] = liquidus + highest
    return found


def _say_superheat(facts: Facts) -> Sequence[str]:
    if "superheat" not in facts:
        return ("It is not known where this metal is fully melted: name the alloy, or its mix.",)
    if number(facts, "superheat") < 0.0:
        return ("At the pour the metal was {superheat|size} short of fully melted: it could not fill.",)
    says = ["The metal was poured {superheat} above fully melted."]
    if "superheat excess" in facts and number(facts, "superheat excess") > 0.0:
        says.append("That is {superheat excess} more than it should ever get.")
    return says


def _needed_pour(facts: Facts) -> dict[str, Value]:
    method = str(facts["casting method"])
    if method not in METHOD_SUPERHEAT:
        raise OutOfRange(f"there is no pour temperature for '{method}'.", next_step="Name how the metal is driven in.")
    liquidus = _liquidus(facts)
    highest = number(facts, "metal highest superheat")
    advice = by_section(
        number(facts, "thinnest section"),
        number(facts, "metal superheat for heavy sections"),
        number(facts, "metal superheat for fine sections"),
    )
    superheat = min(advice + METHOD_SUPERHEAT[method], highest)
    needed = liquidus + superheat
    limits = [number(facts, name) for name in ("mold heat limit", "investment hottest metal") if name in facts]
    if limits and needed > min(limits):
        raise OutOfRange(
            "this metal must be poured hotter than the mold stands.",
            next_step="Use a mold that stands it, or a metal that melts lower.",
        )
    found: dict[str, Value] = {"needed superheat": superheat, "needed pour temperature": needed}
    if "pour temperature" in facts:
        error = number(facts, "thermometer error") if "thermometer error" in facts else 0.0
        found["pour temperature error"] = number(facts, "pour temperature") - error - needed
    return found


def _say_needed_pour(facts: Facts) -> Sequence[str]:
    says = [
        "For {thinnest section} and {casting method} pour at {needed pour temperature}, {needed superheat} above fully "
        "melted, measured in the crucible."
    ]
    if "pour temperature error" in facts and abs(number(facts, "pour temperature error")) >= NEAR:
        side = "hotter" if number(facts, "pour temperature error") > 0.0 else "colder"
        says.append(f"It was poured {{pour temperature error|size}} {side} than that.")
    return says


def _section_class(facts: Facts) -> dict[str, Value]:
    section = number(facts, "thinnest section")
    by_section(section, 0.0, 1.0)
    return {"section class": next(name for name, least in SECTION_CLASSES if section >= least)}


def _needed_flask(facts: Facts) -> dict[str, Value]:
    thinnest = number(facts, "thinnest section")
    needed = flask_for(thinnest, facts)
    if "heaviest section" in facts:
        heaviest = number(facts, "heaviest section")
        if heaviest < thinnest:
            raise OutOfRange(
                "the heaviest section, {heaviest section:m}, is under the thinnest, {thinnest section:m}.",
                {"heaviest section": heaviest, "thinnest section": thinnest},
                next_step="Check the two.",
            )
        if heaviest >= MIXED_FROM * thinnest:
            needed -= MIXED_DROP
    for limit in ("metal hottest flask", "investment pour ceiling"):
        if limit in facts:
            needed = min(needed, number(facts, limit))
    if "investment pour floor" in facts:
        needed = max(needed, number(facts, "investment pour floor"))
    found: dict[str, Value] = {"needed flask temperature": needed}
    if "flask temperature" in facts and kiln_believed(facts):
        found["flask temperature error"] = number(facts, "flask temperature") - needed
    return found


# No flask is poured hotter than it was burned out.
FLASK_LIMITS = ("metal hottest flask", "investment pour ceiling", "burnout top temperature")


def _flask_to_try(facts: Facts) -> dict[str, Value]:
    limits = [number(facts, n) for n in FLASK_LIMITS if n in facts]
    if not limits or not kiln_believed(facts):
        return {}
    now, ceiling = number(facts, "flask temperature"), min(limits)
    wanted = told(facts, "needed flask temperature", now)
    # A flask that fills badly although it is as hot as the section should need still goes one step up.
    hotter = wanted if wanted > now + NEAR else now + STEP
    return {"flask ceiling": ceiling, "hotter flask to try": min(ceiling, hotter)}


def _cooler_flask(facts: Facts) -> dict[str, Value]:
    if not kiln_believed(facts):
        return {}
    now, wanted = number(facts, "flask temperature"), float("inf")
    thin = told(facts, "thinnest section", 0.0)
    section = told(facts, "heaviest section", thin)
    # With much thinner parts in the same flask it goes down a step at a time: they have to fill as well.
    alone = not thin or section < MIXED_FROM * thin
    if section and alone and "metal flask for heavy sections" in facts and "metal flask for fine sections" in facts:
        wanted = flask_for(section, facts)
    cooler = wanted if wanted < now - NEAR else now - STEP
    return {"cooler flask to try": max(cooler, min(now, told(facts, "investment pour floor", 0.0)))}


def _say_flask_to_try(facts: Facts) -> Sequence[str]:
    if "flask ceiling" not in facts:
        return ()
    return ("A colder fill is met with a flask at {hotter flask to try}; none goes over {flask ceiling} at the pour.",)


def _say_needed_flask(facts: Facts) -> Sequence[str]:
    says = ["For {thinnest section} the flask should be at {needed flask temperature} inside at the pour."]
    if "flask temperature error" in facts:
        error = number(facts, "flask temperature error")
        side = "hot" if error > 0.0 else "cold"
        says.append(
            f"It was {{flask temperature error|size}} too {side}. Change it by 25 °C (45 °F) at a time, nothing else."
            if abs(error) >= NEAR
            else "It was there."
        )
    return says


def _melting(facts: Facts) -> dict[str, Value]:
    specific = number(facts, "metal specific heat")
    heat = heat_to_pour(
        number(facts, "metal weight"),
        specific,
        number(facts, "metal latent heat"),
        specific,
        number(facts, "charge temperature"),
        _liquidus(facts),
        number(facts, "pour temperature"),
    )
    found: dict[str, Value] = {"melting heat": heat}
    if "melting power" in facts:
        least = melt_time(heat, number(facts, "melting power"), number(facts, "melting efficiency"))
        found["least melt time"] = least
        if "melt time" in facts:
            found["melt time ratio"] = number(facts, "melt time") / least
    return found


def _say_melting(facts: Facts) -> Sequence[str]:
    says = ["{metal weight} from cold to {pour temperature} takes {melting heat}."]
    if "least melt time" in facts:
        says.append("This furnace or flame needs about {least melt time} for it.")
    return says


CALCULATORS = (
    Calculator(
        name="thermometer error",
        title="Check of a thermometer at a freezing point",
        stage="casting",
        needs=("fixed point reading", "fixed point temperature"),
        gives=("thermometer error",),
        formula=("{thermometer error} = {fixed point reading} - {fixed point temperature}",),
        run=_thermometer,
        says=_say_thermometer,
        sources=("crc-handbook-2005",),
    ),
    Calculator(
        name="section class",
        title="How fine the piece is",
        stage="casting",
        needs=("thinnest section",),
        gives=("section class",),
        formula=("{section class} = by the thickness of {thinnest section}: heavy, medium, thin or filigree",),
        run=_section_class,
        says=lambda facts: ("{thinnest section} counts as {section class}.",),
        sources=("common practice",),
    ),
    Calculator(
        name="superheat",
        title="How far above fully melted the metal was poured",
        stage="casting",
        needs=("pour temperature",),
        takes=("metal liquidus", "mix liquidus", "metal highest superheat", "thermometer error"),
        gives=("superheat", "superheat excess", "heat as read", "highest pour temperature"),
        formula=(
            "{superheat} = {pour temperature} - {thermometer error} - fully melted; fully melted is {mix liquidus} "
            "for a mix, else {metal liquidus}",
            "{superheat excess} = {superheat} - {metal highest superheat}",
            "{heat as read} = over the ceiling where {superheat excess} is above zero, else under it",
            "{highest pour temperature} = fully melted + {metal highest superheat}",
        ),
        run=_superheat,
        says=_say_superheat,
        sources=("common practice",),
    ),
    Calculator(
        name="needed pour temperature",
        title="Pour temperature for the section and the casting method",
        stage="casting",
        needs=(
            "thinnest section",
            "casting method",
            "metal superheat for heavy sections",
            "metal superheat for fine sections",
            "metal highest superheat",
        ),
        takes=(
            "metal liquidus",
            "mix liquidus",
            "mold heat limit",
            "investment hottest metal",
            "pour temperature",
            "thermometer error",
        ),
        gives=("needed superheat", "needed pour temperature", "pour temperature error"),
        formula=(
            "{needed superheat} = between {metal superheat for heavy sections} in thick walls and {metal superheat "
            "for fine sections} in fine ones, by the logarithm of {thinnest section}; moved by {casting method}, at "
            "most {metal highest superheat}",
            "{needed pour temperature} = fully melted + {needed superheat}; fully melted is {mix liquidus} for a "
            "mix, else {metal liquidus}; never over {mold heat limit} or {investment hottest metal}",
            "{pour temperature error} = {pour temperature} - {thermometer error} - {needed pour temperature}",
        ),
        run=_needed_pour,
        says=_say_needed_pour,
        sources=("common practice",),
    ),
    Calculator(
        name="needed flask temperature",
        title="Flask temperature for the section and the casting method",
        stage="casting",
        needs=("thinnest section", "metal flask for heavy sections", "metal flask for fine sections"),
        takes=(
            "casting method",
            "metal spin flask drop",
            "heaviest section",
            "metal hottest flask",
            "investment pour ceiling",
            "investment pour floor",
            "flask temperature",
            *KILN_DOUBTS,
        ),
        only_with=ONLY_SPUN,
        gives=("needed flask temperature", "flask temperature error"),
        formula=(
            "{needed flask temperature} = from {metal flask for heavy sections} for thick walls to {metal flask for "
            "fine sections} for fine ones, by the logarithm of {thinnest section}; less {metal spin flask drop} for "
            "spin casting ({casting method}), less again where {heaviest section} is much thicker; at most {metal "
            "hottest flask} and {investment pour ceiling}, at least {investment pour floor}",
            "{flask temperature error} = {flask temperature} - {needed flask temperature}",
        ),
        run=_needed_flask,
        says=_say_needed_flask,
        sources=("common practice",),
    ),
    Calculator(
        name="hotter flask",
        title="How hot the next flask may be made",
        stage="casting",
        needs=("flask temperature",),
        takes=("needed flask temperature", *FLASK_LIMITS, *KILN_DOUBTS),
        gives=("flask ceiling", "hotter flask to try"),
        formula=(
            "{flask ceiling} = the lowest of {metal hottest flask}, {investment pour ceiling} and {burnout top "
            "temperature}, of those known",
            "{hotter flask to try} = {needed flask temperature} where that is clearly hotter, else {flask temperature} "
            "+ 25 K; at most {flask ceiling}",
        ),
        run=_flask_to_try,
        says=_say_flask_to_try,
        sources=("common practice",),
    ),
    Calculator(
        name="cooler flask",
        title="How cool the next flask may be made",
        stage="casting",
        needs=("flask temperature",),
        takes=(
            "heaviest section",
            "thinnest section",
            "metal flask for heavy sections",
            "metal flask for fine sections",
            "metal spin flask drop",
            "casting method",
            "investment pour floor",
            *KILN_DOUBTS,
        ),
        only_with=ONLY_SPUN,
        gives=("cooler flask to try",),
        formula=(
            "{cooler flask to try} = what {heaviest section} (else {thinnest section}) wants between {metal flask for "
            "heavy sections} and {metal flask for fine sections}, less {metal spin flask drop} for spin casting "
            "({casting method}), where that is clearly cooler and no part is three times as thin; else {flask "
            "temperature} - 25 K; at least {investment pour floor}",
        ),
        run=_cooler_flask,
        says=lambda facts: ("Where the flask was too hot, try {cooler flask to try} next.",),
        sources=("common practice",),
    ),
    Calculator(
        name="melting heat",
        title="Heat and time to melt the charge",
        stage="casting",
        needs=(
            "metal weight",
            "pour temperature",
            "charge temperature",
            "metal specific heat",
            "metal latent heat",
        ),
        takes=("metal liquidus", "mix liquidus", "melting power", "melting efficiency", "melt time"),
        gives=("melting heat", "least melt time", "melt time ratio"),
        formula=(
            "{melting heat} = {metal weight} x ({metal specific heat} x ({pour temperature} - {charge temperature}) "
            "+ {metal latent heat}), as liquid and solid are given the same specific heat",
            "{least melt time} = {melting heat} / ({melting power} x {melting efficiency})",
            "{melt time ratio} = {melt time} / {least melt time}",
        ),
        run=_melting,
        says=_say_melting,
        sources=("crc-handbook-2005",),
    ),
)
