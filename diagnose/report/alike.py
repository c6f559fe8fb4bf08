"""Kept cases like one at hand, as lines."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagnose.consult.alike import alike_words, like_words, what_worked
from diagnose.report.screen_lines import Line, Page

if TYPE_CHECKING:
    from diagnose.model.likeness import Likes
    from diagnose.rulebase.load import RuleBase


def alike_lines(base: RuleBase, likes: Likes, width: int) -> list[Line]:
    """Return how many kept cases are like this one, what they were, what worked, and each of them."""
    page = Page(width)
    page.head("Cases like this one")
    if not likes.like:
        page.say(f"None of the {likes.looked_at} kept cases that were looked at is like this one.")
        return page.lines
    page.say(f"{alike_words(base, likes)} {likes.looked_at} were looked at.")
    worked = what_worked(likes)
    if worked:
        page.head("What worked")
        for change in worked:
            page.item(change)
    page.head("The most alike first")
    for one in likes.like:
        page.item(like_words(base, one))
    return page.lines
