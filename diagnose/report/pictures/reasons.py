"""The reasons as pictures: what speaks for and against each cause, and the chain from what was set to what is seen."""

from __future__ import annotations

from math import log10

from diagnose.model.diagnosis import Evidence
from diagnose.model.explanation import Balance, Link
from diagnose.report.pictures.panels import Bar, Bars, Level, Step, Steps
from diagnose.report.pictures.picture import Picture
from diagnose.report.why import LINK_WORDS, percent

MOST = 6  # causes in the picture; the rest have hardly any chance
SHOWN_FROM = 0.005


def balance_picture(balances: tuple[Balance, ...]) -> Picture:
    """Return what speaks for and against the leading causes, as powers of ten of the odds."""
    shown = [b for b in balances if b.speaks_for or b.speaks_against or b.probability >= SHOWN_FROM][:MOST]
    bars, rows, words = [], [], []
    for b in shown:
        plus, minus = weight_of(b.speaks_for), weight_of(b.speaks_against)
        bars.append(Bar(b.name, 0.0, plus, f"{_signs(b.speaks_for)} for"))
        if b.speaks_against:
            bars.append(Bar("against it", -minus, 0.0, f"{_signs(b.speaks_against)} against", "revised"))
        rows.append(
            (b.name, b.often, _signs(b.speaks_for), _factor(plus), _signs(b.speaks_against), _factor(minus),
             percent(b.probability))
        )  # fmt: skip
        words.append(
            f"{b.name}: {_signs(b.speaks_for)} for it, {_signs(b.speaks_against)} against, {percent(b.probability)}."
        )
    return Picture(
        name="balance",
        title="What speaks for and against each cause",
        alt=" ".join(words),
        header=("cause", "met", "signs for", "odds times", "signs against", "odds divided by", "chance now"),
        rows=tuple(rows),
        panels=(Bars("against < powers of ten of odds > for", tuple(bars), (Level(0.0, "no evidence"),)),),
    )


def chain_picture(chain: tuple[Link, ...]) -> Picture:
    """Return the chain as boxes, one leading to the next; settings stand together in the first."""
    boxes: list[Step] = []
    for link in chain:
        stage = f" ({link.stage})" if link.stage and link.kind in ("cause", "defect") else ""
        lead = LINK_WORDS[link.kind] + stage
        if boxes and link.kind in ("setting", "sign") and boxes[-1].lead == lead:
            old = boxes.pop()
            because = " ".join(text for text in (old.because, link.because) if text)
            boxes.append(Step(lead, f"{old.words}; {link.words}", because))
        else:
            boxes.append(Step(lead, link.words, link.because))
    return Picture(
        name="chain",
        title="How it came about",
        alt=" Then: ".join(f"{box.lead}: {box.words}. {box.because}".strip() for box in boxes),
        header=("step", "what", "why"),
        rows=tuple((box.lead, box.words, box.because) for box in boxes),
        panels=(Steps(tuple(boxes)),),
    )


def weight_of(evidence: tuple[Evidence, ...]) -> float:
    """Return by how many powers of ten some evidence moves the odds."""
    return sum(log10(e.factor) for e in evidence)


def _signs(evidence: tuple[Evidence, ...]) -> str:
    return "none" if not evidence else "1 sign" if len(evidence) == 1 else f"{len(evidence)} signs"


def _factor(power: float) -> str:
    return "1" if not power else f"{10.0**power:,.0f}" if power < 6 else "over a million"
