"""Anything of the rules base as one readable page: a defect, a cause, a rule, or what can be known about a part."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagnose.consult.condition_words import in_words
from diagnose.consult.show import Shower, effort
from diagnose.errors import BadInput
from diagnose.report.knowledge_facts import fact_page
from diagnose.report.screen_lines import Line, Page
from diagnose.rulebase.cursor import suggest

if TYPE_CHECKING:
    from diagnose.rulebase.load import RuleBase


def knowledge_lines(base: RuleBase, name: str, width: int, system: str = "us") -> list[Line]:
    """Return the page of whatever has a name; raise BadInput for an unknown one.

    Capitals, hyphens in the name of a fact, and the stage before a name that there is once, may be left out.
    """
    show, name = Shower(base, system), _meant(base, name.strip())
    page = Page(width, str if name in base.sources else show.says)
    if name in base.causes:
        _cause(page, base, name, show)
    elif name in base.defect_files:
        _defect(page, base, name, show)
    elif name.split("/")[0] in base.defect_files:
        _rule(page, base, name, show)
    elif not fact_page(page, base, name, show):
        hint = suggest(name, _every_name(base))
        raise BadInput(f"there is nothing called '{name}'.", next_step=hint or "`diagnose rules list` shows all.")
    return page.lines


def _every_name(base: RuleBase) -> list[str]:
    materials = [name for slot in base.words.slots.values() for name in slot.materials]
    return [*base.defect_files, *base.causes, *base.words.names(), *materials, *base.hazards, *base.sources]


def _meant(base: RuleBase, typed: str) -> str:
    """Return the one name that somebody means by what was typed; what was typed where there is none."""
    if "/" in typed:
        return typed
    known = _every_name(base)
    if typed in known:
        return typed
    folded = typed.casefold()
    for same in (
        [n for n in known if n.casefold() == folded],
        [n for n in known if n.casefold() == folded.replace("-", " ")],
        [n for n in known if n.partition(".")[2].casefold() == folded],
    ):
        if len(same) == 1:
            return same[0]
        if same:
            raise BadInput(f"there are several called '{typed}'.", next_step=f"There are {' and '.join(same)}.")
    return typed


def _cause(page: Page, base: RuleBase, name: str, show: Shower) -> None:
    cause = base.causes[name]
    page.head(cause.name)
    page.say(cause.how)
    for n, c in enumerate(cause.corrections, 1):
        page.say(f"{n}. {c.do}", 0, 3, "strong")
        if c.when is not None:
            page.say(f"Only when {in_words(c.when, show)}.", 3)
        for hazard in (base.hazards[h] for h in c.cautions if h in base.hazards):
            page.say(f"Take care: {hazard.says}", 3)
        page.say(f"It takes {effort(60.0 * c.minutes)}; material: {c.material}.", 3)
        page.say(f"It worked if: {c.how_to_tell}", 3)
        for w in (*map(base.cause_name, c.worsens), *([c.worsens_also] if c.worsens_also else [])):
            page.say(f"Can bring on: {w}", 3)
        page.say(f"Source: {c.source}", 3, style="faint")
    page.head("A cause of")
    page.say(", ".join(d.id for d in base.all_defects() if any(c.cause == name for c in d.candidates)) or "no defect.")


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
    for candidate in defect.candidates:
        if name == f"{defect.id}/{candidate.cause}":
            page.head(f"{defect.name}: {base.cause_name(candidate.cause)} ({candidate.often})")
            for r in candidate.rules:
                page.item(f"{r.speaks} ({r.weight}): {in_words(r.when, show)}. {r.because} [{r.source}]")
                page.say(f"its id: {r.id}", 4, style="faint")
            return
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
