"""Imports run downwards only, and each outside library has one room."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parent.parent / "diagnose"
LEVELS = [
    {"cli"}, {"interview", "report"}, {"teach"}, {"consult"}, {"library"}, {"engine", "derive"}, {"rulebase", "calc"}, {"model"},
    {"units"}, {"errors"},
]  # fmt: skip
OWNERS = {
    "durable_rules_engine": "engine", "prompt_toolkit": "interview", "pint": "units", "yaml": "rulebase",
    "sqlalchemy": "library", "jinja2": "report", "matplotlib": "report",
}  # fmt: skip
FILES = sorted(PACKAGE.rglob("*.py"))


def room(path: Path) -> str:
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


def imported(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module


@pytest.mark.parametrize("path", FILES, ids=lambda p: str(p.relative_to(PACKAGE)))
def test_a_file_imports_only_from_its_own_level_or_below(path: Path) -> None:
    level = {name: i for i, names in enumerate(LEVELS) for name in names}
    here = room(path)
    for module in imported(path):
        if not module.startswith("diagnose."):
            owner = OWNERS.get(module.split(".")[0])
            assert owner in (None, here), f"{module} belongs to {owner}/"
            continue
        other = module.split(".")[1]
        if here in level:
            assert other == here or level[other] > level[here], f"{here} must not import {module}"


@pytest.mark.parametrize("path", [p for p in FILES if room(p) == "calc"], ids=lambda p: p.name)
def test_physics_needs_nothing_but_numbers(path: Path) -> None:
    import sys

    allowed = {*sys.stdlib_module_names, "numpy", "diagnose"}
    assert {m.split(".")[0] for m in imported(path)} <= allowed


@pytest.mark.parametrize("path", FILES, ids=lambda p: str(p.relative_to(PACKAGE)))
def test_only_the_outer_rooms_print_and_no_file_grows_past_its_ceiling(path: Path) -> None:
    text = path.read_text()
    assert len(text.splitlines()) <= 400
    if room(path) not in ("cli", "interview"):
        assert not any(
            isinstance(n, ast.Call) and isinstance(n.func, ast.Name) and n.func.id in ("print", "input", "eval", "exec")
            for n in ast.walk(ast.parse(text))
        )


@pytest.mark.parametrize("path", [p for p in FILES if room(p) == "consult"], ids=lambda p: p.name)
def test_the_use_case_reads_no_clock_environment_or_disk(path: Path) -> None:
    assert not {m.split(".")[0] for m in imported(path)} & {
        "os",
        "time",
        "datetime",
        "pathlib",
        "sys",
        "shutil",
        "random",
    }
