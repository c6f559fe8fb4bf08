"""How well the rules base covers its defects, as lines: a table of defects, and each cause of a defect in full."""

from __future__ import annotations

from diagnose.model.coverage import Coverage, DefectCovered
from diagnose.report.screen_lines import Line, Page

IN_FULL = 3  # defects up to which every cause is shown
WIDE = 70  # columns from which the defects stand in a table


def coverage_lines(c: Coverage, width: int) -> list[Line]:
    """Return the coverage as lines; a few defects are shown cause by cause."""
    page = Page(width)
    page.head(f"Coverage: {c.plays} truthful {'play' if c.plays == 1 else 'plays'} of each cause")
    page.say(
        "found: right cause first. asked: mean number of questions. apart: the factor between the odds of the two "
        "causes that are hardest to tell apart, by the one finding that does it best."
    )
    wide = page.width >= WIDE
    if wide:
        page.say(f"{'defect':34}{'causes':>7}{'rules':>7}{'found':>7}{'asked':>7}{'apart':>7}", style="strong")
    for d in c.defects:
        counts, found, apart = (len(d.causes), d.rules), f"{d.right_first:.0%}", _factor(d.worst_factor)
        if wide:
            page.say(f"{d.defect:34}{counts[0]:7}{counts[1]:7}{found:>7}{d.questions:7.1f}{apart:>7}")
        else:
            page.say(d.defect, style="strong")
            page.say(f"{counts[0]} causes, {counts[1]} rules; found {found}, asked {d.questions:.1f}, apart {apart}", 2)
    for d in c.defects if len(c.defects) <= IN_FULL else ():
        _causes(page, d)
    return page.lines


def _factor(factor: float | None) -> str:
    return "-" if factor is None else f"{factor:.0f}"


def _causes(page: Page, d: DefectCovered) -> None:
    page.head(d.name)
    for c in d.causes:
        page.say(f"{c.name}: found {c.right_first:.0%}, {c.questions:.1f} questions", hang=2, style="strong")
        if c.hardest_from:
            by = f"told by {c.told_by} (factor {_factor(c.factor)})" if c.told_by else "nothing tells them apart"
            page.say(f"hardest to tell from {c.hardest_from}; {by}", 2)
