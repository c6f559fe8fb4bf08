"""Facts in, rules that apply out: the same answer whatever the order, the names and the company."""

from __future__ import annotations

import math
import sys
from random import Random
from threading import Thread

import pytest

from diagnose.engine import Match, Matcher
from diagnose.errors import EngineError
from diagnose.model.condition import Against, All, Any, AtLeast, Is, Nothing, Window, Within
from tests.engine.random_rules import AWKWARD, binary_world
from tests.engine.reference import truth

CRACK = Is(fact="crack along the edge", answers=("yes",))
SHORT = Against(fact="cure time", other="cure time needed", side="below", share=0.1)
HOT = Window(fact="platen temperature", sides=("above",))


def names(matcher: Matcher, facts: dict, windows: dict | None = None) -> list[str]:
    return [match.rule for match in matcher.evaluate(facts, windows or {})]


def test_a_match_names_the_comparisons_that_were_enough_and_what_each_saw() -> None:
    rule = All(parts=(CRACK, Any(parts=(SHORT, HOT)), Nothing(parts=(Within(fact="age", low=5.0),))))
    facts = {"crack along the edge": "yes", "cure time": 600.0, "cure time needed": 900.0, "age": 2.0}

    by_time = Matcher([("r", rule)]).evaluate(facts, {})
    by_heat = Matcher([("r", rule)]).evaluate({**facts, "cure time": 900.0}, {"platen temperature": "above"})

    assert by_time == (Match("r", ((CRACK, "yes"), (SHORT, 600.0), (Within(fact="age", low=5.0), 2.0))),)
    assert by_heat == (Match("r", ((CRACK, "yes"), (HOT, "above"), (Within(fact="age", low=5.0), 2.0))),)


def test_when_several_alternatives_hold_the_first_in_the_rule_is_the_reason() -> None:
    rule = Any(parts=(HOT, CRACK))

    (match,) = Matcher([("r", rule)]).evaluate({"crack along the edge": "yes"}, {"platen temperature": "above"})

    assert match.because == ((HOT, "above"),)


def test_what_is_unknown_makes_nothing_true_not_even_its_opposite() -> None:
    rules = [
        ("crack", CRACK),
        ("no crack", Nothing(parts=(CRACK,))),
        ("short", SHORT),
        ("long", Nothing(parts=(SHORT,))),
    ]

    assert names(Matcher(rules), {"cure time": 600.0}) == []
    assert names(Matcher(rules), {"crack along the edge": "no", "cure time": 900.0, "cure time needed": 900.0}) == [
        "no crack",
        "long",
    ]


def test_rules_come_out_in_the_order_they_went_in() -> None:
    facts = [Is(fact=f"f{n}", answers=("yes",)) for n in range(300)]
    order = Random(5).sample(range(300), 300)

    assert names(Matcher([(f"r{n}", facts[n]) for n in order]), {f"f{n}": "yes" for n in range(300)}) == [
        f"r{n}" for n in order
    ]


def test_rule_names_and_fact_names_and_answers_may_be_any_text() -> None:
    texts = [*AWKWARD, "x" * 70_000, "\x00", "\ud800"]  # the last is half a character, as from a broken file
    matcher = Matcher([(text, Is(fact=text, answers=(text,))) for text in texts])

    for text in texts:
        assert names(matcher, {text: text}) == [text]
        assert names(matcher, {text: text + "a"}) == []


def test_long_answers_that_agree_in_length_modulo_65536_are_told_apart() -> None:
    matcher = Matcher([("r", Is(fact="a", answers=("a" * 10,)))])

    assert names(matcher, {"a": "a" * 65_546}) == []


def test_facts_that_no_rule_looks_at_and_lists_of_readings_are_passed_over() -> None:
    matcher = Matcher([("crack", CRACK), ("warm", Within(fact="t", low=1.0))])

    assert names(matcher, {"crack along the edge": "yes", "other": math.nan, "t": (1.5, 2.5)}) == ["crack"]
    assert names(matcher, {"crack along the edge": ("yes",)}) == []


def test_whole_numbers_are_numbers() -> None:
    assert names(Matcher([("warm", Within(fact="t", low=1.0))]), {"t": 2}) == ["warm"]


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf, True, None, "2", [2.0], 10**400])
def test_what_is_no_number_is_refused_by_the_name_of_the_fact(bad: object) -> None:
    matcher = Matcher(
        [("warm", Within(fact="t", low=1.0)), ("near", Against(fact="u", other="t", side="above", amount=1.0))]
    )

    with pytest.raises(EngineError, match="fact 't': the rules expect a number"):
        matcher.evaluate({"t": bad}, {})  # type: ignore[dict-item]

    assert names(matcher, {"t": 2.0}) == ["warm"]


