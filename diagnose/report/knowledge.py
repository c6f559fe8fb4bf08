"""A defect or a cause of the rules base as one readable page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagnose.errors import BadInput
from diagnose.report.text import Line, Page

if TYPE_CHECKING:
    from diagnose.rulebase.load import RuleBase


def knowledge_lines(base: RuleBase, name: str, width: int) -> list[Line]:
    """Return the page of a defect or a cause; raise BadInput for an unknown name."""
    page = Page(width)
    if name in base.causes:
        _cause(page, base, name)
    elif name in base.defect_files:
        _defect(page, base, name)
    else:
        raise BadInput(f"there is no defect or cause '{name}'.", next_step="`diagnose rules list` shows all.")
    return page.lines


def _cause(page: Page, base: RuleBase, name: str) -> None:
    cause = base.causes[name]
    page.head(cause.name)
    page.say(cause.how)
    for n, c in enumerate(cause.corrections, 1):
        page.say(f"{n}. {c.do}", 0, 3, "strong")
        page.say(f"It worked if: {c.how_to_tell}", 3)
        for w in c.worsens:
            page.say(f"Can bring on: {base.cause_name(w)}", 3)
        page.say(f"Source: {c.source}", 3, style="faint")


def _defect(page: Page, base: RuleBase, name: str) -> None:
    defect = base.defect(name)
    page.head(defect.name)
    page.say(defect.looks)
    page.say("Also called: " + ", ".join(defect.words))
    for alike in defect.mistaken_for:
        page.item(f"Mistaken for {alike.defect}: {alike.tell}")
    for c in defect.candidates:
        page.head(f"{base.cause_name(c.cause)} ({c.often})")
        for r in c.rules:
            page.item(f"{r.speaks} ({r.weight}): {r.id.split('/', 2)[2]}. {r.because} [{r.source}]")
