"""Slurry volumes and densities, against arithmetic with handbook densities."""

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.calc.slurry import air_share, grain_density, powder_for_volume, slurry_density, slurry_volume
from diagnose.errors import OutOfRange

# CRC Handbook, physical constants of minerals [kg/m3]: hemihydrate, quartz, cristobalite; water at 22 degrees C
HEMIHYDRATE, QUARTZ, CRISTOBALITE, WATER = 2700.0, 2650.0, 2330.0, 997.8
GRAIN = grain_density([0.30, 0.35, 0.35], [HEMIHYDRATE, QUARTZ, CRISTOBALITE])


def test_grain_density_is_the_sum_of_volumes_by_hand() -> None:
    by_hand = 1 / (0.30 / 2.70 + 0.35 / 2.65 + 0.35 / 2.33)
    assert by_hand == pytest.approx(2.5419, abs=1e-4)
    assert by_hand == pytest.approx(GRAIN / 1000)


@pytest.mark.parametrize(
    ("ratio", "millilitres", "density"), [(38, 77.42, 1.782), (40, 79.43, 1.763), (42, 81.43, 1.744)]
)
def test_100_g_of_powder_make_the_volume_added_up_by_hand(ratio: int, millilitres: float, density: float) -> None:
    # 100 g / 2.5419 g/ml + ratio g / 0.9978 g/ml
    assert slurry_volume(0.1, ratio, GRAIN, WATER) * 1e6 == pytest.approx(millilitres, abs=0.01)
    assert slurry_density(ratio, GRAIN, WATER) / 1000 == pytest.approx(density, abs=0.0006)


def test_a_3_by_4_inch_flask_takes_583_g() -> None:
    # pi/4 x 7.62^2 x 10.16 cm3 / 0.7943 ml/g, by hand
    powder = powder_for_volume(pi / 4 * 0.0762**2 * 0.1016, 40.0, GRAIN, WATER)
    assert powder * 1000 == pytest.approx(583.3, abs=0.1)
    assert powder * 400 == pytest.approx(233.3, abs=0.1)


def test_a_pound_of_powder_makes_22_cubic_inches() -> None:
    # 453.592 g with 181.4 g of water: 360.3 ml, 21.99 in3 of 16.387064 ml
    assert slurry_volume(0.45359237, 40.0, GRAIN, WATER) / 16.387064e-6 == pytest.approx(21.986, abs=0.005)


@given(st.floats(10.0, 60.0), st.floats(0.1, 10.0))
def test_thinner_slurry_takes_less_powder_and_is_less_dense(ratio: float, more: float) -> None:
    assert powder_for_volume(1e-3, ratio + more, GRAIN, WATER) < powder_for_volume(1e-3, ratio, GRAIN, WATER)
    assert slurry_density(ratio + more, GRAIN, WATER) < slurry_density(ratio, GRAIN, WATER)


@given(st.floats(0.0, 0.4), st.floats(20.0, 60.0))
def test_powder_goes_with_the_volume_and_gives_it_back(volume: float, ratio: float) -> None:
    powder = powder_for_volume(volume, ratio, GRAIN, WATER)
    assert powder_for_volume(2 * volume, ratio, GRAIN, WATER) == pytest.approx(2 * powder)
    assert slurry_volume(powder, ratio, GRAIN, WATER) == pytest.approx(volume)


def test_nothing_to_fill_takes_no_powder() -> None:
    assert powder_for_volume(0.0, 40.0, GRAIN, WATER) == 0.0


@given(st.floats(0.0, 0.3))
def test_air_beaten_in_is_found_again(air: float) -> None:
    assert air_share((1 - air) * 1763.0, 1763.0) == pytest.approx(air, abs=1e-12)


def test_one_part_of_water_more_looks_like_half_a_part_of_air() -> None:
    # volumes by hand: 140 g in 79.43 ml, 141 g in 80.43 ml
    looks = air_share(slurry_density(41.0, GRAIN, WATER), slurry_density(40.0, GRAIN, WATER))
    assert looks == pytest.approx(1 - (141 / 80.43) / (140 / 79.43), abs=2e-4)


@pytest.mark.parametrize("ratio", [0.0, 4.0, 0.40, 200.0, float("nan")])
def test_a_ratio_that_makes_no_slurry_is_refused(ratio: float) -> None:
    with pytest.raises(OutOfRange, match="water for 100 of powder"):
        slurry_volume(1.0, ratio, GRAIN, WATER)


def test_shares_that_do_not_make_a_whole_are_refused() -> None:
    with pytest.raises(OutOfRange, match=r"sum to 0\.9"):
        grain_density([0.3, 0.6], [HEMIHYDRATE, QUARTZ])
    with pytest.raises(OutOfRange, match="do not belong together"):
        grain_density([1.0], [HEMIHYDRATE, QUARTZ])


def test_a_slurry_denser_than_without_air_is_refused() -> None:
    with pytest.raises(OutOfRange, match="cup's volume"):
        air_share(1900.0, 1763.0)
