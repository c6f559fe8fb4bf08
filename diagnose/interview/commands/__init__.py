"""What a person can type at any prompt besides an answer: one file for each kind of wish, found here by its word."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from diagnose.interview.commands.comparing import compare
from diagnose.interview.commands.finding_out import explain_question, help_here
from diagnose.interview.commands.going_back import change, go_back
from diagnose.interview.commands.meaning import explain_word
from diagnose.interview.commands.naming import list_names
from diagnose.interview.commands.one_more_fault import ask_on, finish, go_on
from diagnose.interview.commands.similar import like_this
from diagnose.interview.commands.upstream import follow, follow_other
from diagnose.interview.commands.why import show_more, why, why_not
from diagnose.interview.prompt import Reply

if TYPE_CHECKING:
    from diagnose.interview.inquiry import Inquiry

# A word alone.
PLAIN: dict[str, Callable[[Inquiry], Reply]] = {
    "?": help_here,
    "help": help_here,
    "why": explain_question,
    "back": go_back,
    "follow": follow,
    "follow other": follow_other,
    "names": list_names,
    "similar": like_this,
    "show": lambda inquiry: Reply(show=True),
    "save": lambda inquiry: Reply(save=True),
    "done": finish,
    "next": go_on,
    "more": ask_on,
    "stop": lambda inquiry: Reply(stop=True),
    "quit": lambda inquiry: Reply(stop=True),
    "exit": lambda inquiry: Reply(stop=True),
}

# Words with more after them; what follows comes as the person typed it. None back: it was an answer after all.
LEADING: dict[str, Callable[[Inquiry, str], Reply | None]] = {
    "change ": change,
    "why not ": why_not,
    "why ": why,
    "show ": show_more,
    "? ": explain_word,
    "what is ": explain_word,
    "what if ": compare,
}


def command_in(text: str) -> Callable[[Inquiry], Reply | None] | None:
    """Return what a line asks for, or None when it is an answer or a fact."""
    folded = text.casefold()
    if plain := PLAIN.get(folded.rstrip(".!")):
        return plain
    for beginning, wish in LEADING.items():
        if folded.startswith(beginning):
            rest = text[len(beginning) :].strip()
            return lambda inquiry, wish=wish: wish(inquiry, rest)  # type: ignore[misc]
    return None
