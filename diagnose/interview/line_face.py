"""The interview line by line: for simple terminals, screen readers and pipes. Nothing is redrawn."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING

from diagnose.errors import BadInput, DiagnoseError
from diagnose.interview import words
from diagnose.interview.commands.naming import one_called
from diagnose.interview.inquiry import Inquiry
from diagnose.interview.prompt import Prompt
from diagnose.model.clean import clean

if TYPE_CHECKING:
    from diagnose.model.record import Record

Say = Callable[[str], None]


def ask_lines(prompt: Prompt) -> list[str]:
    """Return a question as plain lines with numbered answers."""
    lines = [prompt.question, *(f"   - {step}" for step in prompt.steps)]
    if prompt.name != "defect" or prompt.question == words.WHICH:
        for number, (answer, says) in enumerate(prompt.options, 1):
            lines.append(f"  {number}  {answer}" + (f": {says}" if says and says != answer else ""))
    return lines


def converse(inquiry: Inquiry, say: Say, show: Callable[[Record | None], None], save: Callable[[], None]) -> bool:
    """Hold the interview with input(); returns True when a diagnosis is wanted, False when it was left."""
    for text in (words.WELCOME, words.MANNERS):
        say(text)
    while True:
        prompt = inquiry.prompt()
        if prompt is None:
            say(words.ENOUGH if inquiry.settled else words.NOTHING_LEFT)
            return True
        say("")
        for line in ask_lines(prompt):
            say(line)
        try:
            typed = input("> ")
        except EOFError:
            return bool(inquiry.case.defect)
        except KeyboardInterrupt:
            say("")
            return False
        reply = inquiry.hear(clean(typed))
        for line in reply.say:
            say(line)
        if reply.show or reply.shown:
            show(reply.shown)
        if reply.save:
            save()
        if reply.stop:
            return False
        if reply.over:
            return True


def read_answers(inquiry: Inquiry, lines: Iterable[str]) -> None:
    """Feed `name = answer` lines to an inquiry; raise one BadInput that names every line that cannot be used."""
    faults = []
    for number, line in enumerate(lines, 1):
        text = " ".join(clean(line).split())
        if not text or text.startswith("#"):
            continue
        name, sep, answer = text.partition("=")
        try:
            if not sep:
                raise BadInput(
                    f"'{text:.60}' is not a `name = answer` line.", next_step="For example: defect = visible seam"
                )
            inquiry.tell(one_called(inquiry, name, answer.strip()), answer.strip())
        except DiagnoseError as error:
            faults.append(f"standard input, line {number}: {error.message()}")
    if not faults and not inquiry.case.defect:
        faults.append("standard input: no defect was named. Add a line such as: defect = flash on the wax")
    if faults:
        raise BadInput("\n".join(faults))


def to_stderr(text: str) -> None:
    """Write a line for the person while the result goes to standard output."""
    sys.stderr.write(text + "\n")
    sys.stderr.flush()
