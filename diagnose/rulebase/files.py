"""YAML files as trees of text in which every value knows its line.

Every scalar is text; duplicate keys, aliases, foreign tags, huge and deep files are refused. The C parser
gives events and we build our own values, so that `no` stays a word and `1:30` stays a time.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import yaml

from diagnose.errors import BadInput

_PARSER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_Scalar, _ListEnd, _MappingEnd = yaml.ScalarEvent, yaml.SequenceEndEvent, yaml.MappingEndEvent
_FRAME = (yaml.StreamStartEvent, yaml.DocumentStartEvent, yaml.DocumentEndEvent)
SIZE_LIMIT = 2_000_000
DEPTH_LIMIT = 24
Tree = str | list["Tree"] | dict[str, "Tree"]


class Located(dict[str, Any]):
    """A mapping that knows its own line and the line of each of its keys."""

    line: int = 0
    lines: dict[str, int]


class LocatedList(list[Any]):
    """A list that knows its own line and the line of each item."""

    line: int = 0
    lines: list[int]


def read_text(path: Path) -> str:
    """Return a file's text; every way this can fail is one clear BadInput."""
    return text_of(read_data(path), str(path))


def read_data(path: Path) -> bytes:
    """Return what is in a file; raise BadInput where it is too large or cannot be read."""
    where = str(path)
    try:
        if path.stat().st_size > SIZE_LIMIT:
            raise BadInput(f"the file is larger than {SIZE_LIMIT // 1000} kB.", where=where, next_step="Is it a case?")
        return path.read_bytes()
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise BadInput(f"cannot be read ({reason}).", where=where, next_step="Check the name.") from None


def text_of(data: bytes, where: str) -> str:
    """Return what is in a file as text; raise BadInput where it is none."""
    if b"\0" in data:
        raise BadInput("this is not a text file.", where=where, next_step="A case is a small YAML text file.")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        raise BadInput(
            f"line {line} is not UTF-8 text.", where=where, next_step="Save the file as UTF-8 and try again."
        ) from None


def parse(text: str, where: str) -> Located:
    """Return the mapping a YAML text holds; raise BadInput with the line where it cannot be used."""
    loader = _PARSER(text)
    try:
        tree = _Builder(where).build(loader.get_event)
    except yaml.YAMLError as error:
        raise BadInput(_plain(error), where=_place(where, error)) from None
    finally:
        loader.dispose()
    if tree is None:
        raise BadInput("the file is empty.", where=where, next_step="Write at least `defect:` and `observations:`.")
    if not isinstance(tree, Located):
        raise BadInput("the file must be a list of `name: value` lines.", where=f"{where}:1")
    return tree


def read(path: Path) -> Located:
    """Return the mapping that a YAML file holds."""
    return parse(read_text(path), str(path))


def _plain(error: yaml.YAMLError) -> str:
    problem = str(getattr(error, "problem", "") or error)
    if "mapping values are not allowed" in problem:
        return "a second colon stands in this line. Put the text in quotes."
    if "cannot start any token" in problem:
        return "a tab or a stray sign begins this line. Indent with spaces; put the text in quotes."
    return f"this is not YAML that can be read ({problem})."


def _place(where: str, error: yaml.YAMLError) -> str:
    mark = getattr(error, "problem_mark", None)
    return f"{where}:{mark.line + 1}:{mark.column + 1}" if mark else where


class _Builder:
    """Puts a tree together from the parser's events; nothing is guessed about the type of a scalar."""

    def __init__(self, where: str) -> None:
        self.where = where

    def build(self, next_event: Callable[[], Any]) -> Tree | None:
        """Return the tree of the one document, None if there is none."""
        root: Tree | None = None
        documents = 0
        while True:
            event = next_event()
            kind = type(event)
            if kind is yaml.StreamEndEvent:
                return root
            if kind is yaml.DocumentStartEvent:
                documents += 1
                if documents > 1:
                    raise BadInput("holds more than one document.", where=self._at(event), next_step="Keep one.")
            elif kind not in _FRAME:
                root = self._value(event, next_event, 0)

    def _value(self, event: Any, next_event: Callable[[], Any], depth: int) -> Tree:
        kind = type(event)
        if kind is yaml.AliasEvent:
            raise BadInput("uses an alias (*name).", where=self._at(event), next_step="Write the value out.")
        tag = event.tag
        if tag is not None and (not tag.startswith("tag:yaml.org,2002:") or "python" in tag):
            raise BadInput(f"uses a tag ({tag}).", where=self._at(event), next_step="Plain text, lists and names only.")
        if kind is _Scalar:
            value: str = event.value
            return value
        if depth >= DEPTH_LIMIT:
            raise BadInput("is nested far too deep.", where=self._at(event))
        fill = self._list if kind is yaml.SequenceStartEvent else self._mapping
        return fill(event, next_event, depth + 1)

    # Nearly everything is an untagged text, so both fillers take that without a call of its own.

    def _list(self, start: Any, next_event: Callable[[], Any], depth: int) -> Tree:
        items = LocatedList()
        lines: list[int] = []
        items.line, items.lines = start.start_mark.line + 1, lines
        while (kind := type(event := next_event())) is not _ListEnd:
            lines.append(event.start_mark.line + 1)
            plain = kind is _Scalar and event.tag is None
            items.append(event.value if plain else self._value(event, next_event, depth))
        return items

    def _mapping(self, start: Any, next_event: Callable[[], Any], depth: int) -> Tree:
        tree = Located()
        lines: dict[str, int] = {}
        tree.line, tree.lines = start.start_mark.line + 1, lines
        while (kind := type(event := next_event())) is not _MappingEnd:
            line = event.start_mark.line + 1
            if kind is not _Scalar or event.value == "<<":
                raise BadInput("a name must be plain text.", where=f"{self.where}:{line}")
            key = event.value
            if key in lines:
                raise BadInput(
                    f"'{key}' stands twice (first in line {lines[key]}).", where=f"{self.where}:{line}",
                    next_step="Keep one.",
                )  # fmt: skip
            event = next_event()
            plain = type(event) is _Scalar and event.tag is None
            tree[key] = event.value if plain else self._value(event, next_event, depth)
            lines[key] = line
        return tree

    def _at(self, event: Any) -> str:
        return f"{self.where}:{event.start_mark.line + 1}"


def dump(data: dict[str, Any]) -> str:
    """Return plain data as YAML text that reads back to the same text values."""
    return yaml.dump(data, Dumper=_Dumper, sort_keys=False, allow_unicode=True, width=100)


class _Dumper(yaml.SafeDumper):
    """Writes every text so that it is read back as the same text."""

    def ignore_aliases(self, data: Any) -> bool:
        return True

    def text(self, data: str) -> yaml.ScalarNode:
        # Line breaks of Unicode would be read back as a space, unless they are escaped between double quotes.
        style = '"' if any(sign in data for sign in "\x85\u2028\u2029") else None
        return self.represent_scalar("tag:yaml.org,2002:str", data, style=style)


_Dumper.add_representer(str, _Dumper.text)


def files_below(folder: Path, suffix: str = ".yaml") -> Iterator[Path]:
    """Yield the files below a folder in a fixed order."""
    yield from sorted(p for p in folder.rglob(f"*{suffix}") if p.is_file())
