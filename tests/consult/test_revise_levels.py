"""What an accusation compares, on made-up rules: bands joined, where they end, where a cause is spoken free."""

from __future__ import annotations

import pytest

from diagnose.consult.revise_levels import exits, innocents, says_it_is_right
from diagnose.model.condition import Against, All, Any, Condition, Is, Window, Within
from diagnose.model.knowledge import Rule


def rule(name: str, when: Condition, speaks: str = "for", cause: str = "mold.short") -> Rule:
    return Rule.model_validate(
        {
            "id": name, "cause": cause, "speaks": speaks, "weight": "positive", "when": when, "about": "cure",
            "because": name, "source": "common practice",
        }
    )  # fmt: skip


FAR = rule("far", Within(fact="ratio", high=0.75))
SHORT = rule("short", Within(fact="ratio", low=0.75, high=0.9))
CLEAR = rule("clear", Within(fact="ratio", low=1.0), "against")
OTHER = rule("other", Within(fact="ratio", high=2.0), cause="mold.other")
RULES = (FAR, SHORT, CLEAR, OTHER)


@pytest.mark.parametrize("now", [0.3, 0.75, 0.8])
def test_bands_side_by_side_are_left_together_and_the_cause_spoken_free_beyond(now: float) -> None:
    (way,) = exits(FAR, RULES, {"ratio": now})
    assert (way.rises, way.clear, way.free) == (True, 0.9, 1.0)


def test_a_band_closed_on_both_sides_has_two_ways_out() -> None:
    band = rule("band", Within(fact="ratio", low=1.2, high=1.5))
    assert [(w.rises, w.clear) for w in exits(band, (band,), {"ratio": 1.3})] == [(True, 1.5), (False, 1.2)]


def test_a_number_against_another_is_left_as_their_ratio_or_their_difference() -> None:
    thin = rule("thin", Against(fact="gate", other="needed", side="below", share=0.1))
    (way,) = exits(thin, (thin,), {"gate": 2.0, "needed": 5.0})
    assert (way.level.kind, way.rises, way.clear, way.free) == ("ratio", True, 0.9, None)
    late = rule("late", Against(fact="wait", other="needed", side="above", amount=3.0))
    (way,) = exits(late, (late,), {"wait": 9.0, "needed": 5.0})
    assert (way.level.kind, way.rises, way.clear) == ("difference", False, 3.0)


def test_a_band_that_goes_with_another_answer_is_no_band_here() -> None:
    parts = tuple(
        All(parts=(Is(fact="class", answers=(name,)), Within(fact="psi", low=edge)))
        for name, edge in (("heavy", 7.0), ("ordinary", 10.0))
    )
    over = rule("over", Any(parts=parts))
    (way,) = exits(over, (over,), {"psi": 16.0, "class": "ordinary"})
    assert (way.rises, way.clear) == (False, 10.0)


def test_a_number_that_is_not_known_or_a_thing_seen_has_no_way_out() -> None:
    assert exits(FAR, RULES, {}) == []
    seen = rule("seen", Is(fact="spot", answers=("soft",)))
    assert exits(seen, (seen,), {"spot": "soft"}) == []


def test_a_cause_is_spoken_free_by_the_same_number_or_window_only() -> None:
    inside = rule("inside", Window(fact="pressure", sides=("inside",)), "against")
    above = rule("above", Window(fact="pressure", sides=("above",)))
    both = rule("both", All(parts=(Within(fact="ratio", low=1.0), Is(fact="spot", answers=("soft",)))), "against")
    assert innocents(FAR, (*RULES, both)) == {"clear"}
    assert innocents(above, (inside, CLEAR)) == {"inside"}


def test_a_rule_that_accuses_because_a_number_is_right_is_told_from_a_step_of_a_scale() -> None:
    right = rule("right", Within(fact="error", low=-15.0, high=15.0), cause="tree.mixed")
    assert says_it_is_right(right, (right, FAR))
    assert says_it_is_right(rule("in", Window(fact="pressure", sides=("inside",))), ())
    assert not says_it_is_right(SHORT, RULES)
    assert not says_it_is_right(FAR, RULES)
