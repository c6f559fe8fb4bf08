"""Where every statement comes from: none without a source, none with an unknown one, no published work for nothing."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from diagnose.model.knowledge import Defect
from diagnose.model.source import parse_source
from diagnose.rulebase.calculating import Calculating
from diagnose.rulebase.cursor import suggest
from diagnose.rulebase.issue import Issue
from diagnose.rulebase.load import RuleBase


class Cited(NamedTuple):
    """A statement's source, and where the statement stands."""

    file: str
    line: int
    id: str
    text: str


def sources(base: RuleBase, defects: list[Defect], calculators: tuple[Calculating, ...]) -> Iterator[Issue]:
    """Yield what is wrong with sources."""
    cited = {parse.key for c in calculators for text in c.sources if (parse := parse_source(text))}
    named = ""
    for where in every_source(base, defects):
        file, line, ident, text = where
        ref = parse_source(text)
        if ref is None:
            yield Issue(file, line, ident, f"source '{text}' has no known form or is missing.", "See DEVELOPERS.md.")
            continue
        cited.add(ref.key)
        named += f" {ref.place}" if ref.kind == "computed" else ""
        if ref.key and ref.key not in base.sources:
            hint = suggest(ref.key, base.sources)
            yield Issue(file, line, ident, f"source '{ref.key}' is not in any _sources.yaml.", hint)
        elif ref.kind == "read" and base.sources[ref.key].read == "no":
            yield Issue(file, line, ident, f"'{ref.key}' was not read.", f"Write `from memory of {ref.key}`.")
    for key in base.sources:
        if key not in cited and key not in named:
            yield Issue(*base.place("source", key), key, "no statement rests on it.", "Cite it or remove it.")


def every_source(base: RuleBase, defects: list[Defect]) -> Iterator[Cited]:
    """Yield the source of every rule, correction, caution, window, limit, assumption, bench test, word and value."""
    for d in defects:
        for r in d.rules():
            yield Cited(d.file, r.line, r.cause, r.source)
    for c in base.causes.values():
        for k in c.corrections:
            yield Cited(*base.place("cause", c.id), c.id, k.source)
    for h in base.hazards.values():
        yield Cited(*base.place("hazard", h.name), h.name, h.source)
    yield from _of_settings(base)
    for o in base.words.observations.values():
        if o.bench_test:
            yield Cited(*base.place("fact", o.name), o.name, o.bench_test.source)
    for w in base.glossary:
        yield Cited(*base.place("glossary word", w.name), w.name, w.source)
    for slot in base.words.slots.values():
        for m in slot.materials.values():
            for p in m.properties.values():
                yield Cited(*base.place("material", f"{slot.name} {m.name}"), m.name, p.source)


def _of_settings(base: RuleBase) -> Iterator[Cited]:
    for s in base.words.settings.values():
        at = (*base.place("fact", s.name), s.name)
        for limits in (*s.windows, *([s.safe] if s.safe else [])):
            yield Cited(*at, limits.source)
        if s.assume:
            yield Cited(*at, s.assume.source)
