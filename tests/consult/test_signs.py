"""What a sign counts: chances of a closed set of answers sum to one, worked by hand from the bands of the words."""

from __future__ import annotations

from math import exp, log, sqrt

import pytest

from diagnose.consult.rank import UNLISTED, log_weight, rank
from diagnose.consult.signs import SLIP, heard, holds, rare_signs, shares_of, sign_weights
from diagnose.model.condition import All, Any, AtLeast, Is, Nothing
from diagnose.model.knowledge import Rule
from diagnose.model.vocabulary import Observation
from diagnose.rulebase.load import RuleBase

STRONG, POSITIVE = sqrt(20 * 150), sqrt(3 * 20)  # Kass & Raftery, J. Am. Stat. Assoc. 90, 773 (1995)
ANSWERS = ("red", "green", "blue")


def seen(*answers: str, **usual: float) -> dict[str, Observation]:
    one = Observation(
        name="color", stage="wax", ask="Which?", why="", about="color", effort=60.0, answers={a: a for a in answers},
        usual=usual,
    )  # fmt: skip
    return {"color": one}


def rule(cause: str, speaks: str, weight: str, *answers: str) -> Rule:
    return Rule(
        id=f"{cause}/{speaks}/{answers}", cause=cause, speaks=speaks, weight=weight, about="color",
        when=Is(fact="color", answers=answers), because="-", source="common practice",
    )  # fmt: skip


def factors(*rules: Rule, answers: tuple[str, ...] = ANSWERS, **usual: float) -> list[float]:
    found = sign_weights(rules, seen(*answers, **usual), slip=0.0)
    return [exp(found[r.id]) for r in rules]


def test_a_sign_among_ordinary_answers_counts_almost_in_full() -> None:
    # Shares 1/3 each, red 1/3 over 55 without its cause: Z = (1/55 * 55 + 2) / (1/55 + 2) = 3 / 2.018.
    (found,) = factors(rule("a", "for", "strong", "red"))
    assert found == pytest.approx(STRONG / (3.0 / (1.0 / STRONG + 2.0)))
    assert found > 0.6 * STRONG


def test_where_every_answer_is_a_sign_each_counts_what_a_full_table_of_chances_gives() -> None:
    rules = [rule(c, "for", "strong", answer) for c, answer in zip("abc", ANSWERS, strict=True)]
    # A fourth cause gives each answer with 1/3; cause a gives red with 55/57: a factor of 3 * 55 / 57.
    assert factors(*rules) == pytest.approx([3.0 * STRONG / (STRONG + 2.0)] * 3)


def test_two_accused_causes_keep_the_ratio_of_their_words_whatever_else_is_a_sign() -> None:
    rules = [
        rule("a", "for", "strong", "red"),
        rule("b", "for", "strong", "green"),
        rule("b", "against", "positive", "red"),
    ]
    weights = sign_weights(rules, seen("red", "green"), slip=0.0)
    now = rank({"a": 1.0, "b": 1.0, UNLISTED: 1.0}, [rules[0], rules[2]], lambda r: weights[r.id]).probabilities
    full = weights[rules[0].id] + log(POSITIVE)
    assert now["a"] / now["b"] == pytest.approx(exp(full))
    assert now["b"] / now[UNLISTED] == pytest.approx(1.0 / POSITIVE)


def test_what_speaks_against_counts_in_full_and_a_sign_never_turns_round() -> None:
    slight = rule("a", "for", "slight", "red")
    against = rule("a", "against", "strong", "blue")
    found = factors(slight, rule("a", "for", "very strong", "green"), against, rule("b", "for", "strong", "red"))
    assert found[2] == pytest.approx(1.0 / STRONG)
    assert all(f >= 1.0 for i, f in enumerate(found) if i != 2)


def test_the_usual_answers_of_a_question_take_their_share() -> None:
    rare = factors(rule("a", "for", "strong", "red"), rule("b", "for", "strong", "green"), blue=0.98)
    assert rare[0] > 0.9 * STRONG


def test_a_rule_that_looks_at_more_than_one_fact_counts_as_its_word() -> None:
    both = rule("a", "for", "strong", "red").model_copy(
        update={"when": All(parts=(Is(fact="color", answers=("red",)), Is(fact="size", answers=("big",))))}
    )
    assert factors(both, rule("b", "for", "strong", "red"), rule("c", "for", "strong", "green"))[0] == pytest.approx(
        STRONG
    )


@pytest.mark.parametrize("speaks", ["for", "against"])
def test_a_slip_gives_a_sign_as_often_as_slips_are_made(speaks: str) -> None:
    # Of 1000 answers 50 are slips: a sign that is never there without its cause is heard 50 times all the same.
    never = log(1e12) if speaks == "for" else -log(1e12)
    assert exp(abs(heard(never, 0.05))) == pytest.approx(1000 / 50)
    # A sign 55 times rarer without its cause: 950 / 55 true ones and 50 slips.
    strong = log(STRONG) if speaks == "for" else -log(STRONG)
    assert heard(strong, 0.05) == pytest.approx(log(1000 / (950 / STRONG + 50)) * (1 if strong > 0 else -1))


def test_no_answer_outweighs_what_slips_allow_and_weak_signs_hardly_change() -> None:
    rules = [rule("a", "for", "very strong", "red"), rule("b", "for", "slight", "green")]
    found, full = sign_weights(rules, seen(*ANSWERS)), sign_weights(rules, seen(*ANSWERS), slip=0.0)
    assert max(found.values()) < log(1.0 / SLIP) < max(full.values())
    assert min(found.values()) == pytest.approx(min(full.values()), abs=2 * SLIP)


def test_what_a_material_says_counts_in_full(base: RuleBase) -> None:
    every = [r for defect in base.all_defects() for r in defect.rules()]
    rules = [r for r in every if isinstance(r.when, Is) and r.when.fact == "metal kind"]
    assert rules
    found = sign_weights(rules, base.words.observations)
    assert all(found[r.id] == log_weight(r) for r in rules)


def test_shares_without_a_cause_sum_to_one_and_keep_the_ratio_of_a_sign() -> None:
    shares = rare_signs(shares_of(seen(*ANSWERS)["color"]), {"red": {"a": log(STRONG)}})
    assert sum(shares.values()) == pytest.approx(1.0)
    assert shares["green"] / shares["red"] == pytest.approx(STRONG)


@pytest.mark.parametrize(
    ("condition", "expected"),
    [
        (Is(fact="color", answers=("red", "blue")), {"red", "blue"}),
        (Any(parts=(Is(fact="color", answers=("red",)), Is(fact="color", answers=("blue",)))), {"red", "blue"}),
        (All(parts=(Is(fact="color", answers=("red", "blue")), Is(fact="color", answers=("blue",)))), {"blue"}),
        (Nothing(parts=(Is(fact="color", answers=("red",)),)), {"green", "blue"}),
        (
            AtLeast(count=2, parts=tuple(Is(fact="color", answers=a) for a in (("red",), ("red", "blue"), ("blue",)))),
            {"red", "blue"},
        ),
    ],
)
def test_a_condition_on_one_question_holds_for_its_answers(condition: object, expected: set[str]) -> None:
    assert {a for a in ANSWERS if holds(condition, a)} == expected  # type: ignore[arg-type]
