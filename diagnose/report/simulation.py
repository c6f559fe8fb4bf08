"""What came of playing every cause, as lines: the figures against their targets, calibration, the weakest causes."""

from __future__ import annotations

from diagnose.model.simulation import CauseScore, Simulation
from diagnose.report.screen_lines import Line, Page

WEAKEST = 15


def simulation_lines(s: Simulation, width: int, every: bool = False) -> list[Line]:
    """Return the figures, the calibration table and the causes that fared worst (or every cause)."""
    page = Page(width)
    page.head(f"{s.plays} plays of {s.causes} causes of {s.defects} defects")
    page.say(f"Answers flipped: {s.noise:.0%}; drawn with the number {s.seed}.")
    noisy = s.noise > 0
    rows = [
        ("right cause first", f"{s.first:.1%}", ("85 %" if noisy else "97 %")),
        ("right cause in the first three", f"{s.first_three:.1%}", ("95 %" if noisy else "99.5 %")),
        ("questions, median", f"{s.median_questions:g}", "" if noisy else "7 or fewer"),
        ("questions, mean", f"{s.mean_questions:.1f}", ""),
        ("of them second looks, mean", f"{s.mean_looks_again:.1f}", ""),
        ("settled before questions ran out", f"{s.settled:.1%}", ""),
        ("log loss", f"{s.log_loss:.3f}", ""),
        ("calibration error (10 bins)", f"{s.calibration_error:.3f}", "0.05 or less"),
        ("right first, causes as often as met", f"{s.first_as_met:.1%}", ""),
        ("calibration error, as often as met", f"{s.calibration_error_as_met:.3f}", ""),
    ]
    if s.mean_in_file_order is not None and s.fewer_questions is not None:
        rows.append(("questions in file order, mean", f"{s.mean_in_file_order:.1f}", ""))
        rows.append(("fewer questions than that", f"{s.fewer_questions:.0%}", "40 % or more"))
    page.head("Figures")
    for name, value, target in rows:
        page.say(f"{name:36}{value:>8}" + (f"   target {target}" if target else ""))
    _bins(page, s)
    _causes(page, s.by_cause if every else [c for c in s.by_cause if c.first < 1.0][:WEAKEST])
    return page.lines


def _bins(page: Page, s: Simulation) -> None:
    page.head("Does what is stated come true")
    page.say(f"{'plays':>7}{'stated':>9}{'came true':>11}")
    for b in s.bins:
        if b.plays:
            page.say(f"{b.plays:7}{b.stated:9.0%}{b.true:11.0%}")


def _causes(page: Page, scores: tuple[CauseScore, ...] | list[CauseScore]) -> None:
    if not scores:
        return
    page.head("Causes, the weakest first")
    for c in scores:
        with_ = ", ".join(f"{name} ({n})" for name, n in c.confused_with.items())
        text = f"{c.defect}: {c.cause}: first {c.first:.0%}, in three {c.first_three:.0%}"
        text += f", {c.mean_questions:.1f} questions" + (f"; taken for {with_}" if with_ else "")
        page.say(text, hang=2)
