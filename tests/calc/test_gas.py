"""Gas volumes against molar masses of a package, steam tables and worked figures."""

from __future__ import annotations

import iapws
import molmass
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.constants import atm, zero_Celsius

from diagnose.calc.gas import dissolved_share, gas_volume
from diagnose.errors import OutOfRange

OXYGEN = molmass.Formula("O2").mass / 1000
WATER = molmass.Formula("H2O").mass / 1000


def test_oxygen_in_molten_silver_is_twenty_times_its_volume():
    # 0.30 mass % in liquid silver of 9.32 g/cm3 (CRC Handbook): "about twenty times"; 19.6 by hand.
    found = gas_volume(0.0030 * 9320, OXYGEN, zero_Celsius, atm)

    assert found == pytest.approx(19.59, abs=0.02)
    # Under air (20.95 % oxygen) the root of it: 8.96.
    in_air = gas_volume(dissolved_share(0.0030, 0.2095) * 9320, OXYGEN, zero_Celsius, atm)
    assert in_air == pytest.approx(8.96, abs=0.01)
    assert in_air / found == pytest.approx(0.2095**0.5)


def test_fifty_parts_per_million_of_oxygen_blow_more_than_the_metals_own_volume():
    found = gas_volume(50e-6 * 9320, OXYGEN, 961.8 + zero_Celsius, atm)

    assert found == pytest.approx(1.476, abs=0.002)


def test_a_gram_of_water_makes_over_five_litres_of_steam_on_the_metal():
    found = gas_volume(1e-3, WATER, 900 + zero_Celsius, atm)

    assert found * 1000 == pytest.approx(5.34, abs=0.005)
    assert found == pytest.approx(1e-3 * iapws.IAPWS97(T=900 + zero_Celsius, P=atm / 1e6).v, rel=2e-3)


def test_steam_at_its_boiling_point_is_two_percent_less_than_ideal():
    # IAPWS-97: saturated steam at 100 degC, 1.67 m3/kg.
    real = iapws.IAPWS97(T=373.15, x=1).v

    assert gas_volume(1.0, WATER, 373.15, atm) == pytest.approx(real, rel=0.025)


def test_sulfur_gas_takes_four_times_the_room_at_a_thousand_degrees():
    # 0.47055 g of SO2 from a gram of CaSO4 by molar masses: 179.7 ml at 25, 767.4 ml at 1000 degC and one atmosphere.
    mass = 1e-3 * molmass.Formula("SO2").mass / molmass.Formula("CaSO4").mass
    cold, hot = (gas_volume(mass, molmass.Formula("SO2").mass / 1000, t + zero_Celsius, atm) for t in (25, 1000))
    assert cold * 1e6 == pytest.approx(179.7, abs=0.1)
    assert hot * 1e6 == pytest.approx(767.4, abs=0.2)


@given(held=st.floats(0, 0.01), share=st.floats(0, 0.25))
def test_four_times_the_pressure_dissolves_twice_as_much(held, share):
    assert dissolved_share(held, 4 * share) == pytest.approx(2 * dissolved_share(held, share))


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: gas_volume(-1.0, 0.032, 300.0, 1e5), "below zero"),
        (lambda: gas_volume(1.0, 0.0, 300.0, 1e5), "above zero"),
        (lambda: gas_volume(1.0, 0.032, 300.0, float("nan")), "above zero"),
        (lambda: dissolved_share(0.003, 21.0), "from 0 to 1"),
    ],
)
def test_gas_that_cannot_be_is_refused(call, says):
    with pytest.raises(OutOfRange, match=says):
        call()
