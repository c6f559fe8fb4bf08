"""`?` and `why`: what can be typed here, and why this is asked."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagnose.consult import second_look
from diagnose.consult.mistaken import KIND, tells_from
from diagnose.consult.outcome import said_answers
from diagnose.consult.rank import UNLISTED
from diagnose.interview import words
from diagnose.interview.prompt import Reply

if TYPE_CHECKING:
    from diagnose.consult.ask import OpenQuestion
    from diagnose.interview.inquiry import Inquiry


def help_here(inquiry: Inquiry) -> Reply:
    """List what can be typed, and the answers to the question in full."""
    now = inquiry.prompt()
    say = list(words.HELP)
    if now and now.name == "defect":
        say += ["", *(f"{d.name} ({d.stage})" for d in inquiry.finder.defects)]
    elif now:
        say += ["", *(f"{a}: {d}" if d != a else a for a, d in now.options), *now.steps]
    return Reply(say)


def explain_question(inquiry: Inquiry) -> Reply:
    """Say why this is asked, and which cause would lead after each answer."""
    now = inquiry.prompt()
    vocabulary = inquiry.of.base.words
    if now is None or (now.name not in vocabulary.observations and not inquiry.open):
        return Reply([words.ASKED_TO_CHOOSE])
    say = []
    if now.name in vocabulary.observations:
        say.append(vocabulary.observations[now.name].why or f"It tells about: {vocabulary.about(now.name)}.")
    elif now.name in vocabulary.settings:
        say.append(vocabulary.settings[now.name].says)
    question = next((q for q in inquiry.open if q.name == now.name), None)
    if question is not None and question.kind in ("observation", "bench test", second_look.KIND):
        say += _leading(inquiry, question)
    if question is not None and question.kind == KIND and inquiry.standing is not None:
        for other in tells_from(inquiry.standing, now.name):
            say.append(f"It tells this from: {inquiry.of.base.defect(other.defect).name}. {other.tell}")
    return Reply([inquiry.says(line) for line in say] or [words.ASKED_TO_CHOOSE])


def _leading(inquiry: Inquiry, question: OpenQuestion) -> list[str]:
    """Return which cause would lead after which answers, each cause once."""
    answers: dict[str, list[str]] = {}
    assert inquiry.standing is not None
    for answer, first in said_answers(inquiry.standing, question, inquiry.of.show):
        answers.setdefault(first, []).append(answer)
    names = {c: words.UNLISTED if c == UNLISTED else inquiry.of.base.cause_name(c) for c in answers}
    if len(answers) == 1:
        return [words.SAME_FIRST.format(cause=name) for name in names.values()]
    return [f"{' or '.join(told)}: then first would be {names[cause]}" for cause, told in answers.items()]
