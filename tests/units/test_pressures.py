"""Gauge, absolute and vacuum readings, against the standard atmosphere (101 325 Pa, ISO 2533:1975)."""

from __future__ import annotations

import pytest

from diagnose.errors import BadInput
from diagnose.units import Ask, Value, absolute, gauge, read, vacuum_depth

ATMOSPHERE = 101325.0
INHG = 3386.389  # NIST SP 811, appendix B.8, conventional inch of mercury
VACUUM = (0.0, 31 * INHG)
LINE = (-1.1e5, 1.0e6)


def value(text: str, unit: str = "inHg", plausible: tuple[float, float] | None = VACUUM) -> Value:
    found = read(text, "pressure", unit, plausible, ranges=True)
    assert isinstance(found, Value), found
    return found


@pytest.mark.parametrize(
    ("text", "pascals"),
    [
        ("28 inHg", ATMOSPHERE - 28 * INHG),
        ("28", ATMOSPHERE - 28 * INHG),
        ("-28 inHg", ATMOSPHERE - 28 * INHG),
        ("28 inches of vacuum", ATMOSPHERE - 28 * INHG),
        ("94.8 kPa below ambient", ATMOSPHERE - 94800),
        ("0.9 bar vacuum", ATMOSPHERE - 90000),
        ("1.9 inHg abs", 1.9 * INHG),
        ("5 torr", 5 * ATMOSPHERE / 760),
        ("50 mbar absolute", 5000.0),
        ("12 psig", ATMOSPHERE + 12 * 6894.757),
        ("12 psia", 12 * 6894.757),
    ],
)
def test_every_footing_leads_to_the_same_physics(text: str, pascals: float) -> None:
    assert absolute(value(text), ATMOSPHERE) == pytest.approx(pascals, abs=1.0)


def test_a_torr_and_an_inch_of_mercury_measure_one_vacuum_from_both_ends() -> None:
    """29.9213 inHg is one atmosphere (NIST SP 811), so 5 torr of air left is 29.7244 inHg of vacuum."""
    assert vacuum_depth(value("5 torr"), ATMOSPHERE) == pytest.approx(29.7244 * INHG, rel=1e-4)
    assert vacuum_depth(value("28 inHg"), ATMOSPHERE) == pytest.approx(28 * INHG, rel=1e-6)
    assert gauge(value("28 inHg"), ATMOSPHERE) == pytest.approx(-28 * INHG, rel=1e-6)


def test_where_nobody_said_so_the_asker_decides() -> None:
    reading = value("25 kPa", "kPa", None)
    assert reading.basis is None
    with pytest.raises(BadInput) as caught:
        absolute(reading, ATMOSPHERE)
    assert str(caught.value) == (
        "25 kPa can be a gauge reading or an absolute pressure. Write 25 kPa gauge or 25 kPa absolute."
    )
    assert absolute(reading, ATMOSPHERE, "gauge") == ATMOSPHERE + 25000
    assert absolute(reading, ATMOSPHERE, "absolute") == 25000
    assert vacuum_depth(reading, ATMOSPHERE) == pytest.approx(25000)


def test_a_vacuum_deeper_than_the_air_is_refused() -> None:
    with pytest.raises(BadInput) as caught:
        absolute(value("28 inHg"), 22 * INHG)
    assert str(caught.value) == (
        "A vacuum of 28 inHg is impossible where the air has only 22 inHg. Check the gauge and the height of the place."
    )


@pytest.mark.parametrize("text", ["28 inHg", "-28 inHg", "28 inHg vacuum"])
def test_on_a_scale_that_goes_below_zero_a_vacuum_is_negative(text: str) -> None:
    found = value(text, "bar", LINE)
    assert found.si == pytest.approx(-28 * INHG, rel=1e-6)
    assert absolute(found, ATMOSPHERE) == pytest.approx(ATMOSPHERE - 28 * INHG, abs=1.0)


def test_a_range_of_vacuum_keeps_its_order_on_both_scales() -> None:
    down, signed = value("20-27 inHg"), value("20-27 inHg", "bar", LINE)
    assert (down.number, down.to_number) == (20, 27)
    assert (signed.number, signed.to_number) == (-27, -20)


def test_a_negative_gauge_reading_is_taken_for_vacuum_only_after_asking() -> None:
    found = read("-25 kPa", "pressure", "inHg", VACUUM)
    assert isinstance(found, Ask)
    assert found.question == "25 kPa below the air pressure around?"
    assert found.candidates[0].vacuum
