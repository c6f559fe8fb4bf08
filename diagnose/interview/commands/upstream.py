"""`follow`, `follow other`: go on with an earlier fault that the evidence points to."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagnose.interview.commands.one_more_fault import NOTED
from diagnose.interview.prompt import Reply

if TYPE_CHECKING:
    from diagnose.interview.inquiry import Inquiry


def follow(inquiry: Inquiry) -> Reply:
    """Turn to the earlier fault with everything told so far: the first cause, or else the likeliest that is one."""
    return _turn_to(inquiry, 0)


def follow_other(inquiry: Inquiry) -> Reply:
    """Turn to the second likeliest of the earlier faults."""
    return _turn_to(inquiry, 1)


def _turn_to(inquiry: Inquiry, place: int) -> Reply:
    """Turn to one of the two likeliest earlier faults; where none is sure, the other is noted and comes after it."""
    standing = inquiry.standing
    earlier = inquiry.of.may_hand_over(standing)[:2] if standing else []
    if standing is None or place >= len(earlier):
        return Reply(["The evidence does not point to an earlier fault."])
    seen = {told_as for name, told_as in inquiry.told if name == "defect"}
    left = [] if inquiry.of.hands_over(standing) else [d for d in earlier if d not in seen and d != earlier[place]]
    noted = [line for other in left for line in inquiry.attempt(NOTED, other).say[:1]]
    inquiry.begin_anew()
    return Reply([*inquiry.attempt("defect", earlier[place]).say, *noted])
