"""What can be known about a part, one page each: a look, a bench test, a setting, a material, a caution, a source."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from diagnose.consult.show import Shower, effort
from diagnose.model.condition import facts_of
from diagnose.report.screen_lines import Page

if TYPE_CHECKING:
    from diagnose.model.knowledge import Hazard, Source
    from diagnose.model.vocabulary import Derived, Limits, Material, Observation, Setting, Slot
    from diagnose.rulebase.load import RuleBase

UNIT_WORDS = {"us": "US units", "metric": "metric units"}


def fact_page(page: Page, base: RuleBase, name: str, show: Shower) -> bool:
    """Add the page of a fact, a material, a caution or a published work; say whether there is one of that name."""
    words = base.words
    if name in words.observations:
        _observation(page, words.observations[name])
        _looked_at(page, base, name)
    elif name in words.settings:
        _setting(page, words.settings[name], show)
        _looked_at(page, base, name)
    elif name in words.derived:
        _derived(page, words.derived[name])
        _looked_at(page, base, name)
    elif name in words.slots:
        _slot(page, words.slots[name])
        _looked_at(page, base, name, f"{name} kind")
    elif name in base.hazards:
        _hazard(page, base.hazards[name], show)
    elif name in base.sources:
        _source(page, base.sources[name])
    else:
        return _material_named(page, base, name, show)
    return True


def _looked_at(page: Page, base: RuleBase, *facts: str) -> None:
    """Add which defects have rules that look at a fact."""
    found = []
    for defect in base.all_defects():
        count = sum(not set(facts).isdisjoint(facts_of(rule.when)) for rule in defect.rules())
        if count:
            found.append(f"{defect.id} ({count} {'rule' if count == 1 else 'rules'})")
    page.head("Looked at by")
    page.say(", ".join(found) if found else "no rule itself.")


def _observation(page: Page, o: Observation) -> None:
    page.head(o.name)
    page.say(f"{'Bench test' if o.bench_test else 'Something to look at'} ({o.stage}); takes {effort(o.effort)}.")
    page.say(o.ask, style="strong")
    if o.why:
        page.say(o.why)
    for answer, looks in o.answers.items():
        often = f" (met in {o.usual[answer]:.0%})" if answer in o.usual else ""
        page.item(answer + (f": {looks}" if looks != answer else "") + often)
    _also(page, o.words)
    if test := o.bench_test:
        page.head("How to do it")
        for n, step in enumerate(test.do, 1):
            page.say(f"{n}. {step}", 0, 3)
        page.say(f"It costs: {test.costs}")
        if test.caution:
            page.say(f"Take care: {test.caution}", style="strong")
        page.say(f"Source: {test.source}", style="faint")


def _setting(page: Page, s: Setting, show: Shower) -> None:
    page.head(s.name)
    page.say(f"Setting ({s.stage}); a {s.dimension}, here in {UNIT_WORDS[show.system]}.")
    page.say(s.says)
    page.say(s.ask, style="strong")
    if s.many:
        page.say("Several readings can be told at once.")
    _also(page, s.words)
    plausible = f"{show.value(s.name, s.plausible_low)} to {show.value(s.name, s.plausible_high)}"
    page.say(f"Plausible: {plausible}; outside of it one is asked back.")
    if s.usual_step is not None:
        page.say(f"Usual step: {show.change(s.name, s.usual_step)}")
    if s.safe:
        _limits(page, "Never advised outside", s.safe, s.safe.holds_for, s.name, show)
    for window in s.windows:
        _limits(page, "Recommended", window, window.holds_for, s.name, show)
    if a := s.assume:
        span = f", between {show.value(s.name, a.low)} and {show.value(s.name, a.high)}" if a.low < a.high else ""
        page.item(f"If not told, calculators take {show.value(s.name, a.value)}{span}. [{a.source}]")


def _limits(
    page: Page, lead: str, limits: Limits, holds_for: Mapping[str, tuple[str, ...]], name: str, show: Shower
) -> None:
    ends = [f"at least {show.value(name, limits.low)}"] if limits.low is not None else []
    ends += [f"at most {show.value(name, limits.high)}"] if limits.high is not None else []
    only = "".join(f", for {fact} {' or '.join(answers)}" for fact, answers in holds_for.items())
    page.item(f"{lead}: {' and '.join(ends)}{only}. {limits.because} [{limits.source}]".replace("  ", " "))


def _derived(page: Page, d: Derived) -> None:
    page.head(d.name)
    page.say(f"Computed ({d.stage})" + ("." if d.dimension == "answer" else f"; a {d.dimension}."))
    page.say(d.says)
    for answer in d.answers:
        page.item(answer)


def _slot(page: Page, slot: Slot) -> None:
    page.head(slot.name)
    page.say(f"Material; {len(slot.materials)} are known.")
    page.say(slot.ask, style="strong")
    for kind in slot.kinds():
        page.item(f"{kind}: {', '.join(m.name for m in slot.materials.values() if m.kind == kind)}")
    page.head("What is known of them")
    for prop in slot.properties.values():
        page.item(f"{prop.name}: {prop.says}")


def _material_named(page: Page, base: RuleBase, name: str, show: Shower) -> bool:
    for slot in base.words.slots.values():
        if name in slot.materials:
            _material(page, slot, slot.materials[name], show)
            return True
    return False


def _material(page: Page, slot: Slot, m: Material, show: Shower) -> None:
    page.head(m.name)
    page.say(f"{slot.name}, kind: {m.kind}")
    if m.says:
        page.say(m.says)
    _also(page, m.words)
    for name, p in m.properties.items():
        fact = f"{slot.name} {name}"
        span = f" ({show.value(fact, p.low)} to {show.value(fact, p.high)})" if p.low < p.high else ""
        page.item(f"{name}: {show.value(fact, p.value)}{span} [{p.source}]")


def _hazard(page: Page, h: Hazard, show: Shower) -> None:
    from diagnose.consult.condition_words import in_words

    page.head(h.name)
    page.say(f"Caution ({h.stage})")
    page.say(h.says, style="strong")
    if h.always:
        page.say("Shown with everything of this stage.")
    if h.when is not None:
        page.say(f"Shown when {in_words(h.when, show)}.")
    if h.words:
        page.say("Shown when somebody writes: " + "; ".join(h.words))
    page.say(f"Source: {h.source}", style="faint")


def _source(page: Page, s: Source) -> None:
    page.head(s.key)
    page.say(f"Published work: {s.citation()}")
    page.say("Not read: cited from memory only." if s.read == "no" else f"Read: {s.read}.")


def _also(page: Page, words: tuple[str, ...]) -> None:
    if words:
        page.say("Also called: " + ", ".join(words))
