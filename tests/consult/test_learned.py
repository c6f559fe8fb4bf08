"""What a shop's cases make of the ranking: against exact inference in invented shops, and at the edges."""

from __future__ import annotations

import math
from statistics import mean

import numpy as np
import pytest
from scipy.stats import beta, dirichlet

from diagnose.consult.learned import IMAGINED_CASES, LEAST_SHARE, Learned, learn, learned_shares, learned_weight
from diagnose.consult.rank import BAYES_FACTOR, CAP, UNLISTED, log_weight, priors
from diagnose.model.condition import Is
from diagnose.model.experience import Experience, RuleCount
from diagnose.model.knowledge import Rule
from tests.consult.invented_shop import Seen, experience, invented_shop, log_loss, true_loss

SHOPS = range(12)
LEARNED_FROM, FRESH = 200, 800


def rule(speaks: str = "for", weight: str = "strong") -> Rule:
    when = Is(fact="sign", answers=("yes",))
    return Rule(
        id="d/a/sign", cause="a", speaks=speaks, weight=weight, when=when, about="sign", because="physics",
        source="common practice",
    )  # fmt: skip


def factor(told: tuple[int, int], spoke: tuple[int, int], speaks: str = "for", weight: str = "strong") -> float:
    """Return the factor after counts with the cause and with another one."""
    count = RuleCount(told={"a": told[0], "b": told[1]}, spoke={"a": spoke[0], "b": spoke[1]})
    return math.exp(learned_weight(rule(speaks, weight), count, frozenset({"b"})))


def losses(shop_number: int, moved: float = 1.0) -> tuple[float, float, float]:
    """Return the log loss on fresh cases: of the rules base alone, after learning, and of the true model."""
    dice = np.random.default_rng(shop_number)
    shop = invented_shop(dice, moved=moved)
    cases, fresh = shop.draw(dice, LEARNED_FROM), shop.draw(dice, FRESH)
    learned = learn(shop.defect, experience(shop.defect, cases))
    return log_loss(shop.defect, None, fresh), log_loss(shop.defect, learned, fresh), true_loss(shop, fresh)


def test_after_200_cases_the_ranking_is_within_5_percent_of_the_true_model_and_better_than_the_rules_alone() -> None:
    # The true model is Bayes' rule on the shop's own chances: nothing can do better on cases drawn from it.
    found = [losses(n) for n in SHOPS]
    assert all(learned < alone for alone, learned, _ in found), found
    assert mean(learned / true for _, learned, true in found) <= 1.05
    # Not because the rules base was right to begin with.
    assert mean(alone / true for alone, _, true in found) > 1.2


def test_random_labels_make_the_ranking_no_worse_than_the_rules_alone() -> None:
    for n in SHOPS:
        dice = np.random.default_rng(n)
        shop = invented_shop(dice)
        labels = list(shop.shares)
        cases = [Seen(str(dice.choice(labels)), c.signs) for c in shop.draw(dice, LEARNED_FROM + FRESH)]
        learned = learn(shop.defect, experience(shop.defect, cases[:LEARNED_FROM]))
        fresh = cases[LEARNED_FROM:]
        after = log_loss(shop.defect, learned, fresh)
        assert after <= 1.02 * log_loss(shop.defect, None, fresh)
        # Nothing can be known of such labels, so no chances can do better than equal ones: the entropy of the labels.
        assert after <= 1.1 * math.log(len(labels))


def test_where_the_experts_were_right_to_begin_with_learning_does_no_harm() -> None:
    for n in SHOPS:
        alone, learned, _ = losses(n, moved=0.0)
        assert learned <= 1.02 * alone


def test_a_few_cases_move_little_and_many_move_all_the_way() -> None:
    said = BAYES_FACTOR["strong"]
    assert factor((0, 0), (0, 0)) == pytest.approx(said)
    assert factor((5, 20), (0, 0)) == pytest.approx(said)  # it never spoke: nothing is known of how truly
    assert said / 2 < factor((5, 20), (4, 1)) < said
    # 80 % with the cause and 20 % without it: a factor of 4, by the definition of the Bayes factor.
    assert factor((50_000, 50_000), (40_000, 10_000)) == pytest.approx(4.0, rel=0.01)


def test_a_rule_never_speaks_the_other_way_nor_past_the_scale() -> None:
    assert factor((10_000, 10_000), (10, 5_000)) == pytest.approx(1.0)
    assert factor((10_000, 10_000), (5_000, 10), "against") == pytest.approx(1.0)
    assert factor((100_000, 100_000), (99_000, 1)) <= CAP * (1 + 1e-9)
    assert factor((100_000, 100_000), (1, 99_000), "against") >= 1 / CAP * (1 - 1e-9)


def test_a_cause_never_confirmed_keeps_a_tenth_of_its_share_at_least() -> None:
    prior = {"a": 4.0, "b": 1.0, UNLISTED: 2.0}
    shares = learned_shares(prior, {"a": 1_000_000.0})
    assert shares["b"] == pytest.approx(LEAST_SHARE * 1 / 7)
    assert shares["a"] / sum(shares.values()) > 0.9


def test_shares_are_the_posterior_mean_of_a_dirichlet_and_open_by_one_step_of_the_words() -> None:
    prior, confirmed = {"a": 4.0, "b": 1.0, UNLISTED: 2.0}, {"a": 7.0, "b": 3.0}
    shares = learned_shares(prior, confirmed)
    imagined = [IMAGINED_CASES * 3 * share / 7 for share in prior.values()]
    expected = dirichlet([a + confirmed.get(c, 0.0) for a, c in zip(imagined, prior, strict=True)]).mean()
    assert list(shares.values()) == pytest.approx(list(expected))
    # Before any case, the ln of one of six equal shares spreads by about ln 2, the step from common to occasional.
    drawn = beta(IMAGINED_CASES, 5 * IMAGINED_CASES)
    spread = math.sqrt(drawn.expect(lambda p: np.log(p) ** 2) - drawn.expect(np.log) ** 2)
    assert spread == pytest.approx(math.log(2.0), rel=0.15)


def test_a_cause_that_is_no_candidate_counts_as_unlisted() -> None:
    prior = {"a": 1.0, UNLISTED: 1.0}
    assert learned_shares(prior, {"elsewhere": 3.0}) == learned_shares(prior, {UNLISTED: 3.0})


def test_no_cases_teach_nothing() -> None:
    shop = invented_shop(np.random.default_rng(0))
    learned = learn(shop.defect, Experience(defect=shop.defect.id))
    total = sum(priors(shop.defect).values())
    assert {c: s * total for c, s in learned.prior.items()} == pytest.approx(priors(shop.defect))
    assert learned.weights == {}
    assert Learned().prior == {}


def test_how_often_a_rule_was_right_is_counted_over_every_case_in_which_it_spoke() -> None:
    shop = invented_shop(np.random.default_rng(1))
    spoken = next(r for r in shop.defect.rules() if r.speaks == "against")
    answer, sign = spoken.when.answers[0], spoken.when.fact
    other = next(c for c in shop.shares if c != spoken.cause)
    cases = [Seen(other, {sign: answer})] * 7 + [Seen(spoken.cause, {sign: answer})] * 2
    here = learn(shop.defect, experience(shop.defect, cases)).here[spoken.id]
    assert (here.truly, here.spoke) == (7, 9)
    assert here.factor < math.exp(abs(log_weight(spoken)))
