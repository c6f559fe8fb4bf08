"""Groups and negations are worked out into alternatives, without losing or adding a meaning."""

from __future__ import annotations

import pytest

from diagnose.engine.demand import Look, NoneOf, OneOf, Span, both
from diagnose.engine.normal import alternatives
from diagnose.errors import EngineError
from diagnose.model.condition import All, Any, AtLeast, Condition, Is, Nothing, Window, Within

A, B, C, D = (Is(fact=name, answers=("yes",)) for name in "abcd")


def leaves_of(condition: Condition) -> list[str]:
    """Return each alternative as the letters of the facts in it."""
    return ["".join(leaf.fact for leaf in one.leaves) for one in alternatives("r", condition)]


def test_a_group_in_a_group_becomes_a_list_of_alternatives() -> None:
    assert leaves_of(All(parts=(Any(parts=(A, B)), Any(parts=(C, D))))) == ["ac", "ad", "bc", "bd"]


def test_at_least_two_of_three_is_every_pair() -> None:
    assert leaves_of(AtLeast(count=2, parts=(A, B, C))) == ["ab", "ac", "bc"]


def test_none_of_at_least_two_of_three_is_two_of_them_denied() -> None:
    found = alternatives("r", Nothing(parts=(AtLeast(count=2, parts=(A, B, C)),)))

    assert ["".join(leaf.fact for leaf in one.leaves) for one in found] == ["ab", "ac", "bc"]
    assert all(demand == NoneOf(frozenset({"yes"})) for one in found for demand in one.demands.values())


def test_none_of_none_is_any() -> None:
    twice = Nothing(parts=(Nothing(parts=(A, B)),))

    assert alternatives("r", twice) == alternatives("r", Any(parts=(A, B)))


def test_none_of_all_is_one_of_them_denied_and_none_of_any_all_of_them() -> None:
    assert leaves_of(Nothing(parts=(All(parts=(A, B)),))) == ["a", "b"]
    assert leaves_of(Nothing(parts=(Any(parts=(A, B)),))) == ["ab"]


def test_an_alternative_that_asks_more_than_another_is_dropped() -> None:
    assert leaves_of(Any(parts=(All(parts=(A, B)), A, A))) == ["a"]


@pytest.mark.parametrize(
    "parts",
    [
        (A, Nothing(parts=(A,))),
        (A, Is(fact="a", answers=("no",))),
        (Within(fact="t", high=3.0), Within(fact="t", low=3.0)),
        (Within(fact="t", low=1.0, high=3.0), Nothing(parts=(Within(fact="t", low=0.0, high=5.0),))),
        (Window(fact="t", sides=("below",)), Window(fact="t", sides=("inside", "above"))),
        (Is(fact="a", answers=()),),
        (Window(fact="t", sides=()),),
        (Within(fact="t", low=3.0, high=3.0),),
    ],
)
def test_parts_that_contradict_each_other_leave_no_alternative(parts: tuple[Condition, ...]) -> None:
    assert alternatives("r", All(parts=parts)) == []
    assert leaves_of(Any(parts=(All(parts=parts), B))) == ["b"]


def test_more_than_56_alternatives_are_refused_with_the_name_of_the_rule() -> None:
    facts = [Is(fact=f"f{n}", answers=("yes",)) for n in range(57)]

    assert len(alternatives("r", Any(parts=tuple(facts[:56])))) == 56
    with pytest.raises(EngineError, match=r"rule 'too wide': the condition comes to 57 alternatives"):
        alternatives("too wide", Any(parts=tuple(facts)))


def test_alternatives_without_number_are_refused_before_they_are_worked_out() -> None:
    facts = tuple(Is(fact=f"f{n}", answers=("yes",)) for n in range(60))
    pairs = tuple(Any(parts=(facts[n], facts[n + 1])) for n in range(0, 60, 2))

    for endless in (AtLeast(count=30, parts=facts), All(parts=pairs)):
        with pytest.raises(EngineError, match="more than 500 alternatives"):
            alternatives("endless", endless)


@pytest.mark.parametrize("empty", [All(parts=()), Nothing(parts=()), Nothing(parts=(AtLeast(count=2, parts=(A,)),))])
def test_a_condition_that_always_holds_is_refused(empty: Condition) -> None:
    with pytest.raises(EngineError, match="rule 'empty': the condition holds whatever the facts are"):
        alternatives("empty", empty)


def test_one_answer_of_many_is_still_one_alternative() -> None:
    two = Is(fact="a", answers=("x", "y", "z"))

    assert [one.demands for one in alternatives("r", two)] == [{Look("answer", "a"): OneOf(frozenset("xyz"))}]


@pytest.mark.parametrize(
    ("first", "second", "together"),
    [
        (Span(low=1, high=5), Span(low=1, high=3, low_shut=True, high_shut=True), Span(low=1, high=3, high_shut=True)),
        (Span(high=2, high_shut=True), Span(low=2, low_shut=True), Span(2, 2, True, True)),
        (Span(high=2, high_shut=True), Span(low=2), None),
        (OneOf(frozenset("ab")), NoneOf(frozenset("b")), OneOf(frozenset("a"))),
        (NoneOf(frozenset("a")), NoneOf(frozenset("b")), NoneOf(frozenset("ab"))),
        (OneOf(frozenset("a")), OneOf(frozenset("b")), None),
    ],
)
def test_two_demands_on_one_value_come_to_what_both_allow(first: object, second: object, together: object) -> None:
    assert both(first, second) == together  # type: ignore[arg-type]
    assert both(second, first) == together  # type: ignore[arg-type]


def test_a_number_and_an_answer_of_one_value_are_refused() -> None:
    with pytest.raises(TypeError, match="cannot be demanded"):
        both(Span(low=1), OneOf(frozenset("a")))
