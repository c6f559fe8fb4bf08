"""Alloy arithmetic against element data of two packages, handbook densities and plain balances."""

from __future__ import annotations

import mendeleev
import periodictable
import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.calc.alloying import (
    addition_for_fineness,
    fineness_after_loss,
    fineness_from_karat,
    karat_from_fineness,
    mixture_density,
)
from diagnose.errors import OutOfRange

MINOR = st.floats(0.001, 0.999)


def package_densities(*symbols: str) -> list[float]:
    """Densities of elements from periodictable [kg/m^3], checked against mendeleev within 0.2 %."""
    found = []
    for symbol in symbols:
        density = periodictable.elements.symbol(symbol).density
        assert density == pytest.approx(mendeleev.element(symbol).density, rel=2e-3)
        found.append(density * 1000.0)
    return found


# Handbook densities from memory of the ASM Metals Handbook: sterling 10.36, the eutectic "about 10.0", and
# trade figures of carat golds (Rapson & Groenewald, Gold Usage, 1978), read to their last digit.
@pytest.mark.parametrize(
    ("symbols", "shares", "handbook", "within"),
    [
        (("Ag", "Cu"), (0.925, 0.075), 10.36, 0.01),
        (("Ag", "Cu"), (0.719, 0.281), 10.0, 0.05),
        (("Au", "Ag", "Cu"), (0.75, 0.125, 0.125), 15.5, 0.1),
        (("Au", "Ag", "Cu"), (0.75, 0.045, 0.205), 15.18, 0.05),
        (("Au", "Ag", "Cu"), (0.917, 0.055, 0.028), 17.85, 0.06),
    ],
)
def test_alloys_of_gold_silver_and_copper_have_their_handbook_density(symbols, shares, handbook, within):
    assert mixture_density(shares, package_densities(*symbols)) / 1000 == pytest.approx(handbook, abs=within)


def test_the_density_is_not_the_average_by_mass():
    # Worked by hand: 92.5/10.5 + 7.5/8.96 = 9.6466 cm3 for 100 g, so 10.366; the average by mass is 10.3845.
    found = mixture_density([0.925, 0.075], [10500.0, 8960.0])

    assert found == pytest.approx(100.0 / (92.5 / 10500 + 7.5 / 8960))
    assert found < 0.925 * 10500 + 0.075 * 8960 - 15


# Sums of volumes worked out by hand, g/cm3: silver 10.5, copper 8.96, gold 19.3 (CRC Handbook); the last shares of
# silver and copper are the eutectic by two assessments.
@pytest.mark.parametrize(
    ("shares", "densities", "expected"),
    [
        ((0.925, 0.075), (10.5, 8.96), 10.3663),
        ((0.75, 0.125, 0.125), (19.3, 10.5, 8.96), 15.452),
        ((0.75, 0.045, 0.205), (19.3, 10.5, 8.96), 15.146),
        ((0.917, 0.055, 0.028), (19.3, 10.5, 8.96), 17.897),
        ((0.719, 0.281), (10.5, 8.96), 10.016),
        ((0.7159, 0.2841), (10.5, 8.96), 10.011),
    ],
)
def test_densities_worked_out_by_hand(shares, densities, expected):
    found = mixture_density(shares, densities)
    assert found == pytest.approx(expected, abs=6e-4)
    by_mass = sum(s * d for s, d in zip(shares, densities, strict=True))
    assert found < by_mass - 0.01  # the average by mass would be 10.3845 for sterling, 16.9 for yellow gold


def test_the_mixture_rule_misses_yellow_brass_by_more_than_two_percent():
    # Measured 8.53 g/cm3, from memory of Copper Development Association data for C26000.
    found = mixture_density([0.7, 0.3], package_densities("Cu", "Zn"))

    assert 0.02 < 1 - found / 8530 < 0.03


