"""The matcher agrees with a naive reading of the conditions, and with another rules engine."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.engine import Match, Matcher
from diagnose.engine.normal import alternatives
from diagnose.errors import EngineError
from diagnose.model.condition import Condition, leaves
from tests.engine.in_clips import Clips
from tests.engine.random_rules import World, binary_world, decimal_world
from tests.engine.reference import only_these, truth

Rules = list[tuple[str, Condition]]


def some_rules(rng: Random, world: World, count: int, depth: int) -> Rules:
    """Return random rules, leaving out those that come to too many alternatives."""
    found: Rules = []
    while len(found) < count:
        rule = (f'rule {len(found)} "{rng.choice("abc")}', world.condition(rng, depth))
        try:
            alternatives(*rule)
        except EngineError:
            continue
        found.append(rule)
    return found


def some_cases(rng: Random, world: World, count: int) -> Iterator[tuple[dict[str, float | str], dict[str, str]]]:
    for _ in range(count):
        yield world.facts(rng, rng.choice((0.3, 0.7, 0.95, 1.0)))


def supported(match: Match, condition: Condition, facts: dict, windows: dict) -> bool:
    """Tell whether the reasons given are in the rule, true to the facts, and enough on their own."""
    used = [leaf for leaf, _ in match.because]
    if not all(value == (windows if leaf.kind == "window" else facts)[leaf.fact] for leaf, value in match.because):
        return False
    return set(used) <= set(leaves(condition)) and truth(condition, *only_these(used, facts, windows)) is True


@pytest.mark.parametrize("start", range(60))
def test_the_same_rules_hold_as_by_a_naive_reading_and_each_for_reasons_that_suffice(start: int) -> None:
    rng = Random(start)
    world = decimal_world(rng, rng.choice((3, 6, 12)))
    rules = some_rules(rng, world, rng.choice((1, 5, 20, 60)), depth=rng.choice((0, 1, 2, 3)))
    matcher = Matcher(rules)
    conditions = dict(rules)

    for facts, windows in some_cases(rng, world, 50):
        found = matcher.evaluate(facts, windows)

        assert [m.rule for m in found] == [n for n, c in rules if truth(c, facts, windows) is True]
        assert all(supported(m, conditions[m.rule], facts, windows) for m in found)


@settings(max_examples=200, deadline=None, derandomize=True)
@given(rng=st.randoms(use_true_random=False), depth=st.integers(0, 3), known=st.floats(0, 1))
def test_single_rules_hold_as_by_a_naive_reading(rng: Random, depth: int, known: float) -> None:
    world = decimal_world(rng, 2)
    condition = world.condition(rng, depth)
    try:
        matcher = Matcher([("only", condition)])
    except EngineError as refused:
        assert "alternatives" in str(refused)  # noqa: PT017
        return
    for _ in range(5):
        facts, windows = world.facts(rng, known)

        assert bool(matcher.evaluate(facts, windows)) == (truth(condition, facts, windows) is True)


@pytest.mark.parametrize("start", range(40))
def test_the_same_rules_hold_as_in_clips(start: int) -> None:
    rng = Random(1000 + start)
    world = binary_world(rng.choice((3, 8, 20)))
    rules = some_rules(rng, world, rng.choice((1, 10, 40)), depth=rng.choice((0, 1, 2)))
    matcher, clips = Matcher(rules), Clips(rules)

    for facts, windows in some_cases(rng, world, 60):
        assert [m.rule for m in matcher.evaluate(facts, windows)] == clips.evaluate(facts, windows)
