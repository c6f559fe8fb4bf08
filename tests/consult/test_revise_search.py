"""The search for the smallest set of moves, against trying every set there is."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from typing import NamedTuple

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.consult import revise_search
from diagnose.consult.revise_search import Cost, Moves, moves_of, smallest


class Move(NamedTuple):
    setting: str
    after: float
    size: float
    named: bool


class Said(NamedTuple):
    will_do: bool
    enough: bool


class Balance:
    """A made-up shop: every move pushes three numbers; each must rise past a line and must not pass a second one."""

    def __init__(self, pushes: Mapping[tuple[str, float], tuple[int, int, int]], least: int, most: int) -> None:
        self.pushes, self.least, self.most, self.asked = pushes, least, most, 0

    def judge(self, moves: Moves) -> Said:
        self.asked += 1
        sums = [sum(self.pushes[m][i] for m in moves) for i in range(3)]
        return Said(sums[0] >= self.least and sums[1] <= self.most, sums[2] >= 0)


def every_set(options: Mapping[str, Sequence[Move]], shop: Balance) -> tuple[int, Cost] | None:
    """Return number and cost of the smallest set that will do, by trying every set of up to three settings."""
    found = []
    for count in (1, 2, 3):
        for names in itertools.combinations(sorted(options), count):
            for taken in itertools.product(*(options[n] for n in names)):
                said = shop.judge(moves_of(taken))
                if said.will_do:
                    unnamed, size = sum(not m.named for m in taken), sum(m.size for m in taken)
                    found.append((count, Cost(unnamed, 0 if said.enough else 1, size)))
    return min(found, default=None)


@st.composite
def shops(draw: st.DrawFn) -> tuple[dict[str, list[Move]], Balance]:
    options: dict[str, list[Move]] = {}
    pushes: dict[tuple[str, float], tuple[int, int, int]] = {}
    for name in "abcde"[: draw(st.integers(1, 5))]:
        named = draw(st.booleans())
        sizes = draw(st.lists(st.integers(1, 9), max_size=4, unique=True))
        options[name] = [Move(name, float(size), float(size), named) for size in sizes]
        for size in sizes:
            push = draw(st.tuples(st.integers(-2, 4), st.integers(-2, 4), st.integers(-3, 3)))
            pushes[name, float(size)] = push
    return options, Balance(pushes, draw(st.integers(1, 8)), draw(st.integers(0, 8)))


@given(shops())
@settings(max_examples=300)
def test_it_finds_the_set_that_trying_every_set_finds(made: tuple[dict[str, list[Move]], Balance]) -> None:
    options, shop = made
    found = smallest(options, shop.judge)
    best = every_set(options, shop)
    assert found.complete
    assert ((len(found.best), found.cost) if found.best else None) == best
    if found.best:
        assert shop.judge(moves_of(found.best)).will_do


@given(shops())
@settings(max_examples=50)
def test_the_order_in_which_settings_come_makes_no_difference(made: tuple[dict[str, list[Move]], Balance]) -> None:
    options, shop = made
    turned = {name: options[name][::-1] for name in reversed(options)}
    assert smallest(options, shop.judge).best == smallest(turned, shop.judge).best


def test_one_setting_moved_far_comes_before_two_moved_a_little() -> None:
    options = {"a": [Move("a", 1.0, 9.0, True), Move("a", 2.0, 1.0, True)], "b": [Move("b", 1.0, 1.0, True)]}
    shop = Balance({("a", 1.0): (5, 0, 0), ("a", 2.0): (3, 0, 0), ("b", 1.0): (3, 0, 0)}, least=5, most=0)
    assert moves_of(smallest(options, shop.judge).best) == (("a", 1.0),)


def test_sets_that_leave_an_accusation_untouched_are_not_asked_about() -> None:
    options = {n: [Move(n, 1.0, 1.0, True)] for n in "abc"}
    shop = Balance({(n, 1.0): (0, 0, 0) for n in "abc"}, least=1, most=0)
    smallest(options, shop.judge, must_touch=[frozenset("a"), frozenset("b")])
    assert shop.asked == 2  # a and b; a, b and c


def test_a_search_that_gives_up_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(revise_search, "EVALUATIONS", 2)
    options = {n: [Move(n, 1.0, 1.0, True)] for n in "abcd"}
    shop = Balance({(n, 1.0): (0, 0, 0) for n in "abcd"}, least=1, most=0)
    assert not smallest(options, shop.judge).complete
