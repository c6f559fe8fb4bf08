"""Shipped exercises: each a case file that knows everything, with its cause and what is told at first."""

from __future__ import annotations

from pathlib import Path

from rapidfuzz import fuzz, process

from diagnose.errors import BadInput
from diagnose.model.exercise import Exercise
from diagnose.rulebase.cases import KEYS, case_at, refuse
from diagnose.rulebase.cursor import Cursor, suggest
from diagnose.rulebase.files import parse, read_text
from diagnose.rulebase.issue import Issue
from diagnose.rulebase.load import RuleBase, shipped_folder

OWN_KEYS = ("exercise", "level", "told")
INVENTED = "An invented part."


def shipped_exercises(base: RuleBase) -> list[Exercise]:
    """Return the exercises in their graded order: by level, then by file."""
    folder = shipped_folder("cases") / "exercises"
    found = [read_exercise(path, base) for path in sorted(folder.glob("*.yaml"))]
    return sorted(found, key=lambda e: e.level)


def named_exercise(base: RuleBase, name: str) -> Exercise:
    """Return the shipped exercise that a number or some words of its title mean."""
    every = shipped_exercises(base)
    if name.isdigit() and 1 <= int(name) <= len(every):
        return every[int(name) - 1]
    hit = process.extractOne(name.casefold(), [e.title.casefold() for e in every], scorer=fuzz.WRatio, score_cutoff=70)
    if hit is None:
        raise BadInput(f"there is no exercise '{name:.40}'.", next_step="`diagnose teach quiz --list` shows them.")
    return every[hit[2]]


def read_exercise(path: Path, base: RuleBase) -> Exercise:
    """Return the exercise in a file; raise one BadInput that names every fault with its line."""
    issues: list[Issue] = []
    c = Cursor(parse(read_text(path), str(path)), str(path), path.stem, issues)
    c.only(*KEYS, *OWN_KEYS)
    case = case_at(c, base)
    told = c.texts("told")
    known = {**case.materials, **case.settings, **case.observations}
    for name in told:
        if name not in known:
            c.fault(f"'told' names '{name}', which the case does not hold.", suggest(name, known), "told")
    level = c.choice("level", ("1", "2", "3"))
    if not case.confirmed:
        c.fault("'confirmed' must name the hidden cause.")
    refuse(issues)
    return Exercise(
        title=c.text("exercise"), level=int(level), told=told, cause=case.confirmed[0],
        case=case.model_copy(update={"confirmed": (), "notes": ""}), origin=INVENTED, story=case.notes,
    )  # fmt: skip
