"""A comparison of two diagnoses as lines."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagnose.report.text import Line, Page, bar

if TYPE_CHECKING:
    from diagnose.consult.what_if import Comparison


def comparison_lines(c: Comparison, width: int) -> list[Line]:
    """Return what a change of settings would do: ranking, computed numbers, accusations cleared and raised."""
    page = Page(width)
    page.head("What if " + ", ".join(c.changes))
    after = {cause.id: cause.probability for cause in c.after.causes}
    for cause in c.before.causes:
        if max(cause.probability, after[cause.id]) >= 0.03:
            page.say(cause.name, style="strong")
            page.say(
                f"{bar(cause.probability)} {cause.probability:.0%} -> {bar(after[cause.id])} {after[cause.id]:.0%}", 3
            )
    numbers = {n.name: n.value for n in c.before.derived}
    page.head("Computed numbers")
    for n in c.after.derived:
        was = numbers.get(n.name, "not computed")
        page.item(f"{n.name}: {was}" + (f" -> {n.value}" if was != n.value else " (the same)"))
    page.head("Recheck")
    for title, items in (("clears", c.cleared()), ("raises", c.raised())):
        for text in items or ["nothing"]:
            page.item(f"{title}: {text}")
    for text in c.after.cautions:
        if text not in c.before.cautions:
            page.item(f"Careful: {text}")
    return page.lines
