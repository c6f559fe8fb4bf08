"""`follow`: go on with the earlier fault that the evidence points to."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagnose.interview.prompt import Reply

if TYPE_CHECKING:
    from diagnose.interview.inquiry import Inquiry


def follow(inquiry: Inquiry) -> Reply:
    """Turn to the earlier fault with everything told so far: the first cause, or else the likeliest that is one."""
    earlier = inquiry.of.may_hand_over(inquiry.standing) if inquiry.standing else None
    if earlier is None:
        return Reply(["The evidence does not point to an earlier fault."])
    inquiry.begin_anew()
    return inquiry.attempt("defect", earlier)
