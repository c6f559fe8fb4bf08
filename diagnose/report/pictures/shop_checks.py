"""What held up: corrections that worked, and chances that came true."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from diagnose.report import shop_words as words
from diagnose.report.pictures.panels import Bar, Bars, Curve, Curves
from diagnose.report.pictures.picture import Picture

if TYPE_CHECKING:
    from diagnose.consult.show import Shower
    from diagnose.model.shop_picture import Correction, Tenth

ROWS = 12


def corrections_picture(show: Shower, found: Sequence[Correction]) -> Picture:
    """Return how often each correction worked, with the interval that the counts leave open."""
    bars = tuple(
        Bar(words.label(c.changed), 100 * c.worked_low, 100 * c.worked_high, f"{c.cured + c.better} of {c.tried}")
        for c in found[:ROWS]
    )
    often, best = found[0], max(found, key=lambda c: c.worked_low)
    alt = (
        f"Tried most often: '{often.changed}' It worked {often.cured + often.better} of {often.tried} times. "
        f"Surest to work: '{best.changed}' {words.interval_words(best.worked, best.worked_low, best.worked_high)}."
    )
    rows = tuple(
        (
            c.changed, show.says(show.cause(c.cause)) if c.cause else "not said", str(c.tried), str(c.cured),
            str(c.better), str(c.same), str(c.worse), words.interval_words(c.worked, c.worked_low, c.worked_high),
        )
        for c in found
    )  # fmt: skip
    header = ("what was changed", "for the cause", "tried", "cured", "better", "same", "worse", "worked")
    panel = Bars("worked, in percent: 95 % interval", bars)
    return Picture("corrections", "What was tried, and what worked", alt, header, rows, (panel,))


def calibration_picture(found: Sequence[Tenth], error: float | None) -> Picture:
    """Return how often the first cause was right, against the chance that was said of it."""
    said = tuple(100 * t.mean for t in found)
    curves = (
        Curve("right", said, tuple(100 * t.share for t in found), "solid", "recorded", "*"),
        Curve("interval, up to", said, tuple(100 * t.share_high for t in found), "dotted", "recorded", "'"),
        Curve("interval, from", said, tuple(100 * t.share_low for t in found), "dotted", "recorded", "."),
        Curve("as said", (0.0, 100.0), (0.0, 100.0), "dashed", "revised", "/"),
    )
    told = "; ".join(f"said {t.mean:.0%}, right {t.share:.0%} ({t.right} of {t.said})" for t in found)
    off = f" On average {100 * error:.0f} percent points off." if error is not None else ""
    rows = tuple(
        (
            f"{t.low:.0%} to {t.high:.0%}", f"{t.mean:.0%}", str(t.said), str(t.right),
            words.interval_words(t.share, t.share_low, t.share_high),
        )
        for t in found
    )  # fmt: skip
    header = ("chance said of the first cause", "on average", "cases", "right", "share right")
    panel = Curves("said of the first cause (%)", "right (%), with its 95 % interval", curves)
    return Picture(
        "chances", "Do the chances come true?", f"{told[:1].upper()}{told[1:]}.{off}", header, rows, (panel,)
    )
