"""Words that nothing uses, words that nothing defines, and questions that are never asked."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import get_args

from diagnose.model.condition import facts_of
from diagnose.model.knowledge import Defect
from diagnose.model.verdict import Verdict
from diagnose.rulebase.calculating import Calculating
from diagnose.rulebase.cursor import suggest
from diagnose.rulebase.issue import Issue
from diagnose.rulebase.load import RuleBase
from diagnose.rulebase.naming import folded, other_names


def unused_and_undefined(
    base: RuleBase, defects: list[Defect], calculators: tuple[Calculating, ...]
) -> Iterator[Issue]:
    """Yield every word that is defined and not used, or used and not defined."""
    computed = {n for c in calculators for n in (*c.needs, *c.takes)}
    asked = {f for d in defects for r in d.rules() for f in facts_of(r.when)} | computed
    for name in base.words.observations:
        if name not in asked:
            yield Issue(*base.place("fact", name), name, "no rule looks at it: it is never asked.", "Use or remove it.")
    used = asked | _looked_at(base, defects) | _moved(base)
    for name in base.words.settings:
        if name not in used:
            what = "no rule, calculator or correction looks at it."
            yield Issue(*base.place("fact", name), name, what, "Use or remove it.")
    given = {n for c in calculators for n in c.gives}
    for name in base.words.derived:
        if calculators and name not in given:
            yield Issue(*base.place("fact", name), name, "no calculator finds it.", suggest(name, given))
    yield from _hazards(base)
    yield from _names(base)
    known = dict.fromkeys((*base.words.settings, *base.words.observations, *base.words.slots))
    for d in defects:
        yield from _examples(known, d)


def _names(base: RuleBase) -> Iterator[Issue]:
    """Yield other names that are written twice, or that never reach what they stand at, being another's own name."""
    words = base.words
    own = {folded(n): (n, s.stage) for table in (words.settings, words.observations) for n, s in table.items()}
    own.update({folded(n): (n, "") for n in words.slots})
    for name, said in other_names(words):
        stage = own[folded(name)][1]
        places = base.place("material" if name in words.slots else "fact", name)
        for word in {w for w in said if [folded(s) for s in said].count(folded(w)) > 1}:
            yield Issue(*places, name, f"has the other name '{word}' twice.", "Keep one.")
        for word in said:
            other, where = own.get(folded(word), ("", ""))
            if other == name or (other and stage in ("", where)):
                whose = "its own name" if other == name else f"the name of '{other}'"
                yield Issue(*places, name, f"its other name '{word}' is {whose}.", "Remove it.")
    for slot in words.slots.values():
        materials = {folded(m): m for m in slot.materials}
        for material in slot.materials.values():
            for word in material.words:
                if (other := materials.get(folded(word), "")) not in ("", material.name):
                    what = f"its other name '{word}' is the name of '{other}'."
                    yield Issue(*base.place("material", material.name), material.name, what, "Remove it.")


def _looked_at(base: RuleBase, defects: list[Defect]) -> set[str]:
    """Return what is looked at outside the rules: by look-alikes, cautions, corrections, windows."""
    conditions = [a.when for d in defects for a in d.mistaken_for]
    conditions += [h.when for h in base.hazards.values()]
    conditions += [k.when for c in base.causes.values() for k in c.corrections]
    found = {f for when in conditions if when is not None for f in facts_of(when)}
    return found | {f for s in base.words.settings.values() for w in s.windows for f in w.holds_for}


def _moved(base: RuleBase) -> set[str]:
    moves = [m for c in base.causes.values() for k in c.corrections for m in k.moves]
    return {name for m in moves for name in (m.setting, m.fact, *(b.fact for b in (m.floor, m.ceiling) if b)) if name}


def _hazards(base: RuleBase) -> Iterator[Issue]:
    named = {name for c in base.causes.values() for k in c.corrections for name in k.cautions}
    for h in base.hazards.values():
        if not (h.always or h.when or h.words or h.name in named):
            what = "it is never shown: no condition, no words, no correction names it."
            yield Issue(*base.place("hazard", h.name), h.name, what, "Give it `always`, `when` or `words`.")


def _examples(known: Mapping[str, object], d: Defect) -> Iterator[Issue]:
    causes = [c.cause for c in d.candidates]
    for e in d.examples:
        for fact in e.facts:
            if fact not in known:
                yield Issue(d.file, 1, e.name, f"the example tells '{fact}', which is unknown.", suggest(fact, known))
        if e.expect.first and e.expect.first not in (*causes, "unlisted"):
            what = f"the example expects '{e.expect.first}', which is no cause of this defect."
            yield Issue(d.file, 1, e.name, what, suggest(e.expect.first, causes))
        if e.expect.verdict and e.expect.verdict not in get_args(Verdict):
            what = f"the example expects the verdict '{e.expect.verdict}'."
            yield Issue(d.file, 1, e.name, what, f"There are: {', '.join(get_args(Verdict))}.")
