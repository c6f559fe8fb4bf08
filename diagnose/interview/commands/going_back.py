"""`back` and `change NAME [= ANSWER]`: an answer was wrong, or is known better now."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagnose.errors import BadInput
from diagnose.interview import words
from diagnose.interview.commands.naming import one_called
from diagnose.interview.prompt import Reply
from diagnose.rulebase.cases import forgotten

if TYPE_CHECKING:
    from diagnose.interview.inquiry import Inquiry


def go_back(inquiry: Inquiry) -> Reply:
    """Take back the last answer and ask it again."""
    if inquiry.pick is not None:
        inquiry.pick = None
        return Reply()
    if not inquiry.history:
        return Reply([words.ALREADY_FIRST])
    inquiry.case, count = inquiry.history.pop()
    gone = inquiry.told[count:]
    inquiry.told = inquiry.told[:count]
    inquiry.begin_anew()
    inquiry.refresh()
    name, answer = gone[0] if gone else ("", "")
    if name and name != "defect":
        inquiry.put_first(name)
    return Reply([f"Back to: {name} (was: {answer})" if name else "Back."])


def change(inquiry: Inquiry, typed: str) -> Reply | None:
    """Take a new answer to an earlier question (`change NAME = ANSWER`), or ask for it now (`change NAME`)."""
    now = inquiry.prompt()
    if now and f"change {typed}".casefold() in (option.casefold() for option, _ in now.options):
        return None
    given, equals, answer = typed.partition("=")
    try:
        name = one_called(inquiry, given)
    except BadInput as error:
        return Reply([error.message()])
    if equals:
        return inquiry.attempt(name, answer.strip())
    if name not in inquiry.of.base.words.names():
        if not inquiry.case.defect:  # "change of colour" tells what is wrong
            return None
        return Reply([f"There is no '{name}' to change. Told so far: {', '.join(n for n, _ in inquiry.told)}."])
    inquiry.case = forgotten(inquiry.case, name)
    inquiry.refresh()
    inquiry.put_first(name)
    return Reply([f"Changing: {name}"])
