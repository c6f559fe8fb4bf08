"""A defect, a cause or a rule of the rules base as one readable page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagnose.consult.condition_words import in_words
from diagnose.consult.show import Shower
from diagnose.errors import BadInput
from diagnose.report.text import Line, Page
from diagnose.rulebase.cursor import suggest

if TYPE_CHECKING:
    from diagnose.rulebase.load import RuleBase


def knowledge_lines(base: RuleBase, name: str, width: int, system: str = "us") -> list[Line]:
    """Return the page of a defect, a cause or a single rule; raise BadInput for an unknown name."""
    page, show = Page(width), Shower(base, system)
    if name in base.causes:
        _cause(page, base, name)
    elif name in base.defect_files:
        _defect(page, base, name, show)
    elif name.split("/")[0] in base.defect_files:
        _rule(page, base, name, show)
    else:
        hint = suggest(name, [*base.defect_files, *base.causes])
        raise BadInput(
            f"there is no defect, cause or rule '{name}'.", next_step=hint or "`diagnose rules list` shows all."
        )
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


def _defect(page: Page, base: RuleBase, name: str, show: Shower) -> None:
    defect = base.defect(name)
    page.head(defect.name)
    page.say(defect.looks)
    page.say("Also called: " + ", ".join(defect.words))
    for alike in defect.mistaken_for:
        page.item(f"Mistaken for {alike.defect}: {alike.tell}")
    for c in defect.candidates:
        page.head(f"{base.cause_name(c.cause)} ({c.often})")
        for r in c.rules:
            page.item(f"{r.speaks} ({r.weight}): {in_words(r.when, show)}. {r.because} [{r.source}]")


def _rule(page: Page, base: RuleBase, name: str, show: Shower) -> None:
    defect = base.defect(name.split("/")[0])
    rule = next((r for r in defect.rules() if r.id == name), None)
    if rule is None:
        hint = suggest(name, [r.id for r in defect.rules()])
        raise BadInput(f"{defect.id} has no rule '{name}'.", next_step=hint or f"`diagnose rules show {defect.id}`.")
    page.head(f"{defect.name}: {base.cause_name(rule.cause)}")
    page.say(f"When {in_words(rule.when, show)}")
    page.say(f"it speaks {rule.speaks} this cause ({rule.weight}), as a sign of: {rule.about}.")
    page.say(f"Because: {rule.because}")
    if rule.differs:
        page.say(f"Elsewhere this sign has another weight: {rule.differs}")
    page.say(f"Source: {rule.source}. In {defect.file}, line {rule.line}.", style="faint")
