"""What a unit is worth: pint has the last word, and NIST SP 811 is asked as well."""

from __future__ import annotations

import re
import subprocess
import sys
from math import pi

import pint
import pytest

from diagnose.errors import BadInput
from diagnose.units import Dimension, Unit, dimension_named, dimensions, from_si, to_si, unit_named
from diagnose.units.authority import table_text
from diagnose.units.convert import factor, into_si
from diagnose.units.factors import FACTORS
from diagnose.units.table import spelled

REGISTRY = pint.UnitRegistry()
MEASURED = [(kind, unit) for kind in dimensions().values() for unit in kind.units if unit.pint]
SPELLINGS = [
    (kind, unit, written) for kind, unit in MEASURED for written in dict.fromkeys((unit.symbol, *unit.spellings))
]


def in_pint(number: float, unit: str, si: str) -> float:
    return float(REGISTRY.Quantity(number, unit).to(si).magnitude)


def test_every_spelling_is_worth_what_pint_says() -> None:
    for kind, unit, written in SPELLINGS:
        assert unit in spelled(written, kind), (kind.name, written)
        for number in (0.0, 1.0, 37.5):
            assert into_si(number, unit, kind) == pytest.approx(
                in_pint(number, unit.pint, kind.si), rel=1e-12, abs=1e-12 * number
            ), (kind.name, written)


def test_the_stored_unit_is_si() -> None:
    for kind in dimensions().values():
        if kind.si:
            base = REGISTRY.Quantity(1.0, kind.si).to_base_units()
            assert base.magnitude == pytest.approx(1.0, rel=1e-15), kind.name


def test_the_written_table_is_the_one_pint_writes() -> None:
    rows = re.findall(r'\("(.+?)", "(.+?)"\): \((.+?), (.+?)\)', table_text())
    assert {(unit, si) for unit, si, _, _ in rows} == set(FACTORS)
    for unit, si, scale, offset in rows:
        assert FACTORS[unit, si] == pytest.approx((float(scale), float(offset)), rel=1e-13)


# Names under which pint knows something else (cfm a length, ct a count, micron a length, BTU by another
# standard), or nothing. NIST SP 811 is asked about those below.
OTHERWISE = {"cfm", "gpm", "CFH", "ct", "micron", "tonf", "tf", "rps", "deg", "mil", "wk"}
OURS_AND_PINTS = [
    (kind, unit)
    for kind, unit in MEASURED
    if re.fullmatch(r"[A-Za-z]+\d?(/[A-Za-z]+\d?)*", unit.symbol)
    and unit.symbol not in OTHERWISE
    and "BTU" not in unit.symbol
    and (kind.name, unit.symbol) != ("acceleration", "g")
]


@pytest.mark.parametrize(
    ("kind", "unit"), OURS_AND_PINTS, ids=lambda one: one.symbol if isinstance(one, Unit) else one.name
)
def test_pint_reads_our_symbol_as_the_same_unit(kind: Dimension, unit: Unit) -> None:
    """Guards against a symbol that stands beside the wrong definition."""
    theirs = re.sub(r"(?<=[a-z])(\d)(?=/|$)", r"**\1", unit.symbol)
    theirs = re.sub(r"/F$", "/delta_degF", re.sub(r"/K$", "/kelvin", theirs))
    assert in_pint(1.0, theirs, kind.si) == pytest.approx(factor(unit, kind)[0], rel=1e-12)


# NIST Special Publication 811 (A. Thompson, B. N. Taylor, 2008), appendix B.8; factors from memory, as
# printed there to seven digits.
NIST = [
    ("length", "in", 2.54e-2),
    ("length", "ft", 3.048e-1),
    ("length", "mil", 2.54e-5),
    ("mass", "lb", 4.535924e-1),
    ("mass", "oz av", 2.834952e-2),
    ("mass", "ozt", 3.110348e-2),
    ("mass", "dwt", 1.555174e-3),
    ("mass", "grain", 6.479891e-5),
    ("mass", "ct", 2.0e-4),
    ("volume", "fl oz", 2.957353e-5),
    ("volume", "gal", 3.785412e-3),
    ("volume", "in3", 1.638706e-5),
    ("density", "lb/ft3", 1.601846e1),
    ("density", "lb/in3", 2.767990e4),
    ("pressure", "psi", 6.894757e3),
    ("pressure", "inHg", 3.386389e3),
    ("pressure", "mmHg", 1.333224e2),
    ("pressure", "torr", 1.333224e2),
    ("pressure", "atm", 1.01325e5),
    ("pressure", "inH2O", 2.490889e2),
    ("pressure", "kgf/cm2", 9.80665e4),
    ("force", "lbf", 4.448222),
    ("force", "kgf", 9.80665),
    ("force", "tonf", 8.896443e3),
    ("energy", "BTU", 1.055056e3),
    ("energy", "cal", 4.184),
    ("energy", "kWh", 3.6e6),
    ("power", "hp", 7.456999e2),
    ("conductivity", "BTU/h/ft/F", 1.730735),
    ("conductivity", "BTU in/h/ft2/F", 1.442279e-1),
    ("conductivity", "cal/s/cm/K", 4.184e2),
    ("heat transfer", "BTU/h/ft2/F", 5.678263),
    ("specific heat", "BTU/lb/F", 4.1868e3),
    ("latent heat", "BTU/lb", 2.326e3),
    ("diffusivity", "ft2/h", 2.58064e-5),
    ("volume flow", "cfm", 4.719474e-4),
    ("volume flow", "gpm", 6.309020e-5),
    ("speed", "rpm", 1.047198e-1),
    ("speed of travel", "mph", 4.4704e-1),
    ("surface tension", "dyn/cm", 1.0e-3),
    ("viscosity", "cP", 1.0e-3),
    ("acceleration", "g", 9.80665),
    ("temperature change", "F", 5.555556e-1),
]


