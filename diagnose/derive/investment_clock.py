"""Calculators for the clock of investing: when each step must end, and how long a mold must rest."""

from __future__ import annotations

from collections.abc import Sequence
from math import floor

from diagnose.calc.burnout import scaled_hold
from diagnose.calc.working_time import half_way_mixing, idle_time, latest_ends
from diagnose.derive.calculator import Calculator, Facts, Value, number
from diagnose.derive.told import told
from diagnose.errors import OutOfRange

STEPS = ("mixing time", "bowl vacuum time", "pouring time", "flask vacuum time")
# Steps that nobody timed, as the trade takes them [s].
USUAL = {"bowl vacuum time": 90.0, "pouring time": 60.0, "flask vacuum time": 90.0}
SLOWED_FROM = 0.005  # share of boric acid from which the set is slowed


def _summed(facts: Facts) -> dict[str, Value]:
    return {"hands off": sum(number(facts, step) for step in STEPS)}


def _clocked(facts: Facts) -> dict[str, Value]:
    return {"hands off": number(facts, "hands-off time")}


def _idle(facts: Facts) -> dict[str, Value]:
    idle = idle_time(number(facts, "gloss-off time"), number(facts, "hands off"))
    wanted = number(facts, "investment idle before set")
    found: dict[str, Value] = {"idle before gloss-off": idle, "idle excess": idle - wanted}
    if "mixing time" in facts:
        found["needed mixing time"] = half_way_mixing(
            number(facts, "mixing time"),
            idle,
            wanted,
            number(facts, "investment shortest mixing"),
            number(facts, "investment longest mixing"),
        )
    return found


def _say_idle(facts: Facts) -> Sequence[str]:
    idle, excess = number(facts, "idle before gloss-off"), number(facts, "idle excess")
    if idle < 0.0:
        says = ["The flask was still handled after the shine had gone: it must stand before."]
    else:
        says = ["The slurry stood {idle before gloss-off} before its shine left."]
    if excess > 30.0:
        says.append(
            "That is long enough for water to separate. Use up half of the excess in mixing, then time the set."
        )
    elif excess < -30.0:
        says.append("That is too short: fewer flasks for one mix, or cooler water. Bubbles freeze in where they are.")
    if "needed mixing time" in facts:
        says.append("Next mixing time: {needed mixing time}.")
    return says


def _ends(facts: Facts) -> dict[str, Value]:
    steps = {step: told(facts, step, usual) for step, usual in USUAL.items()}
    clock = latest_ends(
        number(facts, "gloss-off time"),
        number(facts, "investment idle before set"),
        steps["bowl vacuum time"],
        steps["pouring time"],
        steps["flask vacuum time"],
        number(facts, "investment shortest mixing"),
    )
    return {
        "mixing must end": clock.mixing,
        "bowl vacuum must end": clock.bowl_vacuum,
        "pouring must end": clock.pouring,
        "flask vacuum must end": clock.flask_vacuum,
    }


def _say_ends(facts: Facts) -> Sequence[str]:
    left = [step for step in USUAL if step not in facts]
    says = [
        "Counted from powder into water: stop mixing at {mixing must end}, bowl vacuum off at {bowl vacuum must end}, "
        "poured by {pouring must end}, flask vacuum off and hands off at {flask vacuum must end}."
    ]
    if left:
        says.append("Usual times are taken for: " + ", ".join(left) + ".")
    return says


def _rest(facts: Facts) -> dict[str, Value]:
    least = number(facts, "investment least rest")
    if told(facts, "boric acid share", 0.0) >= SLOWED_FROM:
        least = max(least, told(facts, "investment slow set rest", least))
    needed = scaled_hold(number(facts, "investment rest"), number(facts, "flask diameter"), least)
    found: dict[str, Value] = {"needed rest": needed}
    if "rest before heat" in facts:
        found["rest shortfall"] = needed - number(facts, "rest before heat")
    return found


def _say_rest(facts: Facts) -> Sequence[str]:
    says = ["This flask rests {needed rest} before heat, damp (in a closed bag), not moved in the first hour."]
    if "rest shortfall" in facts and number(facts, "rest shortfall") > 0.0:
        says.append("It rested too short, by {rest shortfall}.")
    return says


