"""Checks over the whole rules base: every fault at once, each with file, line, id, what and remedy."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from typing import Protocol

from diagnose.model.condition import facts_of
from diagnose.model.knowledge import Defect
from diagnose.model.source import parse_source
from diagnose.rulebase.cursor import suggest
from diagnose.rulebase.issue import Issue
from diagnose.rulebase.knowledge import slug
from diagnose.rulebase.load import RuleBase


class Calculating(Protocol):
    """What the checker needs to know of a calculator."""

    @property
    def name(self) -> str:
        """Return what it is called."""
        ...

    @property
    def needs(self) -> tuple[str, ...]:
        """Return the facts it cannot do without."""
        ...

    @property
    def takes(self) -> tuple[str, ...]:
        """Return the facts it uses when known."""
        ...

    @property
    def gives(self) -> tuple[str, ...]:
        """Return the facts it finds."""
        ...

    @property
    def sources(self) -> tuple[str, ...]:
        """Return where its formulas come from."""
        ...


def check(base: RuleBase, calculators: Iterable[Calculating] = ()) -> list[Issue]:
    """Return every issue of the rules base, sorted by file and line."""
    defects = base.all_defects()
    calculators = tuple(calculators)
    found = list(base.issues)
    for defect in defects:
        found += _defect(base, defect)
    found += _weights(defects)
    found += _causes(base, defects)
    found += _unused(base, defects, calculators)
    found += _sources(base, defects)
    found += _hand_over_cycles(base, defects)
    found += _calculators(base, calculators)
    return sorted(set(found), key=lambda i: (i.file, i.line, i.what))


def _defect(base: RuleBase, d: Defect) -> Iterator[Issue]:
    if len(d.words) < 4:
        yield Issue(d.file, 1, d.id, f"has {len(d.words)} words that people type; 4 are needed.", "Add to `words:`.")
    for alike in d.mistaken_for:
        if alike.defect not in base.defect_files and alike.when is not None:
            hint = suggest(alike.defect, base.defect_files)
            yield Issue(d.file, 1, d.id, f"is mistaken for '{alike.defect}', which is no defect.", hint)
    for c in d.candidates:
        known = base.defect_files if c.hand_over else base.causes
        if c.cause not in known:
            line = c.rules[0].line if c.rules else 1
            what = "defect to hand over to" if c.hand_over else "cause"
            yield Issue(d.file, line, d.id, f"'{c.cause}' is no {what}.", suggest(c.cause, known))
        if not any(r.speaks == "for" for r in c.rules):
            yield Issue(
                d.file, 1, d.id, f"nothing speaks for '{c.cause}': it can never come out.", "Add a rule for it."
            )
    if not d.examples:
        yield Issue(d.file, 1, d.id, "has no worked example.", "Add `examples:`.")
    names = Counter(c.cause for c in d.candidates)
    for cause, n in names.items():
        if n > 1:
            yield Issue(d.file, 1, d.id, f"lists '{cause}' {n} times.", "Put its rules together.")


def _weights(defects: list[Defect]) -> Iterator[Issue]:
    """One pair of cause and condition has one weight, wherever it stands, unless the rule says why it differs."""
    first: dict[tuple[str, str], tuple[str, str, str]] = {}
    for d in defects:
        for r in d.rules():
            key, value = (r.cause, slug(r.when)), (r.speaks, r.weight)
            if key in first and first[key][:2] != value and not r.differs:
                other = " ".join(first[key][:2])
                yield Issue(
                    d.file, r.line, r.cause, f"'{key[1]}' is {' '.join(value)} here and {other} in {first[key][2]}.",
                    "Use one weight, or say `differs:` why.",
                )  # fmt: skip
            first.setdefault(key, (*value, f"{d.file}:{r.line}"))


def _causes(base: RuleBase, defects: list[Defect]) -> Iterator[Issue]:
    used = {c.cause for d in defects for c in d.candidates}
    for cause in base.causes.values():
        where = f"rules/{cause.stage}/_causes.yaml"
        if not cause.id.startswith(cause.stage + "."):
            yield Issue(where, 1, cause.id, f"does not begin with its stage '{cause.stage}.'.", "Rename or move it.")
        if cause.id not in used:
            yield Issue(where, 1, cause.id, "no defect has this cause.", "Use it or remove it.")
        for c in cause.corrections:
            for other in c.worsens:
                if other not in base.causes:
                    hint = suggest(other, base.causes) or "Plain words go under `worsens also`."
                    yield Issue(where, 1, cause.id, f"worsens '{other}', which is no cause.", hint)
            for hazard in c.cautions:
                if hazard not in base.hazards:
                    yield Issue(
                        where,
                        1,
                        cause.id,
                        f"names the caution '{hazard}', which is not there.",
                        suggest(hazard, base.hazards),
                    )
            for move in c.moves:
                if move.how == "into window" and not base.words.settings[move.setting].windows:
                    yield Issue(
                        where, 1, cause.id, f"moves '{move.setting}' into a window it does not have.", "Give it one."
                    )


def _unused(base: RuleBase, defects: list[Defect], calculators: tuple[Calculating, ...]) -> Iterator[Issue]:
    used = {f for d in defects for r in d.rules() for f in facts_of(r.when)}
    used |= {f for d in defects for a in d.mistaken_for if a.when for f in facts_of(a.when)}
    used |= {f for h in base.hazards.values() if h.when for f in facts_of(h.when)}
    used |= {f for c in base.causes.values() for k in c.corrections if k.when for f in facts_of(k.when)}
    used |= {n for c in calculators for n in (*c.needs, *c.takes)}
    for o in base.words.observations.values():
        if o.name not in used:
            yield Issue(
                f"rules/{o.stage}/_observations.yaml",
                1,
                o.name,
                "no rule looks at it: it is never asked.",
                "Use or remove it.",
            )


def _sources(base: RuleBase, defects: list[Defect]) -> Iterator[Issue]:
    for where, text in _all_sources(base, defects):
        ref = parse_source(text)
        if ref is None:
            yield Issue(where, 1, "", f"source '{text}' has no known form or is missing.", "See DEVELOPERS.md.")
        elif ref.key and ref.key not in base.sources:
            yield Issue(
                where, 1, "", f"source '{ref.key}' is not in any _sources.yaml.", suggest(ref.key, base.sources)
            )
        elif ref.kind == "read" and base.sources[ref.key].read == "no":
            yield Issue(where, 1, "", f"'{ref.key}' was not read.", f"Write `from memory of {ref.key}`.")


def _all_sources(base: RuleBase, defects: list[Defect]) -> Iterator[tuple[str, str]]:
    for d in defects:
        for r in d.rules():
            yield f"{d.file}:{r.line}", r.source
    for c in base.causes.values():
        for k in c.corrections:
            yield f"rules/{c.stage}/_causes.yaml: {c.id}", k.source
    for h in base.hazards.values():
        yield f"rules/{h.stage}/_hazards.yaml: {h.name}", h.source
    for s in base.words.settings.values():
        at = f"rules/{s.stage}/_settings.yaml: {s.name}"
        for limits in (*s.windows, *([s.safe] if s.safe else [])):
            yield at, limits.source
        if s.assume:
            yield at, s.assume.source
    for o in base.words.observations.values():
        if o.bench_test:
            yield f"rules/{o.stage}/_observations.yaml: {o.name}", o.bench_test.source
    for slot in base.words.slots.values():
        for m in slot.materials.values():
            for p in m.properties.values():
                yield f"rules/materials: {m.name}", p.source


def _hand_over_cycles(base: RuleBase, defects: list[Defect]) -> Iterator[Issue]:
    edges = {d.id: [c.cause for c in d.candidates if c.hand_over] for d in defects}
    for start in edges:
        seen, todo = set(), list(edges[start])
        while todo:
            here = todo.pop()
            if here == start:
                yield Issue(
                    base.defect(start).file, 1, start, "hands over in a circle back to itself.", "Cut one hand-over."
                )
                break
            if here not in seen:
                seen.add(here)
                todo += edges.get(here, [])


def _calculators(base: RuleBase, calculators: tuple[Calculating, ...]) -> Iterator[Issue]:
    words = base.words
    for c in calculators:
        for name in (*c.needs, *c.takes):
            if words.dimension(name) is None:
                yield Issue(
                    "diagnose/derive",
                    1,
                    c.name,
                    f"takes '{name}', which no file defines.",
                    suggest(name, words.names()),
                )
        for name in c.gives:
            if name not in words.derived:
                yield Issue(
                    "diagnose/derive",
                    1,
                    c.name,
                    f"gives '{name}', which is not under `derived:`.",
                    suggest(name, words.derived),
                )
        for text in c.sources:
            ref = parse_source(text)
            if ref is None or (ref.key and ref.key not in base.sources):
                yield Issue("diagnose/derive", 1, c.name, f"source '{text}' is unknown.", "Add it to a _sources.yaml.")


def counts(base: RuleBase) -> dict[str, int]:
    """Return how much the rules base holds."""
    defects = base.all_defects()
    used = {c.cause for d in defects for c in d.candidates if not c.hand_over}
    return {
        "defects": len(defects), "causes": len(used), "rules": sum(len(d.rules()) for d in defects),
        "observations": sum(o.bench_test is None for o in base.words.observations.values()),
        "bench tests": sum(o.bench_test is not None for o in base.words.observations.values()),
        "settings": len(base.words.settings), "derived facts": len(base.words.derived),
        "hand-overs": sum(c.hand_over for d in defects for c in d.candidates), "sources": len(base.sources),
    }  # fmt: skip


def provenance(base: RuleBase) -> dict[str, tuple[int, list[str]]]:
    """Return, for each kind of source, how many statements rest on it and the works named."""
    kinds: dict[str, Counter[str]] = {k: Counter() for k in ("read", "memory", "computed", "common practice", "none")}
    for _, text in _all_sources(base, base.all_defects()):
        ref = parse_source(text)
        kinds[ref.kind if ref else "none"][ref.key if ref else ""] += 1
    names = {"read": "published work read", "memory": "published work from memory", "none": "no source"}
    return {
        names.get(k, k): (
            sum(c.values()), [f"{base.sources[w].citation()} ({n})" for w, n in c.most_common() if w in base.sources]
        )
        for k, c in kinds.items()
    }  # fmt: skip
