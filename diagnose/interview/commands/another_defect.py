"""The facts suggest another defect than the one named: the choice to look into that one, offered once."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagnose.consult.mistaken import suggested
from diagnose.interview import words
from diagnose.interview.prompt import Reply, choose

if TYPE_CHECKING:
    from diagnose.interview.inquiry import Inquiry

PICK = "another defect"


def offer(inquiry: Inquiry) -> list[str]:
    """Put the choice before the person when the facts newly suggest another defect; return what tells it."""
    if inquiry.standing is None or inquiry.pick is not None:
        return []
    here = inquiry.standing.desk.defect
    found = [one for one in suggested(inquiry.standing) if one.defect not in inquiry.offered]
    if not found:
        return []
    base = inquiry.of.base
    inquiry.offered |= {here.id, *(one.defect for one in found)}
    options = [(_switch(base.defect(one.defect).name), base.defect(one.defect).looks) for one in found]
    inquiry.pick = (PICK, [*options, (words.STAY, f"{here.name}: {here.looks}")])
    return [inquiry.says(f"{words.MAYBE_ANOTHER} {one.tell}") for one in found]


def picked(inquiry: Inquiry, typed: str, stays: bool) -> Reply:
    """Turn to the other defect with everything told so far, or stay; `stays` when the person would not say."""
    assert inquiry.pick is not None
    options = [option for option, _ in inquiry.pick[1]]
    chosen = words.STAY if stays else choose(typed, options)
    if chosen is None:
        return Reply([f"Type a number from 1 to {len(options)}, not '{typed:.40}'."])
    inquiry.pick = None
    if chosen == words.STAY:
        return Reply([words.STAYED.format(name=inquiry.of.base.defect(inquiry.case.defect).name)])
    inquiry.begin_anew()
    wanted = next(d for d in inquiry.finder.defects if d.id in inquiry.offered and _switch(d.name) == chosen)
    return inquiry.attempt("defect", wanted.id)


def _switch(name: str) -> str:
    return f"look into: {name}"
