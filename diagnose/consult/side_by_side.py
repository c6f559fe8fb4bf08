"""What differs between two cases: facts, evidence, outcome."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from diagnose.consult.standing import Standing
from diagnose.derive.calculator import Value
from diagnose.model.case import Case
from diagnose.model.comparison import CausePair, FactKind, FactPair, SideBySide
from diagnose.model.diagnosis import Diagnosis, Evidence, RankedCause

if TYPE_CHECKING:
    from diagnose.consult.consultant import Consultant

ORDER: tuple[FactKind, ...] = ("setting", "material", "computed", "observation")


class FactsCompared(NamedTuple):
    """The facts of two cases: those that differ, those told in only one, and those that are the same."""

    differ: tuple[FactPair, ...]
    only_in_one: tuple[FactPair, ...]
    same: tuple[FactPair, ...]


def side_by_side(of: Consultant, one: Case, other: Case) -> SideBySide:
    """Return two cases side by side."""
    found = of.diagnose(one), of.diagnose(other)
    facts = compare_facts(of, one, other, (of.stand(one), of.stand(other)))
    return SideBySide(
        parts=(one.part, other.part), defects=(found[0].defect_name, found[1].defect_name),
        verdicts=(found[0].verdict_words, found[1].verdict_words),
        differ=facts.differ, only_in_one=facts.only_in_one, same=facts.same, causes=_causes(*found),
    )  # fmt: skip


def compare_facts(
    of: Consultant, one: Case, other: Case, stands: tuple[Standing, Standing] | None = None
) -> FactsCompared:
    """Return the facts of two cases compared: settings first; numbers that rules look at too, where both stand."""
    here, there = one.known(), other.known()
    names = [*dict.fromkeys((*here, *there))]
    pairs = [(n, here.get(n), there.get(n)) for n in names]
    if stands is not None:
        one_side, other_side = (s.resolved.facts for s in stands)
        pairs += [(n, one_side.get(n), other_side.get(n)) for n in _computed(stands)]
    differ: list[FactPair] = []
    alone: list[FactPair] = []
    same: list[FactPair] = []
    for name, a, b in pairs:
        kind = _kind(of, name)
        pair = FactPair(name=name, kind=kind, one=_shown(of, name, a), other=_shown(of, name, b))
        (alone if a is None or b is None else same if is_same(of, name, a, b) else differ).append(pair)

    def settings_first(found: list[FactPair]) -> tuple[FactPair, ...]:
        return tuple(sorted(found, key=lambda p: ORDER.index(p.kind)))

    return FactsCompared(settings_first(differ), settings_first(alone), settings_first(same))


def is_same(of: Consultant, name: str, one: Value, other: Value) -> bool:
    """Say whether two values are the same for a person: numbers within half the step by which one would change them."""
    if isinstance(one, float) and isinstance(other, float):
        setting = of.base.words.settings.get(name)
        step = setting.usual_step if setting and setting.usual_step else 0.02 * max(abs(one), abs(other))
        return abs(one - other) < 0.5 * step or _shown(of, name, one) == _shown(of, name, other)
    if isinstance(one, tuple) and isinstance(other, tuple):
        return len(one) == len(other) and all(is_same(of, name, a, b) for a, b in zip(one, other, strict=True))
    return one == other


def _computed(stands: tuple[Standing, Standing]) -> list[str]:
    return list(
        dict.fromkeys(n for s in stands for n in s.desk.rule_facts if any(n in t.resolved.computed for t in stands))
    )


def _kind(of: Consultant, name: str) -> FactKind:
    words = of.base.words
    if name in words.settings:
        return "setting"
    if name in words.slots:
        return "material"
    return "computed" if name in words.derived else "observation"


def _shown(of: Consultant, name: str, value: Value | None) -> str:
    return "" if value is None else of.show.value(name, value)


def _causes(one: Diagnosis, other: Diagnosis) -> tuple[CausePair, ...]:
    here, there = {c.id: c for c in one.causes}, {c.id: c for c in other.causes}
    pairs = [_pair(here.get(c), there.get(c)) for c in dict.fromkeys((*here, *there))]
    return tuple(sorted(pairs, key=lambda p: -max(p.one or 0.0, p.other or 0.0)))


def _pair(one: RankedCause | None, other: RankedCause | None) -> CausePair:
    any_ = one or other
    assert any_ is not None
    mine, theirs = (_counted(one), _counted(other))
    return CausePair(
        cause=any_.id, name=any_.name, one=one.probability if one else None, other=other.probability if other else None,
        only_one=tuple(e for k, e in mine.items() if k not in theirs),
        only_other=tuple(e for k, e in theirs.items() if k not in mine),
    )  # fmt: skip


def _counted(cause: RankedCause | None) -> dict[tuple[str, str], Evidence]:
    return {(e.speaks, e.because): e for e in cause.evidence if e.counted} if cause else {}
