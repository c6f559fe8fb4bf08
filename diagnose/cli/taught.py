"""The consultant that knows what this shop's own confirmed cases taught, unless it is told to leave them out."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from contextlib import suppress
from typing import TYPE_CHECKING

from diagnose.cli.setup import consultant
from diagnose.consult import Consultant
from diagnose.errors import DiagnoseError, StoreError
from diagnose.library.at_hand import something_kept

if TYPE_CHECKING:
    from diagnose.library.kept import Kept
    from diagnose.library.store import Library
    from diagnose.model.case import Case
    from diagnose.model.experience import Experience, Heard
    from diagnose.model.likeness import Likes

AT_ONCE = 100
"""How many waiting cases of a defect are learned from on the way; more wait for `diagnose library learn`."""
MANY_WAIT = "{count} confirmed cases have not been learned from yet: run `diagnose library learn`."
UNREADABLE = "What this shop's cases taught cannot be had, so the rules base speaks alone: {why}"


class Shop:
    """The shop's library as the consultant and the interview see it: opened when first asked, never in their way."""

    def __init__(self, given: Mapping[str, str], of: Consultant) -> None:
        self.given = given
        if something_kept(given.get("--library")):
            import diagnose.library.store  # noqa: F401 - here it loads behind the first prompt, not after an answer
        named = given.get("--units", "")
        self.of = of if "--without-shop" in given else Consultant(of.base, of.resolver, named, self.experience)
        self._opened: Library | None = None
        self._out_of_reach = False

    def experience(self, defect: str) -> Experience | None:
        """Return what the confirmed cases of a defect come to, after learning from those that still wait."""
        from diagnose.cli.wrap import tell
        from diagnose.library import learning

        try:
            library = self._library()
            if library is None:
                return None
            waiting = learning.waiting(library.database, defect)
            if waiting > AT_ONCE:
                tell(MANY_WAIT.format(count=waiting))
            elif waiting:
                # Where nothing can be written, what was learned before can still be read.
                with suppress(StoreError):
                    learning.learn(library.database, self.hear, defect)
            return learning.experience(library.database, defect)
        except DiagnoseError as error:
            self._out_of_reach = True
            tell(UNREADABLE.format(why=error.message()))
            return None

    def similar(self, case: Case) -> Likes | None:
        """Return the kept cases like one at hand, or None where there is no library to look in."""
        from diagnose.library.similar import similar

        try:
            library = self._library()
            if library is None or not case.defect:
                return None
            return similar(library.database, case, stage_of(self.of, case.defect))
        except DiagnoseError:
            self._out_of_reach = True
            return None

    def hear(self, kept: Kept, causes: tuple[str, ...]) -> Iterable[Heard]:
        """Return what the rules say of a case whose causes are known."""
        from diagnose.consult.hindsight import hindsight
        from diagnose.library.store import known

        return hindsight(self.of.rules_alone, known(kept.case(), self.of.base), causes)

    def _library(self) -> Library | None:
        if self._opened is None and not self._out_of_reach and something_kept(self.given.get("--library")):
            from diagnose.cli.shop import open_library

            self._opened = open_library(self.given)
        return None if self._out_of_reach else self._opened


def stage_of(of: Consultant, defect: str) -> list[str]:
    """Return the defects of the same stage."""
    stage = defect.split(".")[0]
    return [d for d in of.base.defect_files if d.split(".")[0] == stage]


def taught(given: Mapping[str, str]) -> Shop:
    """Return the shop with a consultant (`of`) that has learned from its cases or, with `--without-shop`, has not."""
    return Shop(given, consultant(given.get("--rules"), given.get("--units", "")))
