"""What the checker needs to know of a calculator."""

from __future__ import annotations

from typing import Protocol


class Calculating(Protocol):
    """A calculator as far as the rules base is concerned: its name, the facts in and out, its sources."""

    @property
    def name(self) -> str:
        """Return what it is called."""
        ...

    @property
    def needs(self) -> tuple[str, ...]:
        """Return the facts it cannot do without."""
        ...

    @property
    def takes(self) -> tuple[str, ...]:
        """Return the facts it uses when known."""
        ...

    @property
    def gives(self) -> tuple[str, ...]:
        """Return the facts it finds."""
        ...

    @property
    def sources(self) -> tuple[str, ...]:
        """Return where its formulas come from."""
        ...
