"""Two cases side by side, and a bad run against a good one, as lines: what differs stands first."""

from __future__ import annotations

from diagnose.model.comparison import CausePair, FactPair, GoodRun, SideBySide
from diagnose.model.diagnosis import Evidence
from diagnose.report.screen_lines import Line, Page
from diagnose.report.text import bar, evidence_words
from diagnose.report.why import percent

NARROW = 60  # below this a table becomes stacked lines
SHOWN_FROM = 0.02
TITLES = {"setting": "settings", "material": "materials", "computed": "computed", "observation": "seen"}
NOT_TOLD = "not told"


def side_by_side_lines(s: SideBySide, width: int = 80) -> list[Line]:
    """Return two cases side by side."""
    page = Page(width)
    names = (s.parts[0] or "first case", s.parts[1] or "second case")
    page.head("Side by side")
    for letter, name, defect, verdict in zip("AB", names, s.defects, s.verdicts, strict=True):
        page.say(f"{letter}: {name} - {defect}", 0, 3, "strong")
        page.say(verdict, 3)
    _facts(page, "What differs", s.differ, ("A", "B"), "Nothing that was told in both.")
    _facts(page, "Told in only one", s.only_in_one, ("A", "B"))
    page.head("Causes")
    for pair in s.causes:
        if max(pair.one or 0.0, pair.other or 0.0) >= SHOWN_FROM:
            _cause(page, pair)
    _facts(page, "The same in both", s.same, ("A", "B"))
    return page.lines


def good_run_lines(g: GoodRun, width: int = 80) -> list[Line]:
    """Return what a good run says about a bad one."""
    page = Page(width)
    page.head("Against the good run" + (f": {g.part}" if g.part else ""))
    heads = ("bad", "good")
    _facts(page, "What differs", g.differ, heads, "Nothing that was told in both: look for what was not written down.")
    _facts(page, "Told in only one", g.only_in_one, heads)
    page.head("What the good run speaks against")
    if not g.against:
        page.say(
            "No cause: none is accused by settings that were all the same. A setting that differs, or that was not "
            "noted in both, clears nothing."
        )
    for a in g.against:
        page.item(f"{a.name}: accused by what was the same in both ({', '.join(a.same)}).")
    if g.against:
        page.say("Each is counted once, as a positive sign against; nothing else in the ranking is changed by it.", 2)
        page.say(f"Source: {g.source}.", 2, style="faint")
    _facts(page, "The same in both", g.same, heads)
    return page.lines


def _facts(page: Page, title: str, facts: tuple[FactPair, ...], heads: tuple[str, str], none: str = "") -> None:
    if not facts and not none:
        return
    page.head(title)
    if not facts:
        page.say(none)
        return
    if page.width < NARROW:
        for f in facts:
            page.say(f.name, 0, 2, "strong")
            page.say(f"{heads[0]}: {f.one or NOT_TOLD}", 2, 4)
            page.say(f"{heads[1]}: {f.other or NOT_TOLD}", 2, 4)
        return
    rows = [(f.name, f.one or NOT_TOLD, f.other or NOT_TOLD) for f in facts]
    page.table((TITLES[facts[0].kind] if len({f.kind for f in facts}) == 1 else "", *heads), rows)


def _cause(page: Page, pair: CausePair) -> None:
    page.say(pair.name, 0, 3, "strong")
    for letter, share in (("A", pair.one), ("B", pair.other)):
        words = f"{bar(share)} {percent(share)}" if share is not None else "is no cause of that fault"
        page.say(f"{letter}: {words}", 3)
    for letter, evidence in (("A", pair.only_one), ("B", pair.only_other)):
        for e in evidence:
            page.item(f"only in {letter}: {_evidence(e)}", 3)


def _evidence(e: Evidence) -> str:
    return evidence_words(e)
