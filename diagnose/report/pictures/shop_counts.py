"""How many: faults and causes by frequency, months, what the scrap cost."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from diagnose.report import shop_words as words
from diagnose.report.pictures.panels import Bar, Bars
from diagnose.report.pictures.picture import Picture

if TYPE_CHECKING:
    from diagnose.consult.show import Shower
    from diagnose.model.shop_picture import Cost, Counted, Month

ROWS, MONTHS = 12, 24
"""Bars in a picture at most; the table has all."""


def defects_picture(show: Shower, found: Sequence[Counted]) -> Picture:
    """Return how often each defect came, the most frequent first."""
    return _pareto("defects", "Which faults", "fault", found, [words.defect_words(show.base, d.id) for d in found])


def causes_picture(show: Shower, found: Sequence[Counted]) -> Picture:
    """Return how often each cause was confirmed, the most frequent first."""
    return _pareto("causes", "What they turned out to be", "cause", found, [show.says(show.cause(c.id)) for c in found])


def _pareto(name: str, title: str, what: str, found: Sequence[Counted], names: Sequence[str]) -> Picture:
    rows = tuple(
        (n, words.count_words(c.cases), f"{c.share:.0%}", f"{c.so_far:.0%}") for n, c in zip(names, found, strict=True)
    )
    bars = tuple(
        Bar(words.label(n), 0.0, c.cases, f"{words.count_words(c.cases)} ({c.share:.0%}; {c.so_far:.0%} so far)")
        for n, c in zip(names[:ROWS], found, strict=False)
    )
    few = next((i for i, c in enumerate(found, 1) if c.so_far >= 0.8), len(found))
    leading = "; ".join(f"{n}: {c.share:.0%}" for n, c in zip(names[:3], found, strict=False))
    alt = f"{leading[:1].upper()}{leading[1:]}. {few} of {len(found)} make up four fifths of all."
    if len(found) > ROWS:
        alt += f" The first {ROWS} are drawn; the table has all {len(found)}."
    return Picture(name, title, alt, (what, "cases", "share", "so far"), rows, (Bars("cases", bars),))


def months_picture(found: Sequence[Month]) -> Picture:
    """Return how many cases each month had."""
    drawn = found[-MONTHS:]
    bars = tuple(Bar(m.month, 0.0, float(m.cases), f"{m.cases}, {m.confirmed} confirmed") for m in drawn)
    most, least = max(found, key=lambda m: m.cases), min(found, key=lambda m: m.cases)
    mean = sum(m.cases for m in found) / len(found)
    alt = (
        f"From {found[0].month} to {found[-1].month}, {mean:.0f} cases a month on average; most in {most.month} "
        f"({most.cases}), fewest in {least.month} ({least.cases})."
    )
    rows = tuple((m.month, str(m.cases), str(m.confirmed)) for m in found)
    return Picture("months", "Month by month", alt, ("month", "cases", "confirmed"), rows, (Bars("cases", bars),))


def costs_picture(show: Shower, found: Sequence[Cost]) -> Picture:
    """Return what the scrap of each defect cost, drawn in the currency that most of it is in."""
    sums: dict[str, int] = {}
    for cost in found:
        sums[cost.currency] = sums.get(cost.currency, 0) + cost.hundredths
    main = max(sums, key=lambda currency: sums[currency])
    names = {c.defect: words.defect_words(show.base, c.defect) for c in found}
    drawn = [c for c in found if c.currency == main]
    bars = tuple(
        Bar(words.label(names[c.defect]), 0.0, c.hundredths / 100, f"{words.amount(c.hundredths)} ({c.cases} cases)")
        for c in drawn[:ROWS]
    )
    total = "; ".join(f"{words.amount(s)} {currency}".strip() for currency, s in sums.items())
    dearest = f"{words.amount(drawn[0].hundredths)} {main}".strip()
    alt = f"In all {total}. Most of it is {names[drawn[0].defect]}: {dearest}."
    rows = tuple((names[c.defect], str(c.cases), words.amount(c.hundredths), c.currency) for c in found)
    header = ("fault", "cases that say it", "cost", "currency")
    return Picture("cost", "What the scrap cost", alt, header, rows, (Bars(main or "cost", bars),))
