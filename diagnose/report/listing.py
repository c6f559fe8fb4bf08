"""What the rules base holds, as a list of names with what each is."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import TYPE_CHECKING

from diagnose.consult.show import Shower
from diagnose.report.screen_lines import Line, Page

if TYPE_CHECKING:
    from diagnose.rulebase.load import RuleBase

Entry = tuple[str, str, str]
"""The stage (empty for a material), the name, and what it is."""
NAMES = 34  # columns of the names
WIDE = 70  # columns from which the words stand beside the names


def listing_lines(base: RuleBase, kind: str, stages: set[str], width: int, system: str = "us") -> list[Line]:
    """Return the entries of a kind, of some stages or of all, as lines."""
    page = Page(width, Shower(base, system).says)
    for stage, name, what in KINDS[kind](base, stages):
        if stages and stage not in stages:
            continue
        if page.width >= WIDE and len(name) < NAMES:
            page.say(f"{name:{NAMES}} {what}", hang=NAMES + 1)
        else:
            page.say(name)
            page.say(what, 2)
    return page.lines


def _defects(base: RuleBase, stages: set[str]) -> Iterator[Entry]:
    for ident in base.defect_files:
        stage = ident.split(".")[0]
        if not stages or stage in stages:
            d = base.defect(ident)
            yield stage, ident, f"{d.name} ({len(d.candidates)} causes, {len(d.rules())} rules)"


def _causes(base: RuleBase, stages: set[str]) -> Iterator[Entry]:
    yield from ((c.stage, c.id, c.name) for c in base.causes.values())


def _observations(base: RuleBase, stages: set[str]) -> Iterator[Entry]:
    yield from ((o.stage, o.name, o.ask) for o in base.words.observations.values() if o.bench_test is None)


def _bench_tests(base: RuleBase, stages: set[str]) -> Iterator[Entry]:
    yield from ((o.stage, o.name, o.ask) for o in base.words.observations.values() if o.bench_test is not None)


def _settings(base: RuleBase, stages: set[str]) -> Iterator[Entry]:
    yield from ((s.stage, s.name, s.says) for s in base.words.settings.values())


def _computed(base: RuleBase, stages: set[str]) -> Iterator[Entry]:
    yield from ((d.stage, d.name, d.says) for d in base.words.derived.values())


def _materials(base: RuleBase, stages: set[str]) -> Iterator[Entry]:
    yield from (("", m.name, f"{s.name}: {m.kind}") for s in base.words.slots.values() for m in s.materials.values())


def _cautions(base: RuleBase, stages: set[str]) -> Iterator[Entry]:
    yield from ((h.stage, h.name, h.says) for h in base.hazards.values())


def _words(base: RuleBase, stages: set[str]) -> Iterator[Entry]:
    yield from ((w.stage, w.name, w.says) for w in base.glossary)


KINDS: Mapping[str, Callable[[RuleBase, set[str]], Iterator[Entry]]] = {
    "defects": _defects,
    "causes": _causes,
    "observations": _observations,
    "bench-tests": _bench_tests,
    "settings": _settings,
    "computed": _computed,
    "materials": _materials,
    "cautions": _cautions,
    "words": _words,
}
"""What can be listed, by the word for it."""
