"""Remembers cases. The rest of the program sees `Library` and `Draft` and nothing of how they are kept.

`Library` brings the database with it, so it is imported when it is named: the first prompt needs only `Draft`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagnose.library.draft import Draft

if TYPE_CHECKING:
    from diagnose.library.store import Library

__all__ = ["Draft", "Library"]


def __getattr__(name: str) -> object:
    if name == "Library":
        from diagnose.library.store import Library

        return Library
    raise AttributeError(name)
