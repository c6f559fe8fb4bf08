"""`similar`: the kept cases that are like this one, what they turned out to be, what worked."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagnose.consult.alike import alike_words, like_words, what_worked
from diagnose.interview import words
from diagnose.interview.prompt import Reply

if TYPE_CHECKING:
    from diagnose.interview.inquiry import Inquiry

SHOWN = 5
ENOUGH_TOLD = 3  # facts before kept cases are looked for unasked


def like_this(inquiry: Inquiry) -> Reply:
    """List the kept cases most like this one."""
    if not inquiry.case.defect:
        return Reply([words.NAME_NO_DEFECT])
    if not inquiry.case.known():
        return Reply([words.NOTHING_TO_COMPARE])
    likes = inquiry.similar(inquiry.case)
    if likes is None or not likes.looked_at:
        return Reply([words.NONE_KEPT])
    if not likes.like:
        return Reply([words.NONE_ALIKE.format(count=likes.looked_at)])
    base = inquiry.of.base
    say = [inquiry.says(alike_words(base, likes))]
    worked = what_worked(likes)
    if worked:
        say.append(f"What worked: {'; '.join(worked[:SHOWN])}.")
    say += [like_words(base, one) for one in likes.like[:SHOWN]]
    if len(likes.like) > SHOWN:
        say.append(words.MORE_ALIKE.format(count=SHOWN))
    return Reply(say)


def newly_alike(inquiry: Inquiry) -> list[str]:
    """Return a line about kept cases like this one, the first time and when what they mostly were has changed."""
    likes = inquiry.similar(inquiry.case) if inquiry.answers >= ENOUGH_TOLD else None
    if likes is None or not likes.like:
        return []
    mostly = next(iter(likes.causes()), "")
    if inquiry.alike_to == mostly:
        return []
    inquiry.alike_to = mostly
    return [inquiry.says(f"{alike_words(inquiry.of.base, likes)} {words.SEE_ALIKE}")]
