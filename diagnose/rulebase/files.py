"""YAML files as trees of text in which every value knows its line.

Every scalar is text; duplicate keys, aliases, foreign tags, huge and deep files are refused. The C parser
composes nodes and we build our own values, so that `no` stays a word and `1:30` stays a time.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import yaml

from diagnose.errors import BadInput

_PARSER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
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


class _AllText(_PARSER):  # type: ignore[misc]
    """Composes nodes without guessing types: a plain scalar is text, whatever it looks like."""

    def resolve(self, kind: type[yaml.Node], value: str | None, implicit: Any) -> str:
        if kind is yaml.ScalarNode:
            return "tag:yaml.org,2002:str"
        return "tag:yaml.org,2002:seq" if kind is yaml.SequenceNode else "tag:yaml.org,2002:map"


def read_text(path: Path) -> str:
    """Return a file's text; every way this can fail is one clear BadInput."""
    where = str(path)
    try:
        if path.stat().st_size > SIZE_LIMIT:
            raise BadInput(f"the file is larger than {SIZE_LIMIT // 1000} kB.", where=where, next_step="Is it a case?")
        data = path.read_bytes()
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise BadInput(f"cannot be read ({reason}).", where=where, next_step="Check the name.") from None
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
    try:
        node = yaml.compose(text, Loader=_AllText)
    except yaml.YAMLError as error:
        raise BadInput(_plain(error), where=_place(where, error)) from None
    except RecursionError:
        raise BadInput("is nested far too deep.", where=where) from None
    if node is None:
        raise BadInput("the file is empty.", where=where, next_step="Write at least `defect:` and `observations:`.")
    if not isinstance(node, yaml.MappingNode):
        raise BadInput("the file must be a list of `name: value` lines.", where=f"{where}:1")
    tree = _build(node, where, set(), 0)
    assert isinstance(tree, Located)
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


def _build(node: yaml.Node, where: str, seen: set[int], depth: int) -> Any:
    line = node.start_mark.line + 1
    here = f"{where}:{line}"
    if depth > DEPTH_LIMIT:
        raise BadInput("is nested far too deep.", where=here)
    if id(node) in seen:
        raise BadInput("uses an alias (*name).", where=here, next_step="Write the value out.")
    seen.add(id(node))
    if not node.tag.startswith("tag:yaml.org,2002:") or "python" in node.tag:
        raise BadInput(f"uses a tag ({node.tag}).", where=here, next_step="Plain text, lists and names only.")
    if isinstance(node, yaml.ScalarNode):
        return node.value
    if isinstance(node, yaml.SequenceNode):
        items = LocatedList(_build(child, where, seen, depth + 1) for child in node.value)
        items.line, items.lines = line, [child.start_mark.line + 1 for child in node.value]
        return items
    return _build_mapping(node, where, seen, depth)


def _build_mapping(node: yaml.Node, where: str, seen: set[int], depth: int) -> Located:
    tree = Located()
    tree.line, tree.lines = node.start_mark.line + 1, {}
    for key, value in node.value:
        line = key.start_mark.line + 1
        if not isinstance(key, yaml.ScalarNode) or key.value == "<<":
            raise BadInput("a name must be plain text.", where=f"{where}:{line}")
        if key.value in tree:
            first = tree.lines[key.value]
            raise BadInput(
                f"'{key.value}' stands twice (first in line {first}).", where=f"{where}:{line}", next_step="Keep one."
            )
        tree[key.value] = _build(value, where, seen, depth + 1)
        tree.lines[key.value] = line
    return tree


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
