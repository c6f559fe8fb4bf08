"""Revised settings as lines: the moves, what they leave as margin, how sure they are, what was dropped."""

from __future__ import annotations

from diagnose.model.diagnosis import Diagnosis, Revised
from diagnose.report.screen_lines import Page


def revision_lines(page: Page, d: Diagnosis, everything: bool) -> None:
    """Add the revised settings of a diagnosis, and the recheck of them by the same rules."""
    search = d.search
    if search.unsafe:
        page.head("Not safe as recorded")
    for text in search.unsafe:
        page.item(text)
    if d.revised_settings or search.stopped_by or search.says:
        page.head("Revised settings")
        if search.says:
            page.say(search.says)
        if search.stopped_by:
            page.say(f"What stops it: {search.stopped_by}")
        for r in d.revised_settings:
            _moved(page, r, everything)
        _how_sure(page, d, everything)
        if everything:
            _dropped(page, d)
    _recheck(page, d)


def _moved(page: Page, r: Revised, everything: bool) -> None:
    page.say(f"{r.setting}: {r.from_} -> {r.to}", 0, 2, "strong")
    page.say(f"why: {r.why}" + (f" ({r.calculation})" if r.calculation else ""), 2, 4)
    if everything and r.source:
        page.say(f"source: {r.source}", 2, 4, "faint")
    if r.steps:
        page.say(r.steps, 2)
    for m in r.margins if everything else r.margins[:1]:
        page.say(f"then {m.name}: {m.value}; {m.limit}" + (f" ({m.because.rstrip('.')})" if m.because else ""), 2, 4)
    if r.range:
        page.say(f"range from what had to be assumed: {r.range}", 2, 4)


def _how_sure(page: Page, d: Diagnosis, everything: bool) -> None:
    for turn in d.search.turns:
        page.say(f"If {turn.if_}: {turn.then.rstrip('.')}.", 2, 4)
    if d.search.settle:
        page.say(f"To be surer: {d.search.settle.rstrip('.')}", 2, 4)
    for doubt in d.search.doubts if everything else ():
        page.say(f"assumed {doubt.name}: {doubt.assumed}. To find out: {doubt.settle.rstrip('.')}", 2, 4, "faint")


def _dropped(page: Page, d: Diagnosis) -> None:
    if d.search.dropped:
        page.head("Considered and dropped")
    for one in d.search.dropped:
        page.item(f"{one.moves}: {one.why.rstrip('.')}.")
    if not d.search.complete:
        page.item("The search was cut short: not every set of moves was looked at.")


def _recheck(page: Page, d: Diagnosis) -> None:
    check = d.recheck
    if check.cleared or check.raised or check.still_accused or check.note:
        page.head("Recheck of that change by the same rules")
        for title, items in (("clears", check.cleared), ("leaves", check.still_accused), ("would raise", check.raised)):
            for text in items:
                page.item(f"{title}: {text}")
        if check.note:
            page.item(check.note)
