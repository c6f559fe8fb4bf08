"""`what if NAME = VALUE`: the same case with some facts otherwise, side by side; nothing is recorded."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagnose.consult.what_if import what_if
from diagnose.errors import BadInput
from diagnose.interview import words
from diagnose.interview.prompt import Reply

if TYPE_CHECKING:
    from diagnose.interview.inquiry import Inquiry


def compare(inquiry: Inquiry, typed: str) -> Reply | None:
    """Show what some changes would do to the diagnosis, the computed numbers and the recheck."""
    if "=" not in typed and not inquiry.case.defect:
        return None  # "what if anything went wrong" tells what is wrong
    if not inquiry.case.defect:
        return Reply([words.NAME_NO_DEFECT])
    try:
        return Reply(shown=what_if(inquiry.of, inquiry.case, (typed.rstrip("?"),)))
    except BadInput as error:
        return Reply([error.message()])
