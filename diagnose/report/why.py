"""Why a diagnosis says what it says, as lines: chain, balance of evidence, numbers, what would settle it."""

from __future__ import annotations

from diagnose.model.diagnosis import Diagnosis, Evidence
from diagnose.model.explanation import (
    Balance,
    ExplainedDiagnosis,
    Explanation,
    Input,
    Link,
    Settling,
    Unfolded,
    Unknown,
    Way,
    WhyNot,
)
from diagnose.model.record import Record
from diagnose.model.what_if import WhatIf
from diagnose.report.compare import comparison_lines
from diagnose.report.screen_lines import Line, Page
from diagnose.report.text import (
    bar,
    cautions_and_sources,
    chance_words,
    diagnosis_lines,
    evidence_words,
    opening,
    what_to_do,
    with_upstream,
)

LINK_WORDS = {
    "open": "First",
    "setting": "Set",
    "computed": "That makes",
    "cause": "So",
    "sign": "Seen",
    "defect": "And that is",
}
ORIGINS = {
    "told": "told", "computed": "computed before", "material": "of the material", "assumed": "assumed, nobody told",
}  # fmt: skip
SHOWN_FROM = 0.005  # a cause less likely than this in every outcome is left out of a table


def explained_lines(d: ExplainedDiagnosis, width: int = 80, part: str = "") -> list[Line]:
    """Return a diagnosis with everything that stands behind it."""
    page = Page(width)
    opening(page, d, part)
    _chain(page, d.explanation.chain)
    now: Explanation | None = d.explanation
    while now is not None:
        if now is not d.explanation:
            page.head(f"Where it began: {now.defect_name}")
        _inquiry(page, now)
        now = now.upstream
    what_to_do(page, with_upstream(d)[-1], everything=True)
    cautions_and_sources(page, with_upstream(d))
    return page.lines


def reasons_lines(record: Record, width: int = 80, part: str = "") -> list[Line]:
    """Return whichever record of reasons this is, as lines."""
    if isinstance(record, ExplainedDiagnosis):
        return explained_lines(record, width, part)
    if isinstance(record, Diagnosis):
        return diagnosis_lines(record, width, part)
    if isinstance(record, Balance):
        return balance_lines(record, width)
    if isinstance(record, WhyNot):
        return why_not_lines(record, width)
    if isinstance(record, Unfolded):
        return unfolded_lines(record, width)
    if isinstance(record, WhatIf):
        return comparison_lines(record, width)
    raise TypeError(f"nothing here shows a {type(record).__name__}")


def balance_lines(b: Balance, width: int = 80) -> list[Line]:
    """Return the evidence on one cause as lines."""
    page = Page(width)
    _balance(page, b, "")
    return page.lines


def why_not_lines(w: WhyNot, width: int = 80) -> list[Line]:
    """Return why a cause is not first as lines."""
    page = Page(width)
    page.say(w.name, style="strong")
    page.say(f"{bar(w.probability)} {chance_words(w.probability)} ({percent(w.probability)})")
    if w.cause == w.first:
        page.say("It is first.")
        return page.lines
    page.say(f"First is: {w.first_name}.")
    _listed(page, "Against it", w.speaks_against, 0)
    _why_not(page, w, 0)
    return page.lines


def unfolded_lines(n: Unfolded, width: int = 80) -> list[Line]:
    """Return a computed number opened up as lines."""
    page = Page(width)
    _unfolded(page, n)
    return page.lines


def percent(probability: float) -> str:
    """Return a probability as a percentage that never claims to be nothing or all."""
    if 0.0 < probability < 0.005:
        return "under 1%"
    return "over 99%" if 0.995 <= probability < 1.0 else f"{probability:.0%}"


def _chain(page: Page, chain: tuple[Link, ...]) -> None:
    if not chain:
        return
    page.head("How it came about")
    before = ""
    for link in chain:
        stage = f" [{link.stage}]" if link.stage and link.stage != before else ""
        before = link.stage or before
        page.say(f"{LINK_WORDS[link.kind]}: {link.words}.{stage}", 0, 2, "strong")
        if link.because:
            page.say(link.because, 2)


def _inquiry(page: Page, e: Explanation) -> None:
    page.head("The evidence on every cause")
    for number, b in enumerate(e.balances, 1):
        _balance(page, b, f"{number}. ")
        not_first = next((w for w in e.why_not if w.cause == b.cause), None)
        if not_first:
            _why_not(page, not_first, 3)
    for place, s in enumerate(e.settling):
        page.head("The bench test that would tell most" if place else "What would settle it best")
        _settling(page, s)
    if e.numbers:
        page.head("The numbers opened up")
        for n in e.numbers:
            _unfolded(page, n)


