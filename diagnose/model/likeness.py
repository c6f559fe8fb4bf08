"""Kept cases that are like one at hand."""

from __future__ import annotations

from collections.abc import Mapping

from diagnose.model.record import Record


class Like(Record):
    """A kept case like the one at hand: how alike, over how many facts that both tell, and what came of it."""

    name: str
    date: str = ""
    part: str = ""
    defect: str = ""
    shop: str = ""
    similarity: float
    shared: int
    confirmed: tuple[str, ...] = ()
    other_cause: str = ""
    worked: tuple[str, ...] = ()


class Likes(Record):
    """The kept cases like one at hand: how many of those looked at, and the most alike of them, these first."""

    looked_at: int
    alike: int
    like: tuple[Like, ...] = ()

    def causes(self) -> Mapping[str, int]:
        """Return how many of the most alike turned out to be what, the most frequent first."""
        counts: dict[str, int] = {}
        for one in self.like:
            for cause in (*one.confirmed, *([one.other_cause] if one.other_cause else [])):
                counts[cause] = counts.get(cause, 0) + 1
        return dict(sorted(counts.items(), key=lambda item: -item[1]))
