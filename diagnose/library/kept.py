"""A case as the library keeps it: what was told, what was said of it, what was tried, what it turned out to be.

Its JSON form is the exchange between libraries (one line each in JSON Lines) and the earlier revision of a changed
case.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Annotated, Literal, NamedTuple, TypeVar

from pydantic import AfterValidator, Field, StringConstraints, ValidationError, field_validator

from diagnose.errors import BadInput
from diagnose.model.case import Case, Recorded, Trial
from diagnose.model.diagnosis import Diagnosis
from diagnose.model.record import Record

R = TypeVar("R", bound=Record)
Result = Literal["", "cured", "better", "same", "worse"]
State = Literal["opened", "diagnosed", "tried", "confirmed", "closed"]
# Names are indexed, so they have an end.
Words = Annotated[str, StringConstraints(max_length=20_000)]
Name = Annotated[str, StringConstraints(max_length=300)]
LEAST_CHANCE = 0.001
"""Causes with less were not named to anybody."""
ZERO = "\\u0000"
UNLISTED = "unlisted"
"""The cause that a diagnosis names when it is none of those that the rules base lists."""
# SQLite does not keep the sign of a zero.
Number = Annotated[float, Field(allow_inf_nan=False), AfterValidator(lambda value: value + 0.0)]
_ISO_MONTH = re.compile(r"(\d{4})-(\d{2})(?:-\d{2})?")


class Told(NamedTuple):
    """One fact of a case: an answer, or as typed with its SI number or list of SI readings."""

    kind: Literal["material", "setting", "observation"]
    name: str
    typed: str
    number: float | None = None
    readings: tuple[float, ...] | None = None
    answer: str = ""


class Set(Record):
    """A recorded setting: what was typed and its SI value, or the SI values of a list of readings."""

    typed: Words
    value: Number | tuple[Number, ...]


class Moved(Record):
    """A setting of a trial: recorded -> revised, as typed and in SI where it could be read."""

    setting: Name
    before: Words = ""
    after: Words = ""
    before_si: Number | None = None
    after_si: Number | None = None


class Tried(Record):
    """A trial: what was changed, for which cause, and what came out."""

    changed: Words = ""
    outcome: Words = ""
    date: Words = ""
    result: Result = ""
    cause: Name = ""
    author: Name = ""
    moves: tuple[Moved, ...] = ()

    @field_validator("moves")
    @classmethod
    def _each_setting_once(cls, moves: tuple[Moved, ...]) -> tuple[Moved, ...]:
        return tuple({m.setting: m for m in sorted(moves, key=lambda m: m.setting)}.values())


class Spoke(Record):
    """A rule that spoke for or against a cause when the case was diagnosed."""

    rule: Name
    cause: Name
    speaks: Literal["for", "against"]
    counted: bool


class Chance(Record):
    """A cause that was named, with the chance said at the time."""

    cause: Name
    chance: Annotated[float, Field(ge=0.0, le=1.0)]


class Said(Record):
    """What the program said of a case: the ranked causes, best first, and every rule that spoke."""

    at: Name = ""
    verdict: Annotated[str, StringConstraints(max_length=24)] = ""
    causes: tuple[Chance, ...] = ()
    evidence: tuple[Spoke, ...] = ()

    @field_validator("evidence")
    @classmethod
    def _each_rule_once(cls, evidence: tuple[Spoke, ...]) -> tuple[Spoke, ...]:
        return tuple({e.rule: e for e in sorted(evidence, key=lambda e: e.rule)}.values())

    @classmethod
    def of(cls, diagnosis: Diagnosis, at: str = "") -> Said:
        """Return the part of a diagnosis that the library keeps."""
        spoke = tuple(
            Spoke(rule=e.rule, cause=c.id, speaks=e.speaks, counted=e.counted)
            for c in diagnosis.causes
            for e in c.evidence
        )
        named = [c for c in diagnosis.causes if c.probability >= LEAST_CHANCE] or diagnosis.causes[:1]
        causes = tuple(Chance(cause=c.id, chance=min(c.probability, 1.0)) for c in named)
        return cls(at=at, verdict=diagnosis.verdict, causes=causes, evidence=spoke)


class Photo(Record):
    """A picture by its path; `digest` is the SHA-256 of the copy in the library, if one was taken."""

    path: Words
    digest: Annotated[str, StringConstraints(pattern=r"^([0-9a-f]{64})?$")] = ""


class Kept(Record):
    """A case in the library."""

    name: Name = ""
    uid: Annotated[str, StringConstraints(pattern=r"^([0-9a-f]{32})?$")] = ""
    shop: Name = ""
    author: Name = ""
    opened_at: Annotated[str, StringConstraints(max_length=32)] = ""
    closed_at: Annotated[str, StringConstraints(max_length=32)] = ""
    part: Words = ""
    defect: Name = ""
    date: Words = ""
    materials: Mapping[Name, Name] = {}
    settings: Mapping[Name, Set] = {}
    observations: Mapping[Name, Name] = {}
    notes: Words = ""
    said: Said | None = None
    trials: tuple[Tried, ...] = ()
    confirmed: tuple[Name, ...] = ()
    other_cause: Words = ""
    cost: int | None = Field(default=None, ge=0, lt=2**62)
    currency: Name = ""
    photos: tuple[Photo, ...] = ()

    @classmethod
    def of(cls, case: Case, said: Said | None = None, author: str = "") -> Kept:
        """Return a case as it is first kept."""
        return checked(
            {
                "part": case.part, "defect": case.defect, "date": case.date, "notes": case.notes, "author": author,
                "materials": dict(case.materials), "observations": dict(case.observations), "said": said,
                "settings": {n: {"typed": r.typed, "value": r.value} for n, r in case.settings.items()},
                "trials": [t.model_dump() for t in case.trials], "confirmed": case.confirmed,
            }
        )  # fmt: skip

    def case(self) -> Case:
        """Return the case as the rest of the program knows it."""
        return Case(
            part=self.part, defect=self.defect, date=self.date, notes=self.notes, materials=self.materials,
            settings={n: Recorded(typed=s.typed, value=s.value) for n, s in self.settings.items()},
            observations=self.observations, confirmed=self.confirmed,
            trials=tuple(Trial(changed=t.changed, outcome=t.outcome or t.result, date=t.date) for t in self.trials),
        )  # fmt: skip

    def told(self) -> tuple[object, ...]:
        """Return what learning goes by: the facts, and what it turned out to be."""
        return self.defect, self.materials, self.settings, self.observations, self.confirmed, self.other_cause

    def told_anew(self, other: Kept) -> Kept:
        """Return this case with what another one was told; trials, confirmed causes and the rest stay."""
        fields = ("part", "defect", "date", "notes", "materials", "settings", "observations", "said")
        return self.model_copy(update={f: getattr(other, f) for f in fields})

    @property
    def true_causes(self) -> tuple[str, ...]:
        """Return what it turned out to be, `unlisted` for none of the listed causes; empty while not confirmed."""
        return (*self.confirmed, UNLISTED) if self.other_cause else self.confirmed

    @property
    def state(self) -> State:
        """Return how far the case has come."""
        if self.closed_at:
            return "closed"
        if self.confirmed or self.other_cause:
            return "confirmed"
        if self.trials:
            return "tried"
        return "diagnosed" if self.said else "opened"

    @property
    def stage(self) -> str:
        """Return the stage of the defect."""
        return self.defect.split(".")[0][:12]

    @property
    def month(self) -> int:
        """Return the month of the date as 202611, or 0 when it is no date."""
        found = _ISO_MONTH.fullmatch(self.date)
        return int(found[1]) * 100 + int(found[2]) if found and 1 <= int(found[2]) <= 12 else 0

    def facts(self) -> Iterator[Told]:
        """Yield every fact told, `not known` included."""
        for name, answer in self.materials.items():
            yield Told("material", name, "", answer=answer)
        for name, setting in self.settings.items():
            if isinstance(setting.value, tuple):
                yield Told("setting", name, setting.typed, readings=setting.value)
            else:
                yield Told("setting", name, setting.typed, number=setting.value)
        for name, answer in self.observations.items():
            yield Told("observation", name, "", answer=answer)

    def to_json(self) -> str:
        """Return the case as one line of JSON that reads back to the same case."""
        return self.model_dump_json(exclude_defaults=True)


def made(kind: type[R], fields: Mapping[str, object]) -> R:
    """Return a record from its fields; raise BadInput that names those that cannot be used."""
    try:
        return kind.model_validate(fields)
    except ValidationError as error:
        raise BadInput(_plain(error)) from None


def checked(fields: Mapping[str, object]) -> Kept:
    """Return a kept case from its fields; raise BadInput that names those that cannot be used."""
    kept = made(Kept, fields)
    _refuse_zero_bytes(kept.to_json())
    return kept


def from_json(line: str | bytes) -> Kept:
    """Return a record from a line of JSON; raise BadInput that says what is wrong with it."""
    try:
        kept = Kept.model_validate_json(line)
    except ValidationError as error:
        raise BadInput(_plain(error)) from None
    # A glance at the line first: looking into every field would take as long as reading them.
    if ZERO in line if isinstance(line, str) else ZERO.encode() in line:
        _refuse_zero_bytes(kept.to_json())
    return kept


def _refuse_zero_bytes(text: str) -> None:
    # PostgreSQL holds none. An even number of backslashes before it is a backslash that somebody wrote.
    if ZERO in text and re.search(r"(?<!\\)(?:\\\\)*\\u0000", text):
        raise BadInput("a text in it holds a zero byte.", next_step="Remove it.")


_SAID = {
    "missing": "is missing",
    "extra_forbidden": "is no part of a case",
    "string_type": "must be a text",
    "string_too_long": "is longer than {max_length} characters",
    "string_pattern_mismatch": "is not as a library writes it",
    "literal_error": "must be {expected}",
    "int_type": "must be a whole number",
    "int_parsing": "must be a whole number",
    "int_from_float": "must be a whole number",
    "float_type": "must be a number",
    "float_parsing": "must be a number",
    "finite_number": "must be a number that is not infinite",
    "greater_than_equal": "must be {ge:g} or more",
    "less_than_equal": "must be {le:g} or less",
    "less_than": "must be less than {lt:g}",
    "bool_type": "must be true or false",
    "bool_parsing": "must be true or false",
    "tuple_type": "must be a list",
    "model_type": "must hold `name: value` pairs",
    "mapping_type": "must hold `name: value` pairs",
    "dict_type": "must hold `name: value` pairs",
}
"""What is wrong with a field, in words of ours."""


def _plain(error: ValidationError) -> str:
    """Return what is wrong with a case, three faults at most, in the words of a person."""
    faults: dict[str, str] = {}
    for fault in error.errors(include_url=False):
        path = [str(p + 1) if isinstance(p, int) else p for p in fault["loc"] if not _is_inner(p)]
        if not path:
            return "is no case: a case is one JSON object on a line of its own."
        given = "" if fault["type"] == "missing" else str(fault.get("input", ""))
        shown = f" ({given if len(given) <= 60 else given[:57] + '...'})" if given else ""
        said = _SAID.get(fault["type"], "cannot be used").format(**fault.get("ctx", {})).replace("'', ", "")
        faults.setdefault(" / ".join(path), f"{shown} {said}")
    return "; ".join(f"{where}{said}" for where, said in list(faults.items())[:3]) + "."


def _is_inner(step: int | str) -> bool:
    """Say whether a step of a path is none of the case: which of two kinds of value was tried."""
    return isinstance(step, str) and step.partition("[")[0] in ("tuple", "function-after", "float")
