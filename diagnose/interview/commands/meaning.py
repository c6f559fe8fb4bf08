"""`? WORD` and `what is WORD`: what a word means, at any prompt."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagnose.interview.prompt import Reply

if TYPE_CHECKING:
    from diagnose.interview.inquiry import Inquiry

MOST = 3


def explain_word(inquiry: Inquiry, typed: str) -> Reply | None:
    """Explain a word of the trade, a setting, an answer, a cause or a defect."""
    if "=" in typed:
        return None  # "what is missing = upper tree" tells a fact
    found = inquiry.meanings.of(typed)
    if found:
        return Reply([inquiry.says(f"{m.word} - {m.kind}: {m.says}") for m in found[:MOST]])
    answer = _answer_here(inquiry, typed)
    if answer:
        return Reply([answer])
    near = inquiry.meanings.like(typed)
    return Reply([f"'{typed:.40}' is not explained here.", *([f"Near it: {', '.join(near)}."] if near else [])])


def _answer_here(inquiry: Inquiry, typed: str) -> str:
    """Return what an answer of the question at hand means, when it is one."""
    now = inquiry.prompt()
    asked = typed.casefold()
    found = [f"{a}: {says}" for a, says in (now.options if now else ()) if asked in (a, a.casefold()) and says]
    return found[0] if found else ""
