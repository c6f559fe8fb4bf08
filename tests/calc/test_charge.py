"""Metal for a wax tree, and the share of it that is new."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.calc.charge import charge_mass, fresh_metal, metal_for_wax, share_older_than
from diagnose.errors import OutOfRange


def test_a_worked_charge_of_sterling():
    # 12.0 g of wax at 0.95 g/cm3 fill 12.6316 cm3; sterling at 10.36 (handbook) makes 130.86 g. With a button
    # of 30 g and 2 % on top: 164.08 g.
    tree = metal_for_wax(12.0e-3, 950.0, 10360.0)

    assert tree * 1000 == pytest.approx(12.0 / 0.95 * 10.36)
    assert tree * 1000 == pytest.approx(130.86, abs=0.005)
    assert charge_mass(tree, 30e-3, 0.0) * 1000 == pytest.approx(160.86, abs=0.005)
    assert charge_mass(tree, 30e-3, 0.02) * 1000 == pytest.approx(164.08, abs=0.005)


def test_a_worked_charge_of_gold():
    assert metal_for_wax(5.0e-3, 930.0, 15450.0) * 1000 == pytest.approx(83.06, abs=0.005)


@given(mass=st.floats(1e-4, 1), wax=st.floats(800, 1200), metal=st.floats(5e3, 2.2e4))
def test_metal_fills_the_volume_of_the_wax(mass, wax, metal):
    assert metal_for_wax(mass, wax, metal) / metal == pytest.approx(mass / wax)
    assert metal_for_wax(2 * mass, wax, metal) == pytest.approx(2 * metal_for_wax(mass, wax, metal))


@given(charge=st.floats(1e-3, 10), highest=st.floats(0, 1))
def test_new_and_old_metal_make_the_charge(charge, highest):
    assert fresh_metal(charge, highest) + charge * highest == pytest.approx(charge)


def test_a_steady_half_is_replaced_like_halving():
    # Follow one melt by hand: each charge keeps half of the one before.
    left = 1.0
    for casts in (1, 2, 3, 4):
        left /= 2
        assert share_older_than(0.5, casts) == left


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: metal_for_wax(0.01, 10360.0, 950.0), "exchanged"),
        (lambda: metal_for_wax(0.0, 950.0, 10360.0), "wax mass of 0"),
        (lambda: metal_for_wax(float("nan"), 950.0, 10360.0), "wax mass"),
        (lambda: charge_mass(0.1, -0.01, 0.0), "button"),
        (lambda: charge_mass(0.1, 0.01, 0.5), "allowance of 50%"),
        (lambda: fresh_metal(0.1, 1.5), "1.5"),
        (lambda: share_older_than(0.5, 0), "0 earlier melts"),
    ],
)
def test_absurd_charges_are_refused(call, says):
    with pytest.raises(OutOfRange, match=says):
        call()
