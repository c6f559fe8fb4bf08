"""What a diagnosis says; its JSON form is a contract (see `diagnose schema diagnosis`)."""

from __future__ import annotations

from typing import Literal

from pydantic import ConfigDict, Field

from diagnose.model.record import Record
from diagnose.model.verdict import Verdict


class FactShown(Record):
    """A fact that made a rule apply, as a person would read it."""

    name: str
    value: str
    origin: Literal["told", "computed", "assumed", "material"]


class RuleHere(Record):
    """How a rule fared in this shop's confirmed cases, and the factor that it counts with since."""

    spoke: int
    truly: int
    word_factor: float
    factor: float
    words: str


class CauseHere(Record):
    """How often a cause was confirmed among this shop's cases of the defect, and its share before any evidence."""

    confirmed: float
    cases: float
    word_share: float
    share: float
    words: str


class Evidence(Record):
    """A rule that applied."""

    rule: str
    speaks: Literal["for", "against"]
    weight: str
    counted: bool
    about: str
    facts: tuple[FactShown, ...]
    because: str
    source: str
    factor: float = 1.0  # by which it shifts the odds of its cause here, at least 1
    here: RuleHere | None = None


class RankedCause(Record):
    """A candidate cause with its probability and the evidence for and against."""

    id: str
    name: str
    stage: str
    probability: float
    hand_over: bool = False
    how: str = ""
    evidence: tuple[Evidence, ...] = ()
    here: CauseHere | None = None


class Contributing(Record):
    """A setting outside its window that some applied rule accuses."""

    setting: str
    value: str
    window: str
    side: Literal["below", "above"]
    causes: tuple[str, ...]
    source: str


class MoveShown(Record):
    """A move of one setting, worked out for this case."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)

    setting: str
    from_: str = Field(alias="from", serialization_alias="from")
    to: str
    unit: str
    why: str
    steps: str = ""
    """How to get there when the correction moves this setting by steps and one is not enough."""
    from_si: float | None = None
    to_si: float | None = None


class CorrectionShown(Record):
    """A correction to try."""

    cause: str
    do: str
    cost: str
    worsens: tuple[str, ...] = ()
    how_to_tell: str
    moves: tuple[MoveShown, ...] = ()
    cautions: tuple[str, ...] = ()
    source: str
    score: float = 0.0


class Margin(Record):
    """What a move leaves between a number and where rules accuse it, or between the setting and its limit."""

    name: str
    value: str
    limit: str
    because: str = ""


class Revised(Record):
    """One revised setting, with the calculation behind it."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)

    setting: str
    from_: str = Field(alias="from", serialization_alias="from")
    to: str
    why: str
    calculation: str = ""
    range: str = ""
    target: str = ""
    source: str = ""
    from_si: float | None = None
    to_si: float | None = None
    range_si: tuple[float, float] | None = None
    steps: str = ""
    """How to get there when corrections move this setting by steps and one is not enough."""
    margins: tuple[Margin, ...] = ()


class Dropped(Record):
    """A move, or a set of moves, that was considered and not recommended."""

    moves: str
    why: str


class Turn(Record):
    """Where the recommendation becomes another one: what would have to be so, and what then."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)

    if_: str = Field(alias="if", serialization_alias="if")
    then: str


class Doubt(Record):
    """Something assumed that widens the recommended numbers, and how to find it out."""

    name: str
    assumed: str
    settle: str


class Search(Record):
    """How the revised settings were found: what was considered and dropped, what stopped it, how sure they are."""

    outcome: Literal["clears", "as the correction says", "stopped", "no setting to move"] = "no setting to move"
    says: str = ""
    stopped_by: str = ""
    dropped: tuple[Dropped, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    turns: tuple[Turn, ...] = ()
    settle: str = ""
    unsafe: tuple[str, ...] = ()
    """Recorded settings that are past a safety limit, with the hazard."""
    tried: int = 0
    complete: bool = True


class Recheck(Record):
    """What the revised settings would clear and raise when put through the same rules."""

    cleared: tuple[str, ...] = ()
    raised: tuple[str, ...] = ()
    still_accused: tuple[str, ...] = ()
    note: str = ""


class Question(Record):
    """An open question, scored by what it would tell."""

    name: str
    kind: Literal["observation", "setting", "bench test", "material", "second look"]
    question: str
    bits: float
    effort: str
    why: str = ""
    would_settle: str = ""


class DerivedShown(Record):
    """A derived number with what it was computed from."""

    name: str
    value: str
    range: str = ""
    calculator: str
    assumed: tuple[str, ...] = ()
    says: str = ""


class Diagnosis(Record):
    """The answer: ranked causes, evidence, what to ask, what to change, and with what care."""

    schema_version: int = 1
    defect: str
    defect_name: str
    stage: str
    verdict: Verdict
    verdict_words: str
    leading: tuple[str, ...] = ()
    """Ids of the causes that the verdict names; one that another outweighs can still be at work."""
    causes: tuple[RankedCause, ...]
    contributing: tuple[Contributing, ...] = ()
    derived: tuple[DerivedShown, ...] = ()
    corrections: tuple[CorrectionShown, ...] = ()
    revised_settings: tuple[Revised, ...] = ()
    recheck: Recheck = Recheck()
    search: Search = Search()
    ask_next: tuple[Question, ...] = ()
    look_alikes: tuple[str, ...] = ()
    contradictions: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    learned: str = ""
    """What was learned from this shop's confirmed cases, and how to leave it out; empty when nothing was."""
    upstream: Diagnosis | None = None
    """When the first cause is itself a defect: the inquiry into that one, with the same facts."""
