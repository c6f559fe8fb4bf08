"""Causes played through the interview: the shop answers as the rules imply, and the same for the same seed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from math import sqrt
from pathlib import Path
from random import Random

import pytest
from scipy.stats import chisquare

from diagnose.consult import Consultant
from diagnose.consult.play import Answering, Player
from diagnose.consult.world import SHOPS, shops, written_settings
from diagnose.derive.resolve import Resolver
from diagnose.rulebase.load import RuleBase
from tests.rulebase.folders import small_folder

STRONG, POSITIVE = (
    sqrt(20 * 150),
    sqrt(3 * 20),
)  # Kass & Raftery, J. Am. Stat. Assoc. 90, 773 (1995): bands of the words


def dice(seed: int) -> Callable[[str], Callable[[], float]]:
    return lambda name: Random(f"{seed}/{name}").random


@pytest.fixture
def small(tmp_path: Path) -> Consultant:
    base = RuleBase(small_folder(tmp_path))
    return Consultant(base, Resolver((), base.words.settings, base.words.slots))


def answers(of: Consultant, cause: str, name: str, count: int, noise: float = 0.0) -> Counter[str]:
    player = Player(of, "investment.weak-vacuum", dice(3))
    found: Counter[str] = Counter()
    for n in range(count):
        who = Answering(player.desk, player.shops[0], player.shops, cause, noise, dice(n))
        found[str(who.answer(name))] += 1
    return found


@pytest.mark.parametrize(
    ("cause", "weights"),
    [
        # Three answers alike often; milky speaks strongly for wet oil, so it is that much rarer elsewhere.
        ("investment.oil-wet", {"clear": 1 / POSITIVE, "milky": 1.0, "dark": 1.0}),
        ("investment.hose-leaks", {"clear": 1.0, "milky": 1 / STRONG, "dark": 1.0}),
    ],
)
def test_a_truthful_shop_answers_as_often_as_the_weights_of_the_rules_imply(
    cause: str, weights: dict[str, float], small: Consultant
) -> None:
    seen = answers(small, cause, "pump oil", 1500)
    total = sum(weights.values())
    expected = [1500 * w / total for w in weights.values()]
    # Pearson's chi-squared test, as scipy has it.
    assert chisquare([seen[a] for a in weights], expected).pvalue > 0.001


def test_noise_flips_its_share_of_the_answers(small: Consultant) -> None:
    seen = answers(small, "investment.hose-leaks", "leak sound", 1500, noise=0.2)
    silent_anyway = (1 / STRONG) / (1 / STRONG + 1 / 1)
    expected = 0.8 * silent_anyway + 0.2 * (1 - silent_anyway)
    assert seen["silent"] / 1500 == pytest.approx(expected, abs=4 * sqrt(expected * (1 - expected) / 1500))


def test_plays_are_the_same_for_the_same_seed_and_differ_for_another(small: Consultant) -> None:
    def play(seed: int) -> list[object]:
        return list(Player(small, "investment.weak-vacuum", dice(seed)).plays(8, 0.1, True))

    assert play(1) == play(1)
    assert play(1) != play(2)


def test_each_cause_with_a_sign_of_its_own_is_found(small: Consultant) -> None:
    found = list(Player(small, "investment.weak-vacuum", dice(1)).plays(40, 0.0, False))
    assert len(found) == 3 * 40
    assert all(p.flipped == 0 and p.questions - p.looks_again <= 3 for p in found)
    right = Counter(p.cause for p in found if p.first == p.cause)
    assert min(right.values()) > 20


def test_a_shop_drawn_for_a_cause_seldom_shows_the_strong_signs_of_another(of: Consultant) -> None:
    desk = of.desk("mold.soft-core")
    drawn = shops(of.base, desk, of.resolver, written_settings(of.base), Random(4).random)
    assert len(drawn) == SHOPS
    accusing = {
        c: {i for i, s in enumerate(drawn) if _accused(of, s, c)}
        for c in ("mold.cure-time-short", "mold.platens-colder")
    }
    short = accusing["mold.cure-time-short"]
    assert short
    assert len(short) < SHOPS
    for i in short:
        # What points at short time is at least as likely in a shop that cured too short as in any other.
        assert drawn[i].weights["mold.cure-time-short"] >= drawn[i].weights["unlisted"]


def _accused(of: Consultant, shop: object, cause: str) -> bool:
    desk = of.desk("mold.soft-core")
    applied = [desk.rules[m.rule] for m in desk.matcher.evaluate(shop.facts, shop.windows)]  # type: ignore[attr-defined]
    own = [r for r in applied if r.cause == cause]
    return bool(own) and all(r.speaks == "for" for r in own)
