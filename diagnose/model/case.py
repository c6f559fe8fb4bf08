"""One dated record of a bad part: what is wrong, what was seen, what was set, what it turned out to be."""

from __future__ import annotations

from collections.abc import Mapping

from diagnose.model.record import Record

Value = float | str | tuple[float, ...]


class Recorded(Record):
    """A recorded setting: what was typed and its SI value (a tuple for a list of readings)."""

    typed: str
    value: float | tuple[float, ...]


class Trial(Record):
    """What was changed and what came of it."""

    changed: str
    outcome: str
    date: str = ""


class Case(Record):
    """A case as a shop writes it down."""

    part: str = ""
    defect: str = ""
    date: str = ""
    materials: Mapping[str, str] = {}
    settings: Mapping[str, Recorded] = {}
    observations: Mapping[str, str] = {}
    notes: str = ""
    trials: tuple[Trial, ...] = ()
    confirmed: tuple[str, ...] = ()

    def known(self) -> dict[str, Value]:
        """Return every fact told so far: materials, settings, and observations that are not `not known`."""
        facts: dict[str, Value] = dict(self.materials)
        facts.update({name: r.value for name, r in self.settings.items()})
        facts.update({name: a for name, a in self.observations.items() if a != "not known"})
        return facts
