"""Sources, hazards, causes and defects from their files."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Any, get_args

from diagnose.model.condition import Beyond, Condition, Is, Leaf, Window, Within, facts_of, leaves
from diagnose.model.knowledge import (
    Bound,
    Candidate,
    Cause,
    Correction,
    Defect,
    Example,
    Expectation,
    Hazard,
    LookAlike,
    Move,
    Rule,
    Source,
    Weight,
)
from diagnose.rulebase import formats
from diagnose.rulebase.conditions import ConditionReader
from diagnose.rulebase.cursor import Cursor, suggest
from diagnose.rulebase.vocabulary import Vocabulary


def read_source(c: Cursor, key: str) -> Source | None:
    """Return a published work from its entry."""
    c.only(*formats.SOURCE_ENTRY.keys)
    return c.attempt(
        lambda: Source(
            key=key, author=c.text("author"), title=c.text("title"), year=c.text("year"),
            published=c.text("published", ""), read=c.choice("read", ("whole", "part", "abstract", "no"), "no"),
        )
    )  # fmt: skip


def read_hazard(c: Cursor, name: str, stage: str, conditions: ConditionReader) -> Hazard | None:
    """Return a caution from its entry."""
    c.only(*formats.HAZARD.keys)
    when = conditions.read(c.tree["when"], c) if c.has("when") else None
    return c.attempt(
        lambda: Hazard(
            name=name, stage=stage, says=c.text("says"), always=c.text("always", "false") == "true", when=when,
            words=c.texts("words"), source=c.source(),
        )
    )  # fmt: skip


def read_cause(c: Cursor, ident: str, stage: str, conditions: ConditionReader) -> Cause | None:
    """Return a cause with its corrections."""
    c.only(*formats.CAUSE.keys)
    found = [_correction(item, conditions) for item in c.items("corrections")]
    corrections = tuple(x for x in found if x)
    if not corrections:
        c.fault("has no correction.", "Say at least one thing to do about it.")
    return c.attempt(
        lambda: Cause(id=ident, stage=stage, name=c.text("name"), how=c.text("how"), corrections=corrections)
    )


def _correction(c: Cursor, conditions: ConditionReader) -> Correction | None:
    c.only(*formats.CORRECTION.keys)
    cost = c.child("cost")
    cost.only(*formats.COST.keys)
    seconds = cost.quantity("time", "time") if cost.has("time") else 600.0
    moves = tuple(m for m in (_move(item, conditions.words) for item in c.items("moves")) if m)
    when = conditions.read(c.tree["when"], c) if c.has("when") else None
    return c.attempt(
        lambda: Correction(
            do=c.text("do"), moves=moves, minutes=(seconds or 0.0) / 60.0,
            material=cost.choice("material", ("none", "low", "medium", "high"), "none"),
            worsens=c.texts("worsens"), worsens_also=c.text("worsens also", ""), how_to_tell=c.text("how to tell"),
            cautions=c.texts("cautions"), when=when, source=c.source(),
        )
    )  # fmt: skip


def _move(c: Cursor, words: Vocabulary) -> Move | None:
    c.only(*formats.MOVE.keys)
    name = c.text("setting")
    setting = words.settings.get(name)
    if setting is None:
        c.fault(f"moves '{name}', which is no setting.", suggest(name, words.settings), "setting")
        return None
    dim = setting.dimension
    step_dim = "temperature change" if dim == "temperature" else dim
    ends: dict[str, Any] = {}
    if c.has("in steps of"):
        ends["in_steps_of"] = c.quantity("in steps of", step_dim)
        if c.has("by"):
            c.fault("goes 'by' a step and 'in steps of' another.", "Keep one of them.", "in steps of")
    for key, end in (("not below", "floor"), ("not above", "ceiling")):
        if c.has(key):
            text = c.text(key)
            known = words.dimension(text) is not None
            ends[end] = Bound(fact=text) if known else Bound(value=c.quantity(key, dim))
    if c.has("into"):
        c.choice("into", ("window",))
        return Move(setting=name, how="into window", **ends)
    if c.has("by"):
        text = c.text("by")
        size = c.quantity("by", step_dim, text.lstrip("+-"))
        return Move(setting=name, how="by step", value=-size if size and text.startswith("-") else size, **ends)
    target = c.text("to")
    if words.dimension(target) is not None:
        if words.dimension(target) != dim:
            c.fault(f"'{target}' is not a {dim}, which '{name}' needs.", key="to")
        return Move(setting=name, how="to fact", fact=target, **ends)
    return Move(setting=name, how="to value", value=c.quantity("to", dim), **ends)


def slug(condition: Condition) -> str:
    """Return a readable name for a condition, the same every time."""
    name = "&".join(_words_of(leaf) for leaf in leaves(condition))
    head = "" if condition.kind in ("is", "within", "window", "against", "all") else condition.kind + "("
    return _hyphened(head + name + (")" if head else ""))


def _words_of(leaf: Leaf) -> str:
    if isinstance(leaf, Is):
        return f"{leaf.fact} = {'+'.join(leaf.answers)}"
    words = [leaf.fact]
    if isinstance(leaf, (Within, Beyond)):
        words += [f">{leaf.low:.6g}"] if leaf.low is not None else []
        words += [f"<{leaf.high:.6g}"] if leaf.high is not None else []
    elif isinstance(leaf, Window):
        words += ["/".join(leaf.sides)]
    else:
        words += [leaf.side, leaf.other, f"{leaf.share if leaf.share is not None else leaf.amount:.6g}"]
    return " ".join(words)


@lru_cache(maxsize=16384)
def _hyphened(words: str) -> str:
    return re.sub(r"[^a-z0-9=+<>./()&-]+", "-", words.lower())


class DefectReader:
    """Reads defect files against the vocabulary."""

    def __init__(self, words: Vocabulary) -> None:
        self.words, self.conditions = words, ConditionReader(words)

    def read(self, c: Cursor, ident: str) -> Defect | None:
        """Return the defect of a file whose path gives the id."""
        c.only(*formats.DEFECT.keys)
        if c.text("defect") != ident:
            c.fault(
                f"'defect: {c.text('defect')}' does not fit the file's place, which makes it '{ident}'.", key="defect"
            )
        found = [self._candidate(item, ident) for item in c.items("causes")]
        alike = [self._look_alike(item) for item in c.items("mistaken for")]
        return c.attempt(
            lambda: Defect(
                id=ident, stage=ident.split(".")[0], name=c.text("name"), looks=c.text("looks"), words=c.texts("words"),
                mistaken_for=tuple(x for x in alike if x), candidates=tuple(x for x in found if x),
                examples=tuple(self._example(item) for item in c.items("examples")), file=c.file,
            )
        )  # fmt: skip

    def _look_alike(self, c: Cursor) -> LookAlike | None:
        c.only(*formats.LOOK_ALIKE.keys)
        when = self.conditions.read(c.tree["when"], c) if c.has("when") else None
        return c.attempt(lambda: LookAlike(defect=c.text("defect"), tell=c.text("tell"), when=when))

    def _candidate(self, c: Cursor, defect: str) -> Candidate | None:
        c.only(*formats.CANDIDATE.keys)
        cause = c.text("hand-over") if c.has("hand-over") else c.text("cause")
        rules: dict[str, Rule] = {}
        for item in c.items("rules"):
            rule = self._rule(item, defect, cause)
            if rule and rule.id in rules:
                item.fault(f"says the same as the rule in line {rules[rule.id].line}.", "Keep one.")
            elif rule:
                rules[rule.id] = rule
        return c.attempt(
            lambda: Candidate(
                cause=cause, often=c.choice("often", ("common", "occasional", "rare")), rules=tuple(rules.values()),
                hand_over=c.has("hand-over"), because=c.text("because", ""), line=c.line,
            )
        )  # fmt: skip

    def _rule(self, c: Cursor, defect: str, cause: str) -> Rule | None:
        c.only(*formats.RULE.keys)
        speaks = "for" if c.has("for") else "against"
        weight = c.choice(speaks, get_args(Weight))
        when = self.conditions.read(c.tree.get("when"), c)
        if when is None:
            return None
        state = c.text("about") if c.has("about") else self._state(when)
        return c.attempt(
            lambda: Rule(
                id=f"{defect}/{cause}/{slug(when)}", cause=cause, speaks=speaks, weight=weight, when=when, about=state,
                because=c.text("because"), source=c.source(), differs=c.text("differs", ""), line=c.line,
            )
        )  # fmt: skip

    def _state(self, when: Condition) -> str:
        """Return what a condition tells about: the state of its first fact that is not a leading material."""
        facts, words = facts_of(when), self.words
        if when.kind == "all":
            # A leading material only says for which material the rule holds.
            facts = tuple(f for f in facts if f not in words.slots and not words.slot_of_kind(f)) or facts
        return words.about(facts[0])

    def _example(self, c: Cursor) -> Example:
        c.only(*formats.EXAMPLE.keys)
        e = c.child("expect")
        e.only(*formats.EXPECTATION.keys)
        facts = {k: v if isinstance(v, str) else "; ".join(v) for k, v in c.child("facts").tree.items()}
        expect = Expectation(
            first=e.text("first", "") or None, verdict=e.text("verdict", "") or None,
            advise=e.texts("advise"), never=e.texts("never"),
        )  # fmt: skip
        return Example(name=c.text("name"), facts=facts, expect=expect)
