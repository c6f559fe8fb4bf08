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

from collections.abc import Sequence


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
    """A calculator was asked about something outside the range where its formula holds."""


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
