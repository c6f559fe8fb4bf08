"""Comparisons between facts follow the decimals a person wrote, and limits count as the rules say."""

from __future__ import annotations

import math
import sys
from fractions import Fraction

import pytest

from diagnose.engine import Matcher
from diagnose.engine.comparison import difference, ratio
from diagnose.errors import EngineError
from diagnose.model.condition import Against, Beyond, Condition, Nothing, Window, Within


def holds(condition: Condition, **facts: float) -> bool:
    return bool(Matcher([("r", condition)]).evaluate(facts, {}))


def test_five_percent_below_means_under_95_hundredths_exactly() -> None:
    # Exact decimals by fractions: 95 % of a whole number of whole units has at most two places.
    rule = Matcher([("low", Against(fact="set", other="best", side="below", share=0.05))])

    for best in range(1, 400):
        edge = Fraction(best * 95, 100)
        assert not rule.evaluate({"set": float(edge), "best": float(best)}, {})
        assert rule.evaluate({"set": float(edge - Fraction(1, 10**6)), "best": float(best)}, {})


def test_a_difference_made_only_by_a_change_of_units_is_none() -> None:
    # 18 Fahrenheit degrees are exactly 10 kelvin.
    def kelvin(fahrenheit: float) -> float:
        return (fahrenheit + 459.67) * 5 / 9

    rule = Matcher([("hot", Against(fact="set", other="best", side="above", amount=10.0))])

    for best in range(-40, 2200, 7):
        assert not rule.evaluate({"set": kelvin(best + 18), "best": kelvin(best)}, {})
        assert rule.evaluate({"set": kelvin(best + 18.001), "best": kelvin(best)}, {})


def test_the_opposite_of_more_than_a_share_below_includes_the_edge() -> None:
    below = Against(fact="a", other="b", side="below", share=0.1)

    assert [holds(below, a=a, b=10.0) for a in (8.9, 9.0, 9.1)] == [True, False, False]
    assert [holds(Nothing(parts=(below,)), a=a, b=10.0) for a in (8.9, 9.0, 9.1)] == [False, True, True]


@pytest.mark.parametrize("other", [0.0, -0.0, -5.0, 5e-324])
def test_a_share_of_nothing_or_less_makes_nothing_true_and_nothing_false(other: float) -> None:
    for side in ("below", "above"):
        rule = Against(fact="a", other="b", side=side, share=0.1)

        assert not holds(rule, a=1.0, b=other)
        assert not holds(Nothing(parts=(rule,)), a=1.0, b=other)


def test_a_difference_is_fine_around_zero() -> None:
    rule = Against(fact="a", other="b", side="below", amount=0.5)

    assert [holds(rule, a=a, b=0.0) for a in (-0.6, -0.5, 0.0)] == [True, False, False]


def test_far_apart_numbers_still_compare() -> None:
    huge = sys.float_info.max

    assert ratio(huge, 1e-300) == huge
    assert difference(huge, -huge) == huge
    assert holds(Against(fact="a", other="b", side="above", amount=1.0), a=huge, b=-huge)


def test_within_leaves_its_ends_out_and_beyond_takes_them_in() -> None:
    values = (math.nextafter(2.0, 0), 2.0, math.nextafter(2.0, 3), 3.0)

    assert [holds(Within(fact="a", low=2.0, high=3.0), a=v) for v in values] == [False, False, True, False]
    assert [holds(Beyond(fact="a", low=2.0, high=3.0), a=v) for v in values] == [True, True, False, True]
    assert [holds(Nothing(parts=(Within(fact="a", low=2.0, high=3.0),)), a=v) for v in values] == [
        True,
        True,
        False,
        True,
    ]


def test_open_at_both_ends_holds_for_any_number_that_is_known() -> None:
    known = Within(fact="a")

    assert holds(known, a=-sys.float_info.max)
    assert not holds(known, b=1.0)
    assert not holds(Nothing(parts=(known,)), a=1.0)


def test_sides_of_a_window_are_told_apart_and_denied() -> None:
    low, sides = Window(fact="t", sides=("below",)), ("below", "inside", "above")
    rules = Matcher(
        [("low", low), ("not low", Nothing(parts=(low,))), ("off", Window(fact="t", sides=("below", "above")))]
    )

    assert [[m.rule for m in rules.evaluate({}, {"t": side})] for side in sides] == [
        ["low", "off"],
        ["not low"],
        ["not low", "off"],
    ]
    assert rules.evaluate({"t": 3.0}, {}) == ()


@pytest.mark.parametrize(
    "bad",
    [
        Within(fact="a", low=math.nan),
        Beyond(fact="a", high=math.inf),
        Against(fact="a", other="b", side="below"),
        Against(fact="a", other="b", side="below", share=0.1, amount=1.0),
        Against(fact="a", other="b", side="below", share=-0.1),
        Against(fact="a", other="b", side="above", amount=math.inf),
    ],
)
def test_a_limit_that_makes_no_sense_is_refused_with_the_name_of_the_rule(bad: Condition) -> None:
    with pytest.raises(EngineError, match="rule 'odd limit'"):
        Matcher([("odd limit", bad)])
