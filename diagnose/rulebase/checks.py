"""Checks over the whole rules base: every fault at once, each with file, line, id, what and remedy."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from diagnose.model.knowledge import Correction, Defect
from diagnose.model.source import parse_source
from diagnose.rulebase.calculating import Calculating
from diagnose.rulebase.check_logic import logic
from diagnose.rulebase.check_sources import every_source, sources
from diagnose.rulebase.check_words import unused_and_undefined
from diagnose.rulebase.cursor import suggest
from diagnose.rulebase.issue import Issue
from diagnose.rulebase.load import RuleBase
from diagnose.rulebase.undisturbed import undisturbed


def check(base: RuleBase, calculators: Iterable[Calculating] = ()) -> list[Issue]:
    """Return every issue of the rules base, sorted by file and line."""
    with undisturbed():
        return sorted(set(_found(base, tuple(calculators))), key=lambda i: (i.file, i.line, i.what))


def _found(base: RuleBase, calculators: tuple[Calculating, ...]) -> list[Issue]:
    defects = base.all_defects()
    found = base.issues_everywhere()
    for defect in defects:
        found += _defect(base, defect)
    found += _weights(defects)
    found += _causes(base, defects)
    found += logic(base, defects)
    found += unused_and_undefined(base, defects, calculators)
    found += sources(base, defects, calculators)
    found += _hand_over_cycles(base, defects)
    found += _calculators(base, calculators)
    return found


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
            what = "defect to hand over to" if c.hand_over else "cause"
            yield Issue(d.file, c.line, d.id, f"'{c.cause}' is no {what}.", suggest(c.cause, known))
        if not any(r.speaks == "for" for r in c.rules):
            what = f"nothing speaks for '{c.cause}': it can never come out."
            yield Issue(d.file, c.line, d.id, what, "Add a rule for it.")
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
            key, value = (r.cause, r.id.split("/", 2)[2]), (r.speaks, r.weight)
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
        file, line = base.place("cause", cause.id)
        if not cause.id.startswith(cause.stage + "."):
            yield Issue(file, line, cause.id, f"does not begin with its stage '{cause.stage}.'.", "Rename or move it.")
        if cause.id not in used:
            yield Issue(file, line, cause.id, "no defect has this cause.", "Use it or remove it.")
        for c in cause.corrections:
            yield from (Issue(file, line, cause.id, *fault) for fault in _correction(base, c))


def _correction(base: RuleBase, c: Correction) -> Iterator[tuple[str, str]]:
    for other in c.worsens:
        if other not in base.causes:
            hint = suggest(other, base.causes) or "Plain words go under `worsens also`."
            yield f"worsens '{other}', which is no cause.", hint
    for hazard in c.cautions:
        if hazard not in base.hazards:
            yield f"names the caution '{hazard}', which is not there.", suggest(hazard, base.hazards)
    for move in c.moves:
        if move.how == "into window" and not base.words.settings[move.setting].windows:
            yield f"moves '{move.setting}' into a window it does not have.", "Give it one."


def _hand_over_cycles(base: RuleBase, defects: list[Defect]) -> Iterator[Issue]:
    edges = {d.id: [c.cause for c in d.candidates if c.hand_over] for d in defects}
    for start in edges:
        way = _way_back(start, edges)
        if way:
            d = base.defect(start)
            line = next(c.line for c in d.candidates if c.cause == way[0])
            what = f"hands over in a circle: {' to '.join((start, *way))}."
            yield Issue(d.file, line, start, what, "Cut one hand-over.")


def _way_back(start: str, edges: dict[str, list[str]]) -> list[str]:
    """Return the shortest way along hand-overs from a defect back to itself, or nothing."""
    ways = [[first] for first in edges[start]]
    seen = set(edges[start])
    while ways:
        way = ways.pop(0)
        if way[-1] == start:
            return way
        for other in edges.get(way[-1], []):
            if other not in seen:
                seen.add(other)
                ways.append([*way, other])
    return []


def _calculators(base: RuleBase, calculators: tuple[Calculating, ...]) -> Iterator[Issue]:
    words = base.words
    for c in calculators:
        for name in (*c.needs, *c.takes):
            if words.dimension(name) is None:
                hint = suggest(name, words.names())
                yield Issue("diagnose/derive", 1, c.name, f"takes '{name}', which no file defines.", hint)
        for name in c.gives:
            if name not in words.derived:
                hint = suggest(name, words.derived)
                yield Issue("diagnose/derive", 1, c.name, f"gives '{name}', which is not under `derived:`.", hint)
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
    for cited in every_source(base, base.all_defects()):
        ref = parse_source(cited.text)
        kinds[ref.kind if ref else "none"][ref.key if ref else ""] += 1
    names = {"read": "published work read", "memory": "published work from memory", "none": "no source"}
    return {
        names.get(k, k): (
            sum(c.values()), [f"{base.sources[w].citation()} ({n})" for w, n in c.most_common() if w in base.sources]
        )
        for k, c in kinds.items()
    }  # fmt: skip
