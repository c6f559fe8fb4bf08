"""Stoichiometry of plaster, against two libraries of atomic weights."""

import periodictable
import pytest
from hypothesis import given
from hypothesis import strategies as st
from molmass import Formula

from diagnose.calc import gypsum
from diagnose.errors import OutOfRange


@pytest.mark.parametrize(
    ("ours", "formula"),
    [
        (gypsum.WATER, "H2O"),
        (gypsum.SULFATE, "CaSO4"),
        (gypsum.SET_PLASTER, "CaSO4H4O2"),
        (gypsum.SULFUR_DIOXIDE, "SO2"),
        (2 * gypsum.HALF_HYDRATE, "Ca2S2O8H2O"),
    ],
)
def test_molar_masses_agree_with_two_libraries(ours: float, formula: str) -> None:
    assert ours * 1000 == pytest.approx(Formula(formula).mass, rel=1e-4)
    assert ours * 1000 == pytest.approx(periodictable.formula(formula).mass, rel=1e-4)


def test_100_g_of_half_hydrate_bind_18_6_g_of_water() -> None:
    # molmass: 1.5 H2O over CaSO4 (H2O)1/2
    bound = 1.5 * Formula("H2O").mass / (Formula("CaSO4").mass + 0.5 * Formula("H2O").mass)
    assert gypsum.water_to_set(1.0) == pytest.approx(bound, rel=1e-4)
    assert 100 * gypsum.water_to_set(1.0) == pytest.approx(18.618, abs=0.001)


@pytest.mark.parametrize(
    ("binder", "dried", "fired"), [(0.25, 104.655, 98.448), (0.30, 105.585, 98.138), (0.35, 106.516, 97.828)]
)
def test_a_mold_loses_what_its_atoms_say(binder: float, dried: float, fired: float) -> None:
    # by hand from the molar masses: + 1.5 H2O, then - 2 H2O for each half-hydrate
    stages = gypsum.mold_masses(binder)
    assert [100 * m for m in stages] == pytest.approx([dried, 100.0, fired], abs=0.001)
    water = Formula("H2O").mass / (Formula("CaSO4").mass + 0.5 * Formula("H2O").mass)
    assert stages.dried - stages.fired == pytest.approx(2.0 * binder * water, rel=1e-4)


def test_set_plaster_holds_20_9_percent_of_water() -> None:
    # handbook value for gypsum: 20.93 % H2O, of which 15.70 % of the mass go on the way to half-hydrate
    whole, most = (100 * moles * gypsum.WATER / gypsum.SET_PLASTER for moles in (2.0, 1.5))
    assert whole == pytest.approx(20.928, abs=0.001)
    assert most == pytest.approx(15.696, abs=0.001)


def test_most_water_of_a_mix_is_only_there_to_pour() -> None:
    assert 100 * gypsum.free_water(40.0, 0.30) == pytest.approx(34.415, abs=0.001)


def test_a_gram_of_sulfate_gives_6_ppm_of_gas_in_30_m3() -> None:
    # molmass and the gas law: 0.47055 g, 7.3457 mmol, 179.7 ml at 25 degrees C and one atmosphere
    gas = gypsum.sulfur_dioxide(0.001)
    assert gas == pytest.approx(0.001 * Formula("SO2").mass / Formula("CaSO4").mass, rel=1e-4)
    volume = gas / (Formula("SO2").mass / 1000) * 8.314462618 * 298.15 / 101325
    assert volume * 1e6 == pytest.approx(179.7, abs=0.1)
    assert volume / 30 * 1e6 == pytest.approx(5.99, abs=0.01)


def test_a_3_by_4_inch_mold_holds_164_g_of_sulfate() -> None:
    share = Formula("CaSO4").mass / (Formula("CaSO4").mass + 0.5 * Formula("H2O").mass)
    assert gypsum.sulfate_in_mold(0.5833, 0.30) == pytest.approx(0.5833 * 0.30 * share, rel=1e-4)


@given(st.floats(0.0, 1.0), st.floats(20.0, 60.0))
def test_water_is_either_bound_or_free(binder: float, ratio: float) -> None:
    free, bound = gypsum.free_water(ratio, binder), gypsum.water_to_set(binder)
    assert free + bound == pytest.approx(ratio / 100)
    assert gypsum.mold_masses(binder).fired <= 1.0 <= gypsum.mold_masses(binder).dried


def test_too_little_water_to_set_is_refused() -> None:
    with pytest.raises(OutOfRange, match="less than setting takes"):
        gypsum.free_water(10.0, 1.0)


@pytest.mark.parametrize("binder", [-0.1, 1.5, 30.0, float("nan")])
def test_a_share_that_is_none_is_refused(binder: float) -> None:
    with pytest.raises(OutOfRange, match="share of plaster"):
        gypsum.mold_masses(binder)
