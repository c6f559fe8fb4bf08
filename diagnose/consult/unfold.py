"""A computed number opened up: how it comes about, in words and with the values put in."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import TYPE_CHECKING

from diagnose.consult.present import computed_shown, source_words
from diagnose.consult.standing import Standing
from diagnose.derive.calculator import Value
from diagnose.derive.resolve import Assumed, Computed, Resolved
from diagnose.model.explanation import Input, Unfolded

if TYPE_CHECKING:
    from diagnose.consult.consultant import Consultant

FACT = re.compile(r"\{([^{}]+)\}")
NOT_TOLD = "(not told)"
_OR_ELSE = re.compile(r"(\{[^{}]+\}) \(else (\{[^{}]+\})\)")
_NOTHING_ADDED = re.compile(r" [+-] \(not told\)")


def unfolded(of: Consultant, standing: Standing) -> tuple[Unfolded, ...]:
    """Return every computed number that the rules look at, each after those that it is built on."""
    found: dict[str, Unfolded] = {}
    for fact in standing.desk.rule_facts:
        _with_roots(of, standing.resolved, fact, found)
    return tuple(found.values())


def unfold(of: Consultant, resolved: Resolved, fact: str) -> Unfolded:
    """Return one computed number opened up."""
    done = resolved.computed[fact]
    shown = computed_shown(of.show, fact, done)
    known = of.base.words.derived.get(fact)
    lines = _lines_for(done, fact)
    return Unfolded(
        name=fact, value=shown.value, range=shown.range, says=known.says if known else "",
        calculator=done.calculator.name, title=done.calculator.title,
        formula=tuple(line.replace("{", "").replace("}", "") for line in lines),
        with_values=tuple(_put_in(of, done, line) for line in lines),
        inputs=tuple(_input(of, resolved, done, name) for name in done.inputs),
        sources=tuple(source_words(of, s) for s in done.calculator.sources),
    )  # fmt: skip


def _with_roots(of: Consultant, resolved: Resolved, fact: str, found: dict[str, Unfolded]) -> None:
    if fact in found or fact not in resolved.computed:
        return
    for name in resolved.computed[fact].inputs:
        if name != fact:
            _with_roots(of, resolved, name, found)
    found[fact] = unfold(of, resolved, fact)


def _lines_for(done: Computed, fact: str) -> list[str]:
    """Return the formula's line for a fact, then those for other results and words that the lines before it use."""
    lines = list(done.calculator.formula)
    chosen = [line for line in lines if line.startswith("{") and fact in FACT.findall(_left(line))]
    for line in chosen:  # grows while it is walked: a line that is added may use words of another
        right = line.partition(" = ")[2]
        results = [n for n in FACT.findall(right) if n in done.results and n not in done.inputs]
        for other in lines:
            names = FACT.findall(_left(other)) if other.startswith("{") else []
            used = any(n in results for n in names) or (not names and _left(other).split(",")[0] in right)
            if used and other not in chosen:
                chosen.append(other)
    return [
        re.sub(r"^\{.*?\} = ", f"{{{fact}}} = ", line, count=1) if n == 0 else line for n, line in enumerate(chosen)
    ]


def _left(line: str) -> str:
    return line.partition(" = ")[0]


def _put_in(of: Consultant, done: Computed, line: str) -> str:
    known = {**done.inputs, **done.results}
    left, equals, right = line.partition(" = ")
    shown = _values(of, known, right)
    number = left.startswith("{") and isinstance(known.get(left[1:-1]), float)
    return (_values(of, known, left) if number else left.strip("{}")) + equals + shown


def _values(of: Consultant, known: Mapping[str, Value], text: str) -> str:
    """Return a text with the values of its facts; of several ways to know something the one that was taken."""
    text = _OR_ELSE.sub(lambda m: m[1] if m[1][1:-1] in known else m[2], text)
    ways = text.split(", else ")
    text = next((way for way in ways if all(n in known for n in FACT.findall(way))), ways[-1])
    first, *more = text.split("; ")
    text = "; ".join((first, *(part for part in more if all(n in known for n in FACT.findall(part)))))
    shown = FACT.sub(lambda m: of.show.value(m[1], known[m[1]]) if m[1] in known else NOT_TOLD, text)
    return _NOTHING_ADDED.sub("", shown)


def _input(of: Consultant, resolved: Resolved, done: Computed, name: str) -> Input:
    value = of.show.value(name, done.inputs[name])
    if name in done.assumed:
        a = done.assumed[name]
        return Input(
            name=name,
            value=value,
            origin=_from(resolved, name),
            bounds=_bounds(of, name, a),
            source=source_words(of, a.source),
        )
    if name in resolved.computed:
        return Input(name=name, value=value, origin="computed", source=resolved.computed[name].calculator.title)
    return Input(name=name, value=value, origin="material" if name in resolved.materials else "told")


def _from(resolved: Resolved, name: str) -> str:
    return "material" if name in resolved.materials else "assumed"


def _bounds(of: Consultant, name: str, a: Assumed) -> str:
    return f"{of.show.value(name, a.low)} to {of.show.value(name, a.high)}" if a.low < a.high else ""
