"""What passes between a person and an inquiry: what is asked, what is answered, which option was meant."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from rapidfuzz import fuzz

if TYPE_CHECKING:
    from diagnose.model.record import Record


SKIP = frozenset(("skip", "not known", "unknown", "don't know", "dont know", "do not know", "no idea", "??"))


def skips(typed: str, answers: Iterable[str] = ()) -> bool:
    """Say whether typed words leave a question open; words that are an answer to it do not."""
    folded = typed.casefold().rstrip(".!")
    return folded in SKIP and folded not in {a.casefold() for a in answers}


@dataclass(frozen=True)
class Prompt:
    """What is asked now: the name of the fact, the question, and the answers with their descriptions."""

    name: str
    question: str
    options: tuple[tuple[str, str], ...] = ()
    hint: str = ""
    steps: tuple[str, ...] = ()


@dataclass
class Reply:
    """What to show after a line: sentences, whether the ranking was asked for, whether the talk is over."""

    say: list[str] = field(default_factory=list)
    show: bool = False
    over: bool = False
    save: bool = False
    stop: bool = False
    shown: Record | None = None
    """A record to be shown in full: why a cause is likely or not, a number opened up, everything at once."""


def choose(text: str, options: list[str]) -> str | None:
    """Return the option meant by a number, a name, a beginning, or loosely spelled words; None if unclear."""
    folded = text.casefold()
    if folded.isdigit() and 1 <= int(folded) <= len(options):
        return options[int(folded) - 1]
    for option in options:
        if option.casefold() == folded:
            return option
    starting = [o for o in options if o.casefold().startswith(folded)]
    if len(starting) == 1:
        return starting[0]
    scored = sorted(((fuzz.ratio(folded, o.casefold()), o) for o in options), reverse=True)
    if scored and scored[0][0] >= 82 and (len(scored) == 1 or scored[0][0] - scored[1][0] >= 8):
        return scored[0][1]
    return None
