"""A diagnosis as lines for a terminal of any width: words and a bar first, numbers second."""

from __future__ import annotations

from collections.abc import Sequence
from math import exp, log

from diagnose.consult.rank import BAYES_FACTOR
from diagnose.consult.signs import heard
from diagnose.model.diagnosis import CorrectionShown, Diagnosis, Evidence, RankedCause
from diagnose.report.revision import revision_lines
from diagnose.report.screen_lines import Line, Page

SHOWN_CAUSES = 4
SHOWN_FROM = 0.02
SHOWN_CORRECTIONS = 4
SHOWN_EVIDENCE = 4
SHOWN_ASSUMED = 3
WEAKENED = 1 / 3  # evidence that counts less than this share of its word's factor says so
TRY = "What to try, in this order, one change at a time"
TRY_OPEN = "No cause is sure yet: if no more can be found out, try these one at a time"
NEXT_TO_NOTHING = 1.5  # to 1


def bar(probability: float, cells: int = 10) -> str:
    """Return a probability as a bar of plain signs."""
    full = round(probability * cells)
    return "#" * full + "." * (cells - full)


def chance_words(probability: float) -> str:
    """Return a probability in words."""
    for least, words in ((0.85, "very likely"), (0.6, "likely"), (0.3, "possible"), (0.1, "less likely")):
        if probability >= least:
            return words
    return "unlikely"


def diagnosis_lines(d: Diagnosis, width: int = 80, part: str = "") -> list[Line]:
    """Return the whole diagnosis as lines."""
    page = Page(width)
    opening(page, d, part)
    _causes(page, d)
    _numbers(page, d)
    chain = with_upstream(d)
    for earlier in chain[1:]:
        page.head(f"Where it began: {earlier.defect_name}")
        page.say(earlier.verdict_words)
        _causes(page, earlier)
        _numbers(page, earlier)
    last = chain[-1]
    # While no cause stands out, finding out comes before changing anything.
    if is_open(last):
        _more(page, last)
    what_to_do(page, last)
    for later in chain[:-1]:
        _beside(page, later)
    if not is_open(last):
        _more(page, last)
    cautions_and_sources(page, chain)
    return page.lines


def is_open(d: Diagnosis) -> bool:
    """Say whether no cause stands out yet."""
    return d.verdict == "not enough evidence"


def with_upstream(d: Diagnosis) -> list[Diagnosis]:
    """Return a diagnosis and those of the earlier faults that it leads to, in that order."""
    chain = [d]
    while chain[-1].upstream is not None:
        chain.append(chain[-1].upstream)
    return chain


def opening(page: Page, d: Diagnosis, part: str) -> None:
    """Say what is wrong and what the evidence comes to."""
    page.head("What the evidence says")
    page.say(f"{d.defect_name}" + (f" - {part}" if part else ""), style="strong")
    page.say(d.verdict_words)
    if d.learned:
        page.say(d.learned)
    for text in (*d.contradictions, *d.look_alikes):
        page.item(text)


def what_to_do(page: Page, d: Diagnosis, everything: bool = False) -> None:
    """Say what to try, the settings revised, and what the rules say to them."""
    _corrections(page, d)
    revision_lines(page, d, everything)


def cautions_and_sources(page: Page, chain: list[Diagnosis]) -> None:
    """Say what to take care of and where it all comes from, each once."""
    page.head("Take care")
    for text in dict.fromkeys(text for one in chain for text in one.cautions):
        page.item(text)
    page.head("Where this comes from")
    for source in sorted(dict.fromkeys(s for one in chain for s in one.sources)):
        page.item(source)


def _more(page: Page, d: Diagnosis) -> None:
    if d.ask_next:
        page.head("What would tell more")
    for q in d.ask_next[:3]:
        page.item(f"{q.question} ({q.kind}, {q.effort})")
        if q.would_settle:
            page.say(q.would_settle, 4, style="faint")


