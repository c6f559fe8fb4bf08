"""How well the causes of each defect are told apart, and how soon each is found."""

from __future__ import annotations

from math import log10

from diagnose.consult.rank import BAYES_FACTOR
from diagnose.model.coverage import CauseCovered, Coverage, DefectCovered
from diagnose.report.pictures.panels import Bar, Bars, Cell, Grid
from diagnose.report.pictures.picture import Picture

IN_FULL, ROWS = 3, 24
"""Defects up to which every cause is drawn with its name, and defects drawn at most; the table has all."""
TITLE = "How soon each cause is found, and how well it is told apart"
MOSTLY = 0.8  # a cause found first in fewer plays than this is marked
ENOUGH = BAYES_FACTOR["positive"]  # a pair of causes that no finding shifts by this factor counts as hard to tell apart
TOP = 300.0  # a factor from which on the shade stays the same


def coverage_picture(c: Coverage) -> Picture:
    """Return the coverage as a picture: a few defects cause by cause, many as a grid, the weakest first."""
    weakest = sorted(c.defects, key=lambda d: (_or_top(d.worst_factor), d.right_first))
    causes = [cause for d in c.defects for cause in d.causes]
    full = len(c.defects) <= IN_FULL
    return Picture(
        name="coverage",
        title=f"{TITLE}: questions; found first; x apart" if full else TITLE,
        alt=_alt(c, causes, weakest),
        header=("defect", "cause", "found first", "questions", "hardest to tell from", "factor", "told by"),
        rows=tuple(_row(d, cause) for d in c.defects for cause in d.causes),
        panels=tuple(_bars(d) for d in c.defects) if full else (_grid(weakest[:ROWS], len(weakest)),),
    )


def _alt(c: Coverage, causes: list[CauseCovered], weakest: list[DefectCovered]) -> str:
    asked = sum(x.questions for x in causes) / max(len(causes), 1)
    hard = [x for x in causes if _hard(x)]
    words = (
        f"{_count(len(c.defects), 'defect')}, {_count(len(causes), 'cause')}, {c.plays} truthful plays of each: "
        f"{asked:.1f} questions on average; {_count(len(hard), 'cause')} not told from another by a factor of "
        f"{ENOUGH:.0f}; {_count(sum(x.right_first < MOSTLY for x in causes), 'cause')} found first in fewer than "
        f"{MOSTLY:.0%} of the plays."
    )
    worst = weakest[0].worst_factor if len(c.defects) > 1 else None
    if worst is not None:
        words += f" Weakest: {weakest[0].name}, where two causes come apart by a factor of {worst:.1f}."
    if len(weakest) > ROWS:
        words += f" The {ROWS} weakest of {len(weakest)} defects are drawn; the table has all."
    return words


def _count(n: int, what: str) -> str:
    return f"{n} {what}" if n == 1 else f"{n} {what}s"


def _row(d: DefectCovered, c: CauseCovered) -> tuple[str, ...]:
    factor = "-" if c.factor is None else f"{c.factor:.1f}"
    return (d.name, c.name, f"{c.right_first:.0%}", f"{c.questions:.1f}", c.hardest_from or "-", factor, c.told_by)


def _bars(d: DefectCovered) -> Bars:
    bars = tuple(
        Bar(c.name, 0.0, c.questions, _beside(c), "revised" if _hard(c) or c.right_first < MOSTLY else "recorded")
        for c in d.causes
    )
    return Bars(f"questions: {d.name}", bars)


def _beside(c: CauseCovered) -> str:
    apart = "" if c.factor is None else f"; x{c.factor:.0f}"
    return f"{c.questions:.1f}; {c.right_first:.0%}{apart}"


def _grid(defects: list[DefectCovered], of: int) -> Grid:
    rows = tuple((d.name, tuple(_cell(c) for c in sorted(d.causes, key=_hardness))) for d in defects)
    legend = [
        "One field for each cause, the hardest to tell apart first: questions asked until it is found,",
        "and x the factor by which the best finding tells it from its nearest rival (lighter: more).",
        f"Bold, thick frame: a factor under {ENOUGH:.0f}, or (!) found first in fewer than {MOSTLY:.0%} of the plays.",
    ]
    if of > len(defects):
        legend.append(f"The {len(defects)} weakest of {of} defects; name a stage or a defect to see others.")
    return Grid(rows, tuple(legend))


def _hardness(c: CauseCovered) -> tuple[float, float]:
    return _or_top(c.factor), c.right_first


def _cell(c: CauseCovered) -> Cell:
    missed = c.right_first < MOSTLY
    words = (f"{c.questions:.1f}{'!' if missed else ''}", "" if c.factor is None else f"x{min(c.factor, 999.0):.0f}")
    return Cell(words, min(log10(max(_or_top(c.factor), 1.0)) / log10(TOP), 1.0), missed or _hard(c))


def _hard(c: CauseCovered) -> bool:
    return c.factor is not None and c.factor < ENOUGH - 1e-9


def _or_top(factor: float | None) -> float:
    return TOP if factor is None else factor
