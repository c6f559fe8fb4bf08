"""What had to be assumed carries through to a range on each recommended number, and to where the advice turns."""

from __future__ import annotations

from itertools import pairwise

import pytest

from diagnose.consult import Consultant
from diagnose.derive.resolve import Resolver
from diagnose.model.diagnosis import Diagnosis, Revised
from diagnose.rulebase.cases import case_from_text

MINUTE = 60.0


def block(minutes: int, more: str = "") -> str:
    return f"""
defect: mold.soft-core
materials: {{rubber: natural rubber}}
settings: {{cure time: {minutes} min, platen temperature: 153 C, rubber thickness: 25 mm{more}}}
observations: {{platen probe: all within 3 C}}
"""


def diagnosed(of: Consultant, text: str) -> Diagnosis:
    return of.diagnose(case_from_text(text, "case", of.base))


def revised(found: Diagnosis, setting: str) -> Revised:
    return next(r for r in found.revised_settings if r.setting == setting)


def with_bounds(of: Consultant, name: str, low: float, high: float) -> Consultant:
    """Return a consultant that knows one property of natural rubber with other bounds."""
    slots = dict(of.base.words.slots)
    materials = dict(slots["rubber"].materials)
    known = materials["natural rubber"]
    value = known.properties[name].model_copy(update={"low": low, "high": high})
    properties = {**known.properties, name: value}
    materials["natural rubber"] = known.model_copy(update={"properties": properties})
    slots["rubber"] = slots["rubber"].model_copy(update={"materials": materials})
    return Consultant(of.base, Resolver(of.resolver.calculators, of.base.words.settings, slots))


def span(found: Diagnosis, setting: str = "cure time") -> tuple[float, float]:
    shown = revised(found, setting)
    assert shown.to_si is not None
    return shown.range_si or (shown.to_si, shown.to_si)


@pytest.mark.parametrize("minutes", [20, 30, 40])
def test_a_range_holds_the_number_itself(of: Consultant, minutes: int) -> None:
    found = diagnosed(of, block(minutes))
    for move in found.revised_settings:
        assert move.to_si is not None
        low, high = span(found, move.setting)
        assert low <= move.to_si <= high


def test_wider_bounds_widen_the_range_and_leave_the_number(of: Consultant) -> None:
    spans, numbers = [], []
    for low, high in ((8.0, 8.0), (7.5, 9.0), (7.0, 11.0), (6.5, 13.0)):
        found = diagnosed(with_bounds(of, "t90", low * MINUTE, high * MINUTE), block(40))
        spans.append(span(found))
        numbers.append(revised(found, "cure time").to_si)
    assert len(set(numbers)) == 1
    for (low, high), (lower, higher) in pairwise(spans):
        assert lower <= low <= high <= higher
    assert spans[-1][1] - spans[-1][0] > spans[0][1] - spans[0][0]


def test_an_end_of_the_range_is_what_is_advised_when_that_end_is_true(of: Consultant) -> None:
    found = diagnosed(with_bounds(of, "t90", 8 * MINUTE, 11 * MINUTE), block(40))
    known = diagnosed(of, block(40, ", own t90: 11 min"))
    assert span(found)[1] == pytest.approx(revised(known, "cure time").to_si, abs=MINUTE)


def test_where_the_accusation_vanishes_within_the_bounds_it_says_so_and_what_would_settle_it(of: Consultant) -> None:
    # 25 mm at 153 C want about an hour for 8 min to nine tenths cured: 50 min are too few, but not for a fast rubber.
    found = diagnosed(of, block(50))
    assert revised(found, "cure time")
    turn = next(t for t in found.search.turns if "no move is needed" in t.then)
    assert "rubber t90 is 6 min" in turn.if_
    t90 = next(d for d in found.search.doubts if d.name == "rubber t90")
    assert "own t90" in t90.settle
    fast = diagnosed(of, block(50, ", own t90: 6 min"))
    assert not any("cure time against need" in e.rule and e.speaks == "for" for c in fast.causes for e in c.evidence)


def test_what_is_recorded_is_no_doubt_any_more(of: Consultant) -> None:
    found = diagnosed(of, block(40, ", own t90: 8 min, platen contact: 1000 W/m2/K"))
    names = {d.name for d in found.search.doubts}
    assert not names & {"rubber t90", "platen contact"}


def test_where_nothing_is_assumed_there_is_no_range(of: Consultant) -> None:
    found = diagnosed(of, "{defect: wax.sticks-in-mold, settings: {mold temperature: 35 C}}")
    move = revised(found, "mold temperature")
    assert (move.range, move.range_si, found.search.doubts) == ("", None, ())
