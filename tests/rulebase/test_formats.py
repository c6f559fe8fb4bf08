"""The published JSON Schemas against the shipped rules files, by the general-purpose jsonschema library (draft 2020-12)."""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from diagnose.cli.main import _run
from diagnose.cli.schema import RULES_FILES, SCHEMAS
from diagnose.model.source import parse_source
from diagnose.rulebase import formats
from diagnose.rulebase.files import parse, read
from diagnose.rulebase.load import shipped_folder
from tests.rulebase.folders import CAUSES, DEFECT, OBSERVATIONS

FILES = sorted(shipped_folder().rglob("*.yaml"))


def kind_of(path: Path) -> str:
    if path.parent.name == "materials":
        return "materials-file"
    return f"{path.stem[1:].split('_')[0]}-file" if path.stem.startswith("_") else "defect-file"


def plain(tree: Any) -> Any:
    """Lists and mappings of no class of our own."""
    if isinstance(tree, dict):
        return {k: plain(v) for k, v in tree.items()}
    return [plain(v) for v in tree] if isinstance(tree, list) else tree


@pytest.fixture(scope="module")
def validators() -> dict[str, Draft202012Validator]:
    found = {kind: formats.schema_of(kind) for kind in RULES_FILES}
    for schema in found.values():
        Draft202012Validator.check_schema(schema)
    return {kind: Draft202012Validator(schema) for kind, schema in found.items()}


def faults(validator: Draft202012Validator, tree: Any) -> list[str]:
    return [f"{'/'.join(map(str, e.absolute_path))}: {e.message:.150}" for e in validator.iter_errors(tree)]


def test_every_kind_of_rules_file_has_a_schema() -> None:
    assert set(RULES_FILES) == set(formats.FILES) == {kind_of(path) for path in FILES}


def test_every_shipped_rules_file_fits_its_schema(validators: dict[str, Draft202012Validator]) -> None:
    found = {str(p): f for p in FILES if (f := faults(validators[kind_of(p)], plain(read(p))))}
    assert found == {}


def changed(tree: Any, way: tuple[Any, ...] = ()) -> Iterator[tuple[tuple[Any, ...], Any]]:
    """Every mapping of a tree whose keys the format fixes, by the way to it."""
    if isinstance(tree, dict):
        yield way, tree
    for key, value in tree.items() if isinstance(tree, dict) else enumerate(tree) if isinstance(tree, list) else ():
        yield from changed(value, (*way, key))


FREE = (
    "facts",
    "answers",
    "usual",
    "when",
    "for",
    "materials",
    "properties",
    "settings",
    "derived",
    "observations",
    "causes",
    "hazards",
    "sources",
    "glossary",
)  # mappings by names that the writer chooses


@pytest.mark.parametrize("kind", RULES_FILES)
def test_an_unknown_key_anywhere_is_refused(kind: str, validators: dict[str, Draft202012Validator]) -> None:
    path = max((p for p in FILES if kind_of(p) == kind), key=lambda p: p.stat().st_size)
    tree, tried = plain(read(path)), 0
    for way, _ in list(changed(tree))[:60]:
        if (way and way[-1] in FREE) or "when" in way or way == ():
            continue
        spoiled = copy.deepcopy(tree)
        at = spoiled
        for step in way:
            at = at[step]
        at["no such key"] = "x"
        assert faults(validators[kind], spoiled), (path.name, way)
        tried += 1
    assert tried
    assert faults(validators[kind], {**tree, "no such key": "x"})


@pytest.mark.parametrize(
    ("kind", "text", "old", "new"),
    [
        ("defect-file", DEFECT, "for: strong", "for: mighty"),
        ("defect-file", DEFECT, "for: strong", "for: strong, against: strong"),
        ("defect-file", DEFECT, "when: {leak sound: hisses}, ", ""),
        ("defect-file", DEFECT, "{leak sound: hisses}, because", "{all: []}, because"),
        ("defect-file", DEFECT, "{leak sound: hisses}, because", "{at least: 2}, because"),
        ("defect-file", DEFECT, "{leak sound: hisses}, because", "{none: [{leak sound: {bellow: 3 mm}}]}, because"),
        ("defect-file", DEFECT, "source: common practice", "source: somebody said so"),
        ("defect-file", DEFECT, "investment.weak-vacuum", "invesment.weak-vacuum"),
        ("defect-file", DEFECT, "often: rare", "often: now and then"),
        ("defect-file", DEFECT, "{first: investment", "{verdict: maybe, first: investment"),
        ("causes-file", CAUSES, "    how: Air comes in as fast as the pump takes it out.\n", ""),
        ("causes-file", CAUSES, "how to tell: It no longer hisses., ", ""),
        ("causes-file", CAUSES, "do: Replace the hose.", "do: Replace the hose., moves: [{setting: x, to: 3, by: 4}]"),
        ("observations-file", OBSERVATIONS, "{hisses: It hisses., silent: Nothing is heard.}", "{hisses: It hisses.}"),
        ("observations-file", OBSERVATIONS, "observations:", "observation:"),
        ("observations-file", OBSERVATIONS, "    ask: Does it hiss when the pump runs?\n", ""),
    ],
)  # fmt: skip
def test_a_broken_file_is_refused(
    kind: str, text: str, old: str, new: str, validators: dict[str, Draft202012Validator]
) -> None:
    assert old in text
    assert faults(validators[kind], plain(parse(text, "x"))) == []
    assert faults(validators[kind], plain(parse(text.replace(old, new), "x")))


@pytest.mark.parametrize(
    "text",
    ["common practice", "from memory of smith-1990", "from memory of smith-1990, p. 4", "computed from core dose",
     "smith-1990b, ch. 2", "smith", "computed from", "from memory of", "read somewhere", "Smith-1990"],
)  # fmt: skip
def test_the_form_of_a_source_is_the_one_that_is_read(text: str) -> None:
    schema = Draft202012Validator(dict(formats.SOURCE))
    assert schema.is_valid(text) == (parse_source(text) is not None)


@pytest.mark.parametrize("name", [*SCHEMAS, *RULES_FILES])
def test_every_schema_is_printed_as_json_and_is_a_schema(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert _run(["schema", name]) == 0
    Draft202012Validator.check_schema(json.loads(capsys.readouterr().out))
