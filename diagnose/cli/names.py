"""A typed name as one of those that are known; never guessed, but suggested."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from diagnose.errors import BadInput

if TYPE_CHECKING:
    from diagnose.rulebase.load import RuleBase


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


def cause_named(typed: str, base: RuleBase, *more: str) -> str:
    """Return the cause meant, by id, the end of its id, or its name."""
    by_name = {base.causes[c].name.casefold(): c for c in base.causes}
    return by_name.get(typed.casefold()) or one_of("cause", typed, [*base.causes, *base.defect_files, *more])


def defect_named(typed: str, base: RuleBase) -> str:
    """Return the defect meant, by id, the end of its id, or its name."""
    by_name = {} if typed in base.defect_files else {d.name.casefold(): d.id for d in base.all_defects()}
    return by_name.get(typed.casefold()) or one_of("defect", typed, list(base.defect_files))


def pairs(typed: Iterable[str]) -> list[tuple[str, str]]:
    """Return NAME=VALUE options as pairs; raise BadInput for one without an equals sign."""
    found = []
    for text in typed:
        name, sign, value = text.partition("=")
        if not sign or not name.strip() or not value.strip():
            raise BadInput(f"'{text}' is not NAME=VALUE.", next_step="Write both, with = between them.")
        found.append((name.strip(), value.strip()))
    return found