def _most_flasks(facts: Facts) -> dict[str, Value]:
    flasks, done = number(facts, "flasks in one mix"), number(facts, "hands off")
    before = number(facts, "mixing time") + told(facts, "bowl vacuum time", USUAL["bowl vacuum time"])
    if flasks < 1.0:
        raise OutOfRange(f"{flasks:g} flasks are no batch.", next_step="Tell how many flasks one mix filled.")
    pace = (done - before) / flasks
    if pace <= 0.0:
        raise OutOfRange(
            "the batch was done before its mixing and bowl vacuum had ended.",
            next_step="Count all times from powder into water.",
        )
    left = number(facts, "gloss-off time") - number(facts, "investment idle before set") - before
    return {"most flasks in one mix": float(max(1, floor(left / pace + 1e-9)))}


CALCULATORS = (
    Calculator(
        name="flasks for one mix",
        title="How many flasks one mix may fill",
        stage="investment",
        needs=("flasks in one mix", "hands off", "gloss-off time", "mixing time", "investment idle before set"),
        takes=("bowl vacuum time",),
        gives=("most flasks in one mix",),
        formula=(
            "{most flasks in one mix} = whole flasks in ({gloss-off time} - {investment idle before set} - start) / "
            "pace",
            "start = {mixing time} + {bowl vacuum time}, 90 s unless told; "
            "pace = ({hands off} - start) / {flasks in one mix}",
        ),
        run=_most_flasks,
        says=lambda facts: ("At the pace of this batch one mix fills {most flasks in one mix} flasks in time.",),
        sources=("common practice",),
    ),
    Calculator(
        name="hands-off time",
        title="When the flask was let stand",
        stage="investment",
        needs=("hands-off time",),
        gives=("hands off",),
        formula=("{hands off} = {hands-off time}",),
        run=_clocked,
        says=lambda facts: ("The flask stood untouched from {hands off} after powder went into water.",),
        sources=("common practice",),
    ),
    Calculator(
        name="sum of the steps",
        title="When the flask was let stand, from the times of the steps",
        stage="investment",
        needs=STEPS,
        gives=("hands off",),
        formula=("{hands off} = {mixing time} + {bowl vacuum time} + {pouring time} + {flask vacuum time}",),
        run=_summed,
        says=lambda facts: ("The steps add up to {hands off}, handling in between not counted.",),
        sources=("common practice",),
    ),
    Calculator(
        name="idle before gloss-off",
        title="How long the slurry stood before it set",
        stage="investment",
        needs=(
            "gloss-off time",
            "hands off",
            "investment idle before set",
            "investment shortest mixing",
            "investment longest mixing",
        ),
        takes=("mixing time",),
        gives=("idle before gloss-off", "idle excess", "needed mixing time"),
        formula=(
            "{idle before gloss-off} = {gloss-off time} - {hands off}",
            "{idle excess} = {idle before gloss-off} - {investment idle before set}",
            "{needed mixing time} = {mixing time} + {idle excess} / 2, kept between {investment shortest mixing} and"
            " {investment longest mixing}",
        ),
        run=_idle,
        says=_say_idle,
        sources=("common practice",),
    ),
    Calculator(
        name="working time",
        title="When each step must have ended, worked back from the set",
        stage="investment",
        needs=("gloss-off time", "investment idle before set", "investment shortest mixing"),
        takes=tuple(USUAL),
        gives=("mixing must end", "bowl vacuum must end", "pouring must end", "flask vacuum must end"),
        formula=(
            "{flask vacuum must end} = {gloss-off time} - {investment idle before set}",
            "{pouring must end} = {flask vacuum must end} - {flask vacuum time}",
            "{bowl vacuum must end} = {pouring must end} - {pouring time}",
            "{mixing must end} = {bowl vacuum must end} - {bowl vacuum time}, which must leave {investment shortest "
            "mixing}",
        ),
        run=_ends,
        says=_say_ends,
        sources=("common practice",),
    ),
    Calculator(
        name="needed rest",
        title="How long the flask must rest before heat",
        stage="investment",
        needs=("flask diameter", "investment rest", "investment least rest"),
        takes=("boric acid share", "investment slow set rest", "rest before heat"),
        gives=("needed rest", "rest shortfall"),
        formula=(
            "{needed rest} = {investment rest} x {flask diameter} / 100 mm, at least {investment least rest}; "
            "{investment slow set rest} where boric acid slows the set ({boric acid share})",
            "{rest shortfall} = {needed rest} - {rest before heat}",
        ),
        run=_rest,
        says=_say_rest,
        sources=("common practice",),
    ),
)
