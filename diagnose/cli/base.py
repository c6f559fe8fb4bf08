"""The rules base for the command: the folder that is meant, and what was read of it before."""

from __future__ import annotations

from pathlib import Path

from platformdirs import user_cache_path

from diagnose.rulebase.load import RuleBase


def cache_folder() -> Path:
    """Return where what was read is put by; it can be removed at any time."""
    return user_cache_path("second-pour", appauthor=False)


def rules_base(folder: str | None = None) -> RuleBase:
    """Return the rules base in a folder, or the one that came with the program."""
    return RuleBase(Path(folder) if folder else None, cache_folder())
