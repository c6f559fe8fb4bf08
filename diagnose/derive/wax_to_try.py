"""What to try next where a hold or a wait was too short: one step more, and never less than the guide for its size."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.derive.calculator import Calculator, Facts, Value, number
from diagnose.derive.told import positive

HOLD_STEP, WAIT_STEP = 4.0, 45.0  # s; what a caster adds where nobody knows what it needs
MM2 = 1e-6  # m2; the guides are seconds for each square millimetre


def _guide(facts: Facts, guide: str, size: str, most: str) -> float:
    """Return the least that the guide asks for a size; nothing where the size is not known. [s]"""
    return min(number(facts, guide) * positive(facts, size) ** 2 / MM2, number(facts, most)) if size in facts else 0.0


def _hold(facts: Facts) -> dict[str, Value]:
    now, most = number(facts, "hold time"), number(facts, "longest hold")
    longer = max(now + HOLD_STEP, _guide(facts, "hold guide", "wax gate diameter", "longest hold"))
    return {"hold to try": max(now, min(longer, most))}


def _wait(facts: Facts) -> dict[str, Value]:
    longer = number(facts, "time in the mold") + WAIT_STEP
    return {"wait to try": max(longer, _guide(facts, "wait guide", "heaviest section", "longest wait guide"))}


def _say_hold(facts: Facts) -> Sequence[str]:
    return ("If {hold time} left the gate open, hold {hold to try} next.",)


def _say_wait(facts: Facts) -> Sequence[str]:
    return ("If {time in the mold} left the wax soft, wait {wait to try} next.",)


CALCULATORS = (
    Calculator(
        name="hold to try",
        title="How long to hold next where the gate was still open",
        stage="wax",
        needs=("hold time", "hold guide", "longest hold"),
        takes=("wax gate diameter",),
        gives=("hold to try",),
        formula=(
            "{hold to try} = {hold time} and 4 s, or {hold guide} seconds for each square millimetre of {wax gate "
            "diameter} squared if that is longer; at most {longest hold}",
        ),
        run=_hold,
        says=_say_hold,
        sources=("common practice",),
    ),
    Calculator(
        name="wait to try",
        title="How long to wait next where the wax was still soft",
        stage="wax",
        needs=("time in the mold", "wait guide", "longest wait guide"),
        takes=("heaviest section",),
        gives=("wait to try",),
        formula=(
            "{wait to try} = {time in the mold} and 45 s, or {wait guide} seconds for each square millimetre of "
            "{heaviest section} squared if that is longer, which asks for at most {longest wait guide}",
        ),
        run=_wait,
        says=_say_wait,
        sources=("common practice",),
    ),
)