# By definition: seven days of 86 400 s, a sixtieth of an hour's flow, whole turns, a thousandth of a torr (which is
# 1/760 of an atmosphere), a thousand kilograms under standard gravity.
DEFINED = [
    ("time", "wk", 7 * 86400.0),
    ("volume flow", "CFH", 0.3048**3 / 3600.0),
    ("speed", "rps", 2.0 * pi),
    ("angle", "deg", pi / 180.0),
    ("pressure", "micron", 101325.0 / 760.0 / 1000.0),
    ("force", "tf", 9806.65),
    ("percent", "%", 0.01),
    ("percent", "permille", 0.001),
    ("expansion", "ppm/K", 1e-6),
    ("expansion", "%/K", 0.01),
]


@pytest.mark.parametrize(("dimension", "unit", "expected"), NIST + DEFINED)
def test_factors_agree_with_nist_sp_811_and_definitions(dimension: str, unit: str, expected: float) -> None:
    kind = dimension_named(dimension)
    assert factor(unit_named(unit, dimension), kind)[0] == pytest.approx(expected, rel=5e-7)


@pytest.mark.parametrize(
    ("fahrenheit", "celsius", "kelvin"),
    [(32.0, 0.0, 273.15), (212.0, 100.0, 373.15), (-40.0, -40.0, 233.15), (-459.67, -273.15, 0.0)],
)
def test_temperature_scales_meet_at_their_fixed_points(fahrenheit: float, celsius: float, kelvin: float) -> None:
    """By definition of the scales: NIST SP 811, appendix B.8, degree Fahrenheit and degree Celsius."""
    assert to_si(fahrenheit, "F") == pytest.approx(kelvin, abs=1e-9)
    assert to_si(celsius, "C") == pytest.approx(kelvin, abs=1e-9)


def test_the_same_temperature_is_the_same_number_whichever_way_it_was_typed() -> None:
    assert to_si(185, "F") == to_si(85, "C") == 358.15
    assert from_si(358.15, "F") == 185.0


@pytest.mark.parametrize(
    ("name", "dimension", "message"),
    [
        ("furlong", "", '"furlong" is not a known unit.'),
        ("#", "", '"#" means different things. Name the dimension, one of: mass, force.'),
        ("minuts", "time", '"minuts" is not a unit of time. Did you mean "min"?'),
        ("oz", "mass", '"oz" can be oz av or ozt. Write one of them.'),
        ("m", "tempratur", '"tempratur" is not a dimension. Did you mean "temperature"?'),
        ("zork", "surface tension", '"zork" is not a unit of surface tension. Known: mN/m, N/m, dyn/cm.'),
    ],
)
def test_a_name_that_does_not_mean_one_unit_is_refused(name: str, dimension: str, message: str) -> None:
    with pytest.raises(BadInput) as caught:
        to_si(5, name, dimension)
    assert str(caught.value) == message


def test_a_name_of_two_units_is_settled_by_its_dimension() -> None:
    assert to_si(5, "#", "mass") == pytest.approx(5 * 0.45359237, rel=1e-6)
    assert to_si(5, "m") == 5.0
    assert to_si(5, "m", "time") == 300.0


def test_reading_and_showing_do_not_load_pint() -> None:
    program = (
        "import sys; from diagnose.units import *; quantity('307 F', 'temperature');"
        "read('1 h 15 min', 'time', 'min'); show(300.0, 'temperature', 'C'); sys.exit('pint' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0


def test_a_unit_that_is_not_in_the_table_yet_is_asked_of_pint(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delitem(FACTORS, ("inch", "meter"))
    assert factor(unit_named("in", "length"), dimension_named("length")) == (pytest.approx(0.0254), 0.0)


def test_spellings_are_shared_only_where_that_is_settled() -> None:
    """Two units under one spelling are asked back; everything else must be plain."""
    shared = {(kind.name, written) for kind, _, written in SPELLINGS if len(spelled(written, kind)) > 1}
    assert shared == {
        *(("mass", word) for word in ("oz", "ozs", "ounce", "ounces", "gr", "grs")),
        *(("force", word) for word in ("ton", "tons")),
    }
