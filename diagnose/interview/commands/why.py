"""`why NAME`, `why not NAME`, `show all`: the reasons behind a cause, a number, or everything."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rapidfuzz import fuzz

from diagnose.consult.explain import explained
from diagnose.consult.explain import why as balance_on
from diagnose.consult.explain import why_not_first as reasons_against
from diagnose.consult.rank import UNLISTED
from diagnose.consult.unfold import unfold
from diagnose.interview import words
from diagnose.interview.prompt import Reply

if TYPE_CHECKING:
    from diagnose.interview.inquiry import Inquiry

NEAR = 80.0  # likeness from which loosely spelled words name a cause


def why(inquiry: Inquiry, typed: str) -> Reply | None:
    """Show the evidence on a cause, or how a computed number came about."""
    if typed.casefold() == "not":
        return why_not(inquiry, "")
    return _reasons(inquiry, typed, against=False)


def why_not(inquiry: Inquiry, typed: str) -> Reply | None:
    """Show what speaks against a cause, and what would have to be different."""
    return _reasons(inquiry, typed, against=True)


def show_more(inquiry: Inquiry, typed: str) -> Reply | None:
    """Show everything that stands behind the diagnosis on `show all`, or one cause or number by name."""
    if typed.casefold() not in ("all", "everything", "reasons"):
        return why(inquiry, typed)
    if inquiry.standing is None:
        return Reply([words.NAME_NO_DEFECT])
    return Reply(shown=explained(inquiry.of, inquiry.case))


def _reasons(inquiry: Inquiry, typed: str, against: bool) -> Reply | None:
    if inquiry.standing is None:
        return None  # what is wrong has not been said yet: the line tells that
    cause = cause_meant(inquiry, typed)
    if cause is not None:
        return Reply(shown=(reasons_against if against else balance_on)(inquiry.of, inquiry.case, cause))
    computed = inquiry.standing.resolved.computed
    fact = next(iter(inquiry.of.base.words.names_meant.meant(typed, among=computed)), "")
    if fact:
        return Reply(shown=unfold(inquiry.of, inquiry.standing.resolved, fact))
    names = "; ".join(inquiry.of.show.cause(c) for c in inquiry.standing.ranking.probabilities if c != UNLISTED)
    return Reply([words.NO_SUCH_CAUSE.format(typed=typed, names=inquiry.says(names))])


def cause_meant(inquiry: Inquiry, typed: str) -> str | None:
    """Return the cause meant by its place in the ranking, its id, or words of its name; None if unclear."""
    assert inquiry.standing is not None
    causes = list(inquiry.standing.ranking.probabilities)
    folded = typed.casefold().strip(" ?.!")
    if folded.isdigit():
        return causes[int(folded) - 1] if 1 <= int(folded) <= len(causes) else None
    names = {c: inquiry.of.show.cause(c).casefold() for c in causes}
    for cause, name in names.items():
        if folded in (cause, name, inquiry.says(inquiry.of.show.cause(cause)).casefold()):
            return cause
    holding = [c for c, name in names.items() if folded and all(word in name for word in folded.split())]
    if len(holding) == 1:
        return holding[0]
    scored = sorted(((fuzz.token_set_ratio(folded, name), c) for c, name in names.items()), reverse=True)
    clear = len(scored) == 1 or scored[0][0] - scored[1][0] >= 8
    return scored[0][1] if folded and scored[0][0] >= NEAR and clear and not holding else None
