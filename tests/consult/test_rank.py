"""The ranking against exact Bayesian inference, and the rules of counting evidence."""

from __future__ import annotations

import itertools
import logging

import pytest

from diagnose.consult.rank import BAYES_FACTOR, UNLISTED, rank
from diagnose.model.condition import Is
from diagnose.model.knowledge import Rule


def rule(cause: str, speaks: str, weight: str, fact: str, about: str = "") -> Rule:
    return Rule(
        id=f"d/{cause}/{fact}/{weight}", cause=cause, speaks=speaks, weight=weight,
        when=Is(fact=fact, answers=("yes",)),
        about=about or fact, because="physics", source="common practice",
    )  # fmt: skip


def test_the_words_are_the_geometric_middles_of_the_published_bands() -> None:
    # Kass & Raftery, J. Am. Stat. Assoc. 90, 773 (1995), table of section 3.2: 1-3, 3-20, 20-150, >150 (capped at 200).
    assert BAYES_FACTOR["slight"] ** 2 == pytest.approx(1 * 3)
    assert BAYES_FACTOR["positive"] ** 2 == pytest.approx(3 * 20)
    assert BAYES_FACTOR["strong"] ** 2 == pytest.approx(20 * 150)
    assert BAYES_FACTOR["very strong"] ** 2 == pytest.approx(150 * 200)


def test_the_ranking_agrees_with_exact_inference_in_a_bayesian_network() -> None:
    """A small net whose likelihood ratios are exactly the weights, solved by pgmpy's variable elimination."""
    logging.disable(logging.WARNING)
    factors = pytest.importorskip("pgmpy.factors.discrete")
    models = pytest.importorskip("pgmpy.models")
    inference = pytest.importorskip("pgmpy.inference")
    causes = ["empty", "cold", "dirty", UNLISTED]
    prior = {"empty": 4.0, "cold": 2.0, "dirty": 1.0, UNLISTED: 2.0}
    links = {
        "no squeeze-out": {"empty": ("for", "strong"), "dirty": ("against", "positive")},
        "peels clean": {"dirty": ("for", "very strong")},
        "rubber stiff": {"cold": ("for", "positive"), "empty": ("against", "slight")},
    }
    net = models.DiscreteBayesianNetwork([("cause", fact) for fact in links])
    total = sum(prior.values())
    tables = [factors.TabularCPD("cause", 4, [[prior[c] / total] for c in causes])]
    for fact, said in links.items():
        yes = []
        for cause in causes:
            speaks, weight = said.get(cause, ("for", None))
            ratio = 1.0 if weight is None else BAYES_FACTOR[weight]
            yes.append(0.004 * (ratio if speaks == "for" else 1.0 / ratio))
        tables.append(factors.TabularCPD(fact, 2, [[1 - y for y in yes], yes], ["cause"], [4]))
    net.add_cpds(*tables)
    exact = inference.VariableElimination(net)
    for told in (t for n in range(1, 4) for t in itertools.combinations(links, n)):
        applied = [rule(c, s, w, fact) for fact in told for c, (s, w) in links[fact].items()]
        ours = rank(prior, applied).probabilities
        theirs = exact.query(["cause"], evidence=dict.fromkeys(told, 1), show_progress=False).values
        for cause, value in zip(causes, theirs, strict=True):
            assert ours[cause] == pytest.approx(value, rel=1e-9), told


def test_one_state_of_the_world_has_one_vote() -> None:
    prior = {"a": 1.0, "b": 1.0}
    once = rank(prior, [rule("a", "for", "strong", "core gummy", "core cure")])
    twice = rank(
        prior,
        [rule("a", "for", "strong", "core gummy", "core cure"), rule("a", "for", "positive", "core pale", "core cure")],
    )
    assert twice.probabilities == once.probabilities
    assert twice.counted == once.counted


def test_evidence_about_different_states_adds_up() -> None:
    prior = {"a": 1.0, "b": 1.0}
    both = rank(prior, [rule("a", "for", "strong", "x"), rule("a", "for", "positive", "y")]).probabilities
    assert both["a"] / both["b"] == pytest.approx(BAYES_FACTOR["strong"] * BAYES_FACTOR["positive"])
