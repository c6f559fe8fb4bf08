"""A typed name as one of those that are known; never guessed, but suggested."""

from __future__ import annotations

from collections.abc import Sequence

from diagnose.errors import BadInput


def one_of(what: str, typed: str, known: Sequence[str]) -> str:
    """Return the name meant: the whole name, or the end of just one after its stage; raise BadInput otherwise."""
    folded = typed.casefold()
    exact = [k for k in known if k.casefold() == folded]
    if exact:
        return exact[0]
    ends = [k for k in known if k.casefold().partition(".")[2] == folded]
    if len(ends) == 1:
        return ends[0]
    from diagnose.rulebase.cursor import suggest

    if ends:
        hint = f"There are {' and '.join(ends)}."
    else:
        few = f"There are: {', '.join(known)}." if len(known) < 12 else "`diagnose rules list` shows all."
        hint = suggest(typed, known) or few
    raise BadInput(f"there is no {what} '{typed}'.", next_step=hint)
