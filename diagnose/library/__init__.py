"""Remembers cases. The rest of the program sees `Library` and `Draft` and nothing of how they are kept."""

from diagnose.library.draft import Draft
from diagnose.library.store import Library

__all__ = ["Draft", "Library"]
