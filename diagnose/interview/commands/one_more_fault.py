"""A second fault on the same part: noted, and looked into when the first one is done."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagnose.interview import words
from diagnose.interview.prompt import Reply, choose

if TYPE_CHECKING:
    from diagnose.interview.inquiry import Inquiry

PICK = "one more fault"
NOTED = "also"
"""The name under which another fault of the part is kept with what was told."""


def offer(inquiry: Inquiry, defect: str) -> Reply:
    """Ask whether a defect named after another one is there as well, or is the right name for the first."""
    inquiry.named = defect
    inquiry.pick = (PICK, [(words.AS_WELL, words.BOTH_SEEN), (words.INSTEAD, words.WRONG_NAME)])
    return Reply([inquiry.says(f"{inquiry.of.base.defect(defect).name}: {inquiry.of.base.defect(defect).looks}")])


def picked(inquiry: Inquiry, typed: str) -> Reply:
    """Note the second fault, or put its name in the place of the first."""
    chosen = choose(typed, [words.AS_WELL, words.INSTEAD])
    if chosen is None:
        return Reply([f"Type 1 or 2, not '{typed:.40}'."])
    inquiry.pick = None
    if chosen == words.INSTEAD:
        inquiry.begin_anew()
        return inquiry.attempt("defect", inquiry.named)
    return inquiry.attempt(NOTED, inquiry.named)


def go_on(inquiry: Inquiry) -> Reply:
    """Show the diagnosis as it stands and turn to the next fault that was named, with everything told so far."""
    if not inquiry.others:
        return Reply([words.NO_OTHER_FAULT])
    found = inquiry.diagnosis()
    inquiry.begin_anew()
    said = inquiry.attempt("defect", inquiry.others[0])
    name = inquiry.of.base.defect(inquiry.case.defect).name
    return Reply([words.NOW_THE_OTHER.format(name=name), *said.say[1:]], shown=found)


def finish(inquiry: Inquiry) -> Reply:
    """End with the diagnosis, or go on to the other fault that was named."""
    return go_on(inquiry) if inquiry.others else Reply(over=True)


def ask_on(inquiry: Inquiry) -> Reply:
    """Ask more questions although the cause is settled."""
    inquiry.asking_on = True
    return Reply()