@pytest.mark.parametrize("bad", [1.0, None, True, ["yes"]])
def test_what_is_no_answer_is_refused_by_the_name_of_the_fact(bad: object) -> None:
    with pytest.raises(EngineError, match="fact 'crack along the edge': the rules expect an answer"):
        Matcher([("crack", CRACK)]).evaluate({"crack along the edge": bad}, {})  # type: ignore[dict-item]


def test_what_is_no_side_of_a_window_is_refused() -> None:
    with pytest.raises(EngineError, match="'left' is not a side"):
        Matcher([("hot", HOT)]).evaluate({}, {"platen temperature": "left"})  # type: ignore[dict-item]


def test_a_fact_that_is_an_answer_here_and_a_number_there_is_refused() -> None:
    with pytest.raises(EngineError, match=r"rule 'b': 't' is compared with an answer in one place"):
        Matcher([("a", Is(fact="t", answers=("1",))), ("b", Within(fact="t", low=1.0))])


def test_two_rules_of_one_name_are_refused() -> None:
    with pytest.raises(EngineError, match="rule 'a': 2 rules have this name"):
        Matcher([("a", CRACK), ("a", HOT)])


def test_rules_that_can_never_hold_are_named() -> None:
    matcher = Matcher([("a", CRACK), ("b", All(parts=(CRACK, Nothing(parts=(CRACK,)))))])

    assert matcher.never == ("b",)
    assert names(matcher, {"crack along the edge": "yes"}) == ["a"]


def test_no_rules_match_nothing() -> None:
    assert Matcher([]).evaluate({"a": "b"}, {}) == ()


def test_600_rules_on_one_condition_all_hold() -> None:
    assert len(names(Matcher([(f"r{n}", CRACK) for n in range(600)]), {"crack along the edge": "yes"})) == 600


def test_400_limits_passed_at_once_all_count() -> None:
    assert len(names(Matcher([(f"r{n}", Within(fact="t", low=float(n))) for n in range(400)]), {"t": 1e6})) == 400


def test_1500_different_conditions_are_told_apart() -> None:
    rules = [(f"r{n}", Within(fact=f"f{n}", low=0.5, high=1.5)) for n in range(1500)]

    assert names(Matcher(rules), {"f7": 1.0}) == ["r7"]


def test_a_rule_with_more_comparisons_than_fit_is_refused_by_name() -> None:
    wide = [Is(fact=f"f{n}", answers=("yes",)) for n in range(201)]

    assert names(Matcher([("wide", All(parts=tuple(wide[:200])))]), {f"f{n}": "yes" for n in range(200)}) == ["wide"]
    with pytest.raises(EngineError, match="rule 'too wide': one alternative of the condition has 201"):
        Matcher([("too wide", All(parts=tuple(wide)))])


def test_counting_things_with_many_answers_each_is_no_trouble() -> None:
    things = tuple(Is(fact=f"f{n}", answers=("a", "b", "c")) for n in range(7))
    matcher = Matcher([("three", AtLeast(count=3, parts=things))])

    assert names(matcher, {"f0": "a", "f3": "b", "f6": "c"}) == ["three"]
    assert names(matcher, {"f0": "a", "f3": "b", "f6": "d"}) == []


@pytest.fixture(scope="module")
def world() -> tuple[Matcher, list, list]:
    """Return a matcher, cases, and which rules hold in each by the naive reading."""
    rng, world = Random(11), binary_world(12)
    rules = [(f"r{n}", world.condition(rng, 1)) for n in range(120)]
    cases = [world.facts(rng, 0.8) for _ in range(40)]
    return Matcher(rules), cases, [[n for n, c in rules if truth(c, *case)] for case in cases]


def test_the_order_of_facts_does_not_matter(world: tuple[Matcher, list, list]) -> None:
    matcher, cases, _ = world
    for facts, windows in cases:
        found = matcher.evaluate(facts, windows)
        matcher.forget()

        assert matcher.evaluate(dict(reversed(facts.items())), dict(reversed(windows.items()))) == found


def test_going_back_to_earlier_answers_gives_the_earlier_result(world: tuple[Matcher, list, list]) -> None:
    matcher, cases, expected = world
    for _ in range(3):
        for case, rules in zip(cases, expected, strict=True):
            assert names(matcher, *case) == rules


def test_four_threads_at_once_get_the_right_answers(world: tuple[Matcher, list, list]) -> None:
    matcher, cases, expected = world
    wrong: list[int] = []
    done: list[int] = []

    def work(first: int) -> None:
        for n in range(first, first + 200):
            if n % 3 == 0:
                matcher.forget()
            if names(matcher, *cases[n % len(cases)]) != expected[n % len(cases)]:
                wrong.append(n)
            done.append(n)

    before = sys.getswitchinterval()
    sys.setswitchinterval(1e-5)
    try:
        threads = [Thread(target=work, args=(7 * n,)) for n in range(4)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
    finally:
        sys.setswitchinterval(before)

    assert (len(done), wrong) == (800, [])
