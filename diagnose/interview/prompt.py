"""What passes between a person and an inquiry: what is asked, what is answered, which option was meant."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
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
    alike = [o for o in options if _numbers(folded) == _numbers(o)]
    scored = sorted(((fuzz.ratio(folded, o.casefold()), o) for o in alike), reverse=True)
    if scored and scored[0][0] >= 82 and (len(scored) == 1 or scored[0][0] - scored[1][0] >= 8):
        return scored[0][1]
    return None


def _numbers(text: str) -> list[str]:
    """Return the numbers of a text: words may be misspelt, another number is another answer."""
    return re.findall(r"\d+(?:\.\d+)?", text)


def choose_either(text: str, options: list[str], says: Callable[[str], str]) -> str | None:
    """Return the option meant, typed as the rules base has it or as it is shown in the person's units."""
    shown = {says(option): option for option in options}
    exact = next((option for said, option in shown.items() if said.casefold() == text.casefold()), None)
    if found := exact or choose(text, options):
        return found
    said = choose(text, list(shown))
    return shown[said] if said else None