def _causes(page: Page, d: Diagnosis) -> None:
    page.head("Likely causes")
    likely = [c for c in d.causes if c.probability >= SHOWN_FROM][:SHOWN_CAUSES]
    shown = [*likely, *(c for c in d.causes if c.id in d.leading and c not in likely)]
    for number, cause in enumerate(shown, 1):
        stage = f" [{cause.stage}]" if cause.stage and cause.stage != d.stage else ""
        page.say(f"{number}. {cause.name}{stage}", 0, 3, "strong")
        page.say(f"{bar(cause.probability)} {chance_words(cause.probability)} ({cause.probability:.0%})", 3)
        if cause.here:
            page.say(cause.here.words, 3)
        if number == 1 and cause.how:
            page.say(cause.how, 3)
        _evidence(page, cause)


def _evidence(page: Page, cause: RankedCause) -> None:
    counted = [e for e in cause.evidence if e.counted]
    for e in counted[:SHOWN_EVIDENCE]:
        page.item(evidence_words(e), 3)


def seen_words(e: Evidence) -> str:
    """Return the facts that made a rule apply, as words."""
    return ", ".join(f"{f.name}: {f.value}" + (" (computed)" if f.origin == "computed" else "") for f in e.facts)


def weight_words(e: Evidence) -> str:
    """Return how strongly a rule speaks: its word, and what it counts here where that is less."""
    # Where every answer to a question is a sign of something, each counts less than its word.
    less = e.here is None and e.factor < WEAKENED * exp(heard(log(BAYES_FACTOR[e.weight])))
    here = "here next to nothing" if e.factor < NEXT_TO_NOTHING else f"here {e.factor:.0f} to 1"
    return e.weight + (f", {here}" if less else "")


def evidence_words(e: Evidence) -> str:
    """Return one piece of evidence as a sentence: what was seen, how it speaks, why."""
    here = f" ({e.here.words})" if e.here else ""
    return f"{e.speaks} ({weight_words(e)}): {seen_words(e)}. {e.because}{here}"


def _numbers(page: Page, d: Diagnosis) -> None:
    if not d.derived:
        return
    page.head("Computed from your settings")
    for n in d.derived:
        span = f" (range {n.range})" if n.range else ""
        page.item(f"{n.name}: {n.value}{span}")
        if n.assumed:
            more = len(n.assumed) - SHOWN_ASSUMED
            also = f"; and {more} more (diagnose calc {n.calculator.replace(' ', '-')} lists them)" if more > 0 else ""
            page.say("assumed: " + "; ".join(n.assumed[:SHOWN_ASSUMED]) + also, 4, style="faint")
    for c in d.contributing:
        page.item(f"{c.setting} is {c.value}: {c.side} its window ({c.window}; {c.source}).")


def _beside(page: Page, d: Diagnosis) -> None:
    """Say what to try against the causes that a verdict names beside the earlier fault it leads to."""
    own = [c for c in d.corrections if c.cause in d.leading]
    if own:
        page.head(f"Also to try: {d.defect_name}")
        _tries(page, own)


def _corrections(page: Page, d: Diagnosis) -> None:
    if not d.corrections:
        return
    page.head(TRY_OPEN if is_open(d) else TRY)
    _tries(page, d.corrections)


def tries_shown(corrections: Sequence[CorrectionShown], most: int) -> list[CorrectionShown]:
    """Return the corrections with room on a page, in their order: of every cause its first before a second of any."""
    first = {c.cause: c for c in reversed(corrections)}
    by_need = sorted(corrections, key=lambda c: first[c.cause] is not c)[:most]
    return [c for c in corrections if c in by_need]


def _tries(page: Page, corrections: Sequence[CorrectionShown]) -> None:
    for number, c in enumerate(tries_shown(corrections, SHOWN_CORRECTIONS), 1):
        page.say(f"{number}. {c.do}", 0, 3, "strong")
        for m in c.moves:
            page.item(f"{m.setting}: {m.from_} -> {m.to} ({m.why})", 3)
            if m.steps:
                page.say(m.steps, 5)
        page.say(f"Cost: {c.cost}.", 3)
        page.say(f"It worked if: {c.how_to_tell}", 3)
        if c.worsens:
            page.say(f"Can bring on: {'; '.join(c.worsens)}", 3)
        page.say(f"Source: {c.source}.", 3, style="faint")
