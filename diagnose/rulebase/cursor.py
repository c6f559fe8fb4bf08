"""A place in a rules file: takes values out of a tree, and notes every fault instead of stopping at the first."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any, TypeVar

from rapidfuzz import fuzz, process

from diagnose import units
from diagnose.errors import BadInput
from diagnose.model.source import parse_source
from diagnose.rulebase.files import Located, LocatedList
from diagnose.rulebase.issue import Issue

T = TypeVar("T")


def suggest(word: str, known: Any) -> str:
    """Return 'Did you mean ...?' for the nearest known word, or nothing."""
    names = list(known)
    # The whole word first: a short name inside of it is not what was meant.
    hit = process.extractOne(word, names, scorer=fuzz.ratio, score_cutoff=80)
    hit = hit or process.extractOne(word, names, score_cutoff=70)
    return f"Did you mean '{hit[0]}'?" if hit else ""


class Cursor:
    """A mapping in a file, with the id it belongs to; faults are collected in `issues`."""

    def __init__(self, tree: Any, file: str, ident: str, issues: list[Issue], line: int = 0) -> None:
        self.tree: Located = tree if isinstance(tree, Located) else Located()
        self.file, self.id, self.issues = file, ident, issues
        self.line = getattr(tree, "line", line) or line
        if not isinstance(tree, Located):
            self.fault(f"must hold `name: value` lines, not {tree!r:.60}.")

    def fault(self, what: str, remedy: str = "", key: str = "") -> None:
        """Note something wrong, at the line of a key if one is named."""
        line = getattr(self.tree, "lines", {}).get(key, self.line)
        self.issues.append(Issue(self.file, line, self.id, what, remedy))

    def only(self, *allowed: str) -> None:
        """Note every key that is not one of those allowed."""
        for key in self.tree:
            if key not in allowed:
                self.fault(f"unknown key '{key}'.", suggest(key, allowed) or f"Known: {', '.join(allowed)}.", key)

    def has(self, key: str) -> bool:
        """Say whether a key is there."""
        return key in self.tree

    def line_of(self, key: str) -> int:
        """Return the line a key stands in."""
        lines: dict[str, int] = getattr(self.tree, "lines", {})
        return lines.get(key, self.line)

    def text(self, key: str, default: str | None = None) -> str:
        """Return a text; a missing one is a fault unless there is a default."""
        value = self.tree.get(key)
        if value is None or value == "":
            if default is None:
                self.fault(f"'{key}' is missing.")
            return default or ""
        if not isinstance(value, str):
            self.fault(f"'{key}' must be a text.", key=key)
            return default or ""
        return " ".join(value.split())

    def choice(self, key: str, allowed: tuple[Any, ...], default: str | None = None) -> Any:
        """Return a text that must be one of the allowed words."""
        value = self.text(key, default)
        if value not in allowed:
            if value:
                self.fault(f"'{key}: {value}' is not one of: {', '.join(allowed)}.", suggest(value, allowed), key)
            return allowed[0]
        return value

    def texts(self, key: str) -> tuple[str, ...]:
        """Return a list of texts (one text counts as a list of one); none if the key is not there."""
        value = self.tree.get(key)
        if value is None:
            return ()
        items = [value] if isinstance(value, str) else value
        if not isinstance(items, list) or not all(isinstance(i, str) for i in items):
            self.fault(f"'{key}' must be a list of texts.", key=key)
            return ()
        return tuple(" ".join(i.split()) for i in items)

    def quantity(self, key: str, dimension: str, text: str | None = None) -> float | None:
        """Return a quantity in SI units, or None (with a fault) if it cannot be read."""
        raw = self.text(key) if text is None else text
        if not raw:
            return None
        try:
            return units.quantity(raw, dimension)
        except BadInput as error:
            self.fault(f"'{key}': {error.what}", error.next_step, key)
            return None

    def source(self, key: str = "source", required: bool = True) -> str:
        """Return a source reference of an allowed form."""
        value = self.text(key, None if required else "")
        if value and parse_source(value) is None:
            self.fault(
                f"source '{value}' has no known form.",
                "Use: common practice | <key>[, place] | from memory of <key>[, place] | computed from ...",
                key,
            )
        return value

    def child(self, key: str, ident: str | None = None) -> Cursor:
        """Return a cursor on a mapping below this one."""
        return Cursor(self.tree.get(key, Located()), self.file, ident or self.id, self.issues, self.line_of(key))

    def children(self, key: str) -> Iterator[tuple[str, Cursor]]:
        """Yield name and cursor of each mapping in a mapping of mappings."""
        value = self.tree.get(key)
        if value is None:
            return
        if not isinstance(value, Located):
            self.fault(f"'{key}' must hold `name:` entries.", key=key)
            return
        for name, sub in value.items():
            yield name, Cursor(sub, self.file, name, self.issues, value.lines[name])

    def items(self, key: str) -> Iterator[Cursor]:
        """Yield a cursor for each mapping in a list."""
        value = self.tree.get(key)
        if value is None:
            return
        if not isinstance(value, LocatedList):
            self.fault(f"'{key}' must be a list.", key=key)
            return
        for item, line in zip(value, value.lines, strict=True):
            yield Cursor(item, self.file, self.id, self.issues, line)

    def attempt(self, build: Callable[[], T], key: str = "") -> T | None:
        """Return what `build` makes, or note its BadInput as a fault."""
        try:
            return build()
        except (BadInput, ValueError) as error:
            self.fault(getattr(error, "what", str(error)), getattr(error, "next_step", ""), key)
            return None
