"""Kept cases like one at hand, in words: how many, what they turned out to be, what worked."""

from __future__ import annotations

from diagnose.consult.rank import UNLISTED
from diagnose.model.likeness import Like, Likes
from diagnose.rulebase.load import RuleBase

CAUSES_NAMED = 3


def alike_words(base: RuleBase, likes: Likes) -> str:
    """Return in one sentence how many are like this and what the most alike were; empty when none is."""
    if not likes.like:
        return ""
    found = [f"{likes.alike} like this here"]
    counts = list(likes.causes().items())
    for cause, count in counts[:CAUSES_NAMED]:
        found.append(f"{count} {'were' if count > 1 else 'was'}: {_name(base, cause)}")
    if not counts:
        found.append("none of them confirmed yet")
    elif len(counts) > CAUSES_NAMED:
        found.append("and others")
    if likes.alike > len(likes.like):
        found[1] = f"of the {len(likes.like)} most alike {found[1]}"
    return "; ".join(found) + "."


def what_worked(likes: Likes) -> list[str]:
    """Return what was changed in them that worked, the most frequent first."""
    counts: dict[str, int] = {}
    for one in likes.like:
        for change in one.worked:
            counts[change.rstrip(".")] = counts.get(change.rstrip("."), 0) + 1
    best = sorted(counts.items(), key=lambda item: -item[1])
    return [change + (f" ({count} times)" if count > 1 else "") for change, count in best]


def like_words(base: RuleBase, like: Like) -> str:
    """Return one like case in a line: what and when, how alike, what it was, what worked."""
    what = ", ".join(p for p in (like.part, like.date, f"from {like.shop}" if like.shop else "") if p)
    causes = [_name(base, c) for c in like.confirmed] + ([like.other_cause] if like.other_cause else [])
    was = f"was: {'; '.join(causes)}" if causes else "not confirmed yet"
    worked = f"; worked: {'; '.join(like.worked)}" if like.worked else ""
    how = f"{like.similarity:.0%} alike over {like.shared} fact{'s' if like.shared != 1 else ''}"
    return f"{like.name}{f' ({what})' if what else ''}: {how}; {was}{worked}"


def _name(base: RuleBase, cause: str) -> str:
    return "something not listed" if cause == UNLISTED else base.cause_name(cause)
