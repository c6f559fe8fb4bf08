"""A diagnosis as recorded beside the same with some facts changed; its JSON form is a contract."""

from __future__ import annotations

from pydantic import ConfigDict, Field

from diagnose.model.diagnosis import Diagnosis
from diagnose.model.record import Record


class Change(Record):
    """One fact that is taken to be otherwise."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)

    name: str
    from_: str = Field(alias="from", serialization_alias="from")
    to: str


class NumberBeside(Record):
    """A computed number as recorded and after the changes; empty where it cannot be computed."""

    name: str
    before: str
    after: str
    why_not: str = ""
    """Why it can no longer be computed."""


class WhatIf(Record):
    """What would be if some facts were others: nothing of it is recorded."""

    schema_version: int = 1
    changes: tuple[Change, ...]
    before: Diagnosis
    after: Diagnosis
    numbers: tuple[NumberBeside, ...] = ()
    cleared: tuple[str, ...] = ()
    """What speaks for a cause as recorded and no longer after the changes."""
    raised: tuple[str, ...] = ()
    """What speaks for a cause only after the changes."""
    elsewhere: tuple[str, ...] = ()
    """What the changes would accuse in other defects of the stage, at `positive` or stronger."""
    cautions: tuple[str, ...] = ()
    """Cautions that only the changes bring."""
