"""What a shop's confirmed cases come to: counts, and nothing that could not be counted again."""

from __future__ import annotations

from collections.abc import Mapping

from diagnose.model.record import Record


class RuleCount(Record):
    """For each confirmed cause: in how many cases all that a rule looks at was told, and in how many it spoke."""

    told: Mapping[str, int] = {}
    spoke: Mapping[str, int] = {}


class Experience(Record):
    """The confirmed cases of one defect: how often each candidate or `unlisted`, what each rule (by key) said."""

    defect: str
    confirmed: Mapping[str, float] = {}
    rules: Mapping[str, RuleCount] = {}

    @property
    def cases(self) -> float:
        """Return how many cases were confirmed; several causes of one case share it."""
        return sum(self.confirmed.values())


class Heard(Record):
    """What the rules of one defect would say of one confirmed case."""

    defect: str
    causes: tuple[str, ...]
    said: Mapping[str, bool]
    """By a rule's key: whether it spoke. A rule that looks at something not told is left out."""