@given(share=MINOR, one=st.floats(1e3, 2e4), other=st.floats(1e3, 2e4))
def test_a_mixture_lies_between_its_parts_and_weighs_what_they_weigh(share, one, other):
    found = mixture_density([share, 1 - share], [one, other])

    assert min(one, other) * (1 - 1e-9) <= found <= max(one, other) * (1 + 1e-9)
    assert found * (share / one + (1 - share) / other) == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("shares", "densities", "says"),
    [
        ([0.9, 0.2], [1e4, 9e3], "sum to 110.00%"),
        ([1.0], [1e4, 9e3], "1 shares and 2 densities"),
        ([], [], "0 shares"),
        ([1.5, -0.5], [1e4, 9e3], "not between 0 and 1"),
        ([0.5, 0.5], [1e4, 0.0], "not above zero"),
        ([0.5, 0.5], [1e4, float("nan")], "not above zero"),
        ([float("nan"), 0.5], [1e4, 1e4], "not between 0 and 1"),
    ],
)
def test_an_impossible_composition_is_refused(shares, densities, says):
    with pytest.raises(OutOfRange, match=says):
        mixture_density(shares, densities)


@pytest.mark.parametrize(
    ("karat", "per_thousand"),
    [(9, 375), (10, 416.6667), (14, 583.3333), (18, 750), (22, 916.6667), (24, 1000)],
)
def test_karats_have_their_fineness_by_definition(karat, per_thousand):
    assert fineness_from_karat(karat) * 1000 == pytest.approx(per_thousand, rel=1e-6)


def test_the_legal_grade_585_is_a_little_over_14_karat():
    assert karat_from_fineness(0.585) == pytest.approx(14.04)


@given(karat=st.floats(0.01, 24.0))
def test_karat_and_fineness_undo_each_other(karat):
    assert karat_from_fineness(fineness_from_karat(karat)) == pytest.approx(karat)


# Worked by hand with x = m (F2 - F1)/(Fa - F2).
@pytest.mark.parametrize(
    ("mass", "fineness", "wanted", "addition", "expected"),
    [
        (100, 0.585, 0.750, 1.0, 100 * 165 / 250),
        (100, 0.750, 0.585, 0.0, 100 * 165 / 585),
        (100, 0.375, 0.585, 1.0, 100 * 210 / 415),
        (100, 1.000, 0.925, 0.0, 100 * 75 / 925),
    ],
)
def test_worked_additions(mass, fineness, wanted, addition, expected):
    assert addition_for_fineness(mass, fineness, wanted, addition) == pytest.approx(expected)


@given(mass=st.floats(1e-3, 10), one=MINOR, two=MINOR, wanted=MINOR)
def test_the_named_metal_balances_or_the_addition_is_refused(mass, one, two, wanted):
    reachable = min(one, two) < wanted < max(one, two)
    if wanted in (one, two):
        return
    if not reachable:
        with pytest.raises(OutOfRange, match="never makes"):
            addition_for_fineness(mass, one, wanted, two)
        return
    added = addition_for_fineness(mass, one, wanted, two)
    assert mass * one + added * two == pytest.approx((mass + added) * wanted)


def test_nothing_is_added_when_it_is_right_already():
    assert addition_for_fineness(0.1, 0.75, 0.75, 1.0) == 0.0


@pytest.mark.parametrize(("loss", "expected"), [(0.01, 590.9), (0.02, 596.9)])
def test_fineness_rises_as_zinc_burns_off(loss, expected):
    # 585 parts of gold in 990 and in 980 parts left.
    assert fineness_after_loss(0.585, loss) * 1000 == pytest.approx(expected, abs=0.05)


@given(fineness=MINOR, share=st.floats(0, 1))
def test_gold_is_kept_while_the_rest_burns(fineness, share):
    loss = share * (1 - fineness)

    assert fineness_after_loss(fineness, loss) * (1 - loss) == pytest.approx(fineness)


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: fineness_from_karat(25.0), "25 karat"),
        (lambda: fineness_from_karat(0.0), "0 karat"),
        (lambda: karat_from_fineness(585.0), "585 .*0.585"),
        (lambda: fineness_after_loss(0.9, 0.2), "only 10.0% is other metal"),
        (lambda: fineness_after_loss(0.9, -0.1), "not possible"),
        (lambda: addition_for_fineness(0.0, 0.5, 0.6, 1.0), "not above zero"),
        (lambda: addition_for_fineness(1.0, 585.0, 0.75, 1.0), "not a share"),
    ],
)
def test_absurd_values_are_refused(call, says):
    with pytest.raises(OutOfRange, match=says):
        call()
