"""A marked exercise as lines: right or not, what was decisive, what added nothing, the number, the points."""

from __future__ import annotations

from diagnose.model.exercise import Marking
from diagnose.report.screen_lines import Line, Page
from diagnose.teach.bench import spent


def marking_lines(m: Marking, width: int, name_of: dict[str, str] | None = None) -> list[Line]:
    """Return the feedback on an attempt."""
    page = Page(width)
    names = name_of or {}
    page.head(f"{m.score} of 100 points")
    if m.right:
        page.say(f"Right: {m.hidden_name}.", style="strong")
    else:
        page.say(f"It was: {m.hidden_name}. You named: {names.get(m.named, m.named)}.", style="strong")
    page.say(_borne_out(m))
    page.say("Points: " + ", ".join(f"{p.what} {p.got:.0f} of {p.most:.0f}" for p in m.points) + ".")
    page.head("How it comes about, and what to do")
    for text in filter(None, (m.how, m.mend, *(f"Careful: {c}" for c in m.cautions))):
        page.say(text)
    page.head("What you asked for")
    for a in m.asked:
        effect = "decisive" if a.name in m.decisive else "added nothing" if a.name in m.redundant else _moved(a.bits)
        page.item(f"{a.name}: {a.answer} ({spent(a.minutes)}) - {effect}")
    if not m.asked:
        page.say("Nothing.")
    if m.missed:
        page.head("Worth asking for")
        for a in m.missed:
            page.item(f"{a.name}: {a.answer} ({spent(a.minutes)})")
    page.head("Time and material")
    page.say(f"You spent {spent(m.minutes)}; the program's own questions take {spent(m.minutes_enough)} here.")
    if m.numbers:
        page.head("The number to set")
        for n in m.numbers:
            page.item(
                f"{n.setting}: you {n.proposed or 'did not change it'}, computed {n.computed}" + _off(n.steps_off)
            )
    if m.ending:
        page.head("What became of it")
        for text in m.ending:
            page.say(text)
    return page.lines


def _borne_out(m: Marking) -> str:
    share = f"On what you knew, the evidence gave it {m.probability:.0%}."
    if m.right and m.probability < 0.5:
        return share + " A lucky guess more than a finding."
    if not m.right and m.followed_the_evidence:
        return share + " You followed the evidence you had; it was not enough."
    return share


def _moved(bits: float) -> str:
    return "helped" if bits > 0 else "pointed elsewhere"


def _off(steps: float) -> str:
    if steps >= 1e5:
        return ""
    return " - right" if steps <= 1.0 else f" - {steps:.1f} usual steps off"