def _balance(page: Page, b: Balance, number: str) -> None:
    indent = 3 if number else 0
    page.say(f"{number}{b.name}", 0, 3, "strong")
    page.say(f"{bar(b.probability)} {chance_words(b.probability)} ({percent(b.probability)})", indent)
    page.say(b.here or f"Before any evidence: {b.often}.", indent)
    if b.how:
        page.say(b.how, indent)
    _listed(page, "For it", b.speaks_for, indent)
    _listed(page, "Against it", b.speaks_against, indent)
    _listed(page, "Says the same as something above, so not counted", b.says_the_same, indent)
    if b.would_matter:
        page.say("Not known, and would matter:", indent)
    for unknown in b.would_matter:
        page.item(unknown_words(unknown), indent)


def _listed(page: Page, title: str, evidence: tuple[Evidence, ...], indent: int) -> None:
    if not evidence:
        return
    page.say(f"{title}:", indent)
    for e in evidence:
        page.item(f"{evidence_words(e).removeprefix(e.speaks + ' ')} [{e.source}]", indent)


def unknown_words(u: Unknown) -> str:
    """Return something not known, and where each answer would put the cause, as one line."""
    answers: dict[str, list[str]] = {}
    for outcome in u.outcomes:
        answers.setdefault(percent(outcome.probability), []).extend(outcome.answers)
    outcomes = "; ".join(f"{' or '.join(told)} -> {then}" for then, told in answers.items())
    return f"{u.name} ({u.kind}, {u.effort}): {outcomes}"


def _why_not(page: Page, w: WhyNot, indent: int) -> None:
    if w.missing:
        page.say("Looked for and not there:", indent)
    for text in w.missing:
        page.item(text, indent)
    if not w.ways:
        page.say("No change of one or two facts would make it first.", indent)
        return
    page.say("It would be first:", indent)
    for way in w.ways:
        page.item(way_words(way), indent)


def way_words(way: Way) -> str:
    """Return what would have to be different as one line."""
    changes = " and ".join(f"{c.name} were {c.then} ({now_words(c.now)})" for c in way.changes)
    return f"if {changes}: then {percent(way.probability)}"


def now_words(now: str) -> str:
    """Return what a fact is now, for a remark in brackets."""
    return now if now == "not known" else f"it is {now}"


def _settling(page: Page, s: Settling) -> None:
    page.say(f"{s.question} ({s.name}; {s.kind}, {s.effort})", style="strong")
    for step in s.steps:
        page.item(step)
    if s.caution:
        page.say(f"Careful: {s.caution}", 2)
    for answers, chance, n in read_alike(s):
        page.say(f"{' or '.join(answers)} ({percent(chance)} of the time):", 2, 4)
        for row in sorted(s.table, key=lambda row: -row.then[n]):
            if max(row.now, row.then[n]) >= SHOWN_FROM:
                page.item(f"{row.name}: {percent(row.now)} -> {percent(row.then[n])}", 4)


def read_alike(s: Settling) -> list[tuple[tuple[str, ...], float, int]]:
    """Return the outcomes with their chance and place in the table; those whose shown chances are the same as one."""
    found: dict[tuple[str, ...], tuple[tuple[str, ...], float, int]] = {}
    for n, (answers, chance) in enumerate(zip(s.outcomes, s.chances, strict=True)):
        shown = tuple(percent(row.then[n]) for row in s.table)
        before, so_far, place = found.get(shown, ((), 0.0, n))
        found[shown] = ((*before, *answers), so_far + chance, place)
    return list(found.values())


def _unfolded(page: Page, n: Unfolded) -> None:
    span = f" (range {n.range})" if n.range else ""
    page.say(f"{n.name}: {n.value}{span}", 0, 3, "strong")
    if n.says:
        page.say(n.says, 3)
    for words, values in zip(n.formula, n.with_values, strict=True):
        page.say(words, 3, 5)
        if values != words:
            page.say(values, 5, 7, "faint")
    for origin, words in ORIGINS.items():
        used = [input_words(i) for i in n.inputs if i.origin == origin]
        if used:
            page.say(f"{words}: {'; '.join(used)}", 3, 5)
    page.say(f"Source: {'; '.join(n.sources)}. Calculator: {n.calculator}.", 3, 5, "faint")


def input_words(i: Input) -> str:
    """Return what a calculation used as words: value, bounds, source."""
    more = ", ".join(t for t in (i.bounds, i.source) if t and not (i.origin == "computed" and t == i.source))
    return f"{i.name} {i.value}" + (f" ({more})" if more else "")
