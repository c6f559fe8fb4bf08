"""Every error a person can meet, under one base class.

A message has three parts: where it went wrong, what is wrong (with the offending value), and what to do next.

    DiagnoseError
    |-- BadInput            what was typed or recorded cannot be used
    |   `-- OutOfRange      a calculator was asked about something outside its validity
    |-- RulesError          the rules base has errors; carries every issue found
    |-- EngineError         the rules engine refused or failed; never shown in its own words
    `-- StoreError          the case library cannot be read or written
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType

_NO_QUANTITIES: Mapping[str, float] = MappingProxyType({})
_IN_WORDS = re.compile(r"\{([^{}:]+):([^{}]*)\}")


class DiagnoseError(Exception):
    """Base of all errors with a message meant for a person."""

    exit_code = 1

    def __init__(self, what: str, *, where: str = "", next_step: str = "") -> None:
        self.what, self.where, self.next_step = what, where, next_step
        super().__init__(self.message())

    def message(self) -> str:
        """Return the whole message: where, what, what next."""
        head = f"{self.where}: {self.what}" if self.where else self.what
        return f"{head} {self.next_step}".strip()


class BadInput(DiagnoseError):
    """What was typed, or what a file records, cannot be used."""

    exit_code = 2


class OutOfRange(BadInput):
    """A calculator was asked about something outside the range where its formula holds.

    Its words hold quantities as `{flask diameter:m}`, name and SI unit, with `quantities` the values by name.
    Whoever knows in which units a person writes puts them in with `written`; until then they stand there in SI.
    A unit of `K change` is a difference of temperatures.
    """

    def __init__(
        self, what: str, quantities: Mapping[str, float] = _NO_QUANTITIES, *, where: str = "", next_step: str = ""
    ) -> None:
        self.quantities, self._words = quantities, (what, next_step)
        super().__init__(self._put_in(what, in_si), where=where, next_step=self._put_in(next_step, in_si))

    def placed(self, where: str) -> OutOfRange:
        """Return the same refusal with the place where it came up, unless it has one."""
        what, next_step = self._words
        return OutOfRange(what, self.quantities, where=self.where or where, next_step=next_step)

    def written(self, write: Callable[[str, float, str], str]) -> OutOfRange:
        """Return the same refusal with its quantities as `write` puts them: name, SI value, SI unit -> text."""
        what, next_step = (self._put_in(text, write) for text in self._words)
        return OutOfRange(what, where=self.where, next_step=next_step)

    def _put_in(self, text: str, write: Callable[[str, float, str], str]) -> str:
        def quantity(found: re.Match[str]) -> str:
            name, unit = found.groups()
            return write(name, self.quantities[name], unit) if name in self.quantities else found[0]

        return _IN_WORDS.sub(quantity, text)


def in_si(name: str, value: float, unit: str) -> str:
    """Return a quantity as it is computed with: in SI."""
    return f"{value:g} {unit.removesuffix(' change')}".strip()


class RulesError(DiagnoseError):
    """The rules base cannot be used as it stands; `issues` holds everything found, as text lines."""

    exit_code = 2

    def __init__(self, what: str, issues: Sequence[str] = (), *, where: str = "", next_step: str = "") -> None:
        self.issues = tuple(issues)
        super().__init__(what, where=where, next_step=next_step)


class EngineError(DiagnoseError):
    """The rules engine refused a rule or failed its self-check."""


class StoreError(DiagnoseError):
    """The case library cannot be read or written."""
