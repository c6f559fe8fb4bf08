"""Quench wait against the trade's figures for other flasks."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.calc.quench import quench_wait
from diagnose.errors import OutOfRange


# Common practice: 0.6 of the time at 40 mm, 1.7 times at 90 mm.
@pytest.mark.parametrize(("millimetre", "factor"), [(40, 0.6), (90, 1.7)])
def test_other_flasks_wait_as_the_trade_says(millimetre, factor):
    assert quench_wait(720.0, millimetre / 1000, 180.0) == pytest.approx(factor * 720.0, rel=0.01)


@given(wait=st.floats(0, 7200), diameter=st.floats(0.025, 0.19), least=st.floats(0, 600))
def test_bigger_flasks_wait_longer_and_none_less_than_the_least(wait, diameter, least):
    found = quench_wait(wait, diameter, least)

    assert found >= least
    assert quench_wait(wait, diameter + 0.005, least) >= found


def test_a_small_flask_does_not_scale_below_the_no_glow_rule():
    # Three minutes for red gold must not become 1.8 at 40 mm.
    assert quench_wait(180.0, 0.040, 180.0) == 180.0


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: quench_wait(-1.0, 0.06, 0.0), "below zero"),
        (lambda: quench_wait(600.0, 0.6, 180.0), "is 0.6 m"),
        (lambda: quench_wait(600.0, 0.0, 180.0), "0.025 m to 0.2 m"),
        (lambda: quench_wait(float("nan"), 0.06, 0.0), "below zero"),
    ],
)
def test_absurd_waits_are_refused(call, says):
    with pytest.raises(OutOfRange, match=says):
        call()
