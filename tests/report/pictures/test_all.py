"""Every picture: made from plain facts, with words and table of the same content, and true to what it draws."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from math import isfinite

import pytest

from diagnose.consult import Consultant
from diagnose.consult.show import Shower
from diagnose.derive.all import all_calculators
from diagnose.derive.calculator import Value
from diagnose.derive.resolve import Resolved
from diagnose.errors import BadInput
from diagnose.report.pictures import MAKERS, Picture, picture, pictures_of
from diagnose.report.pictures.panels import Bars, Curves, Map
from diagnose.report.pictures.platens import places

C = 273.15
TOLD: dict[str, Value] = {
    "rubber": "natural rubber", "model metal": "brass", "platen temperature": C + 153, "cure time": 2700.0,
    "rubber thickness": 0.0254, "block cooled": "quenched",
    "platen readings": (C + 153, C + 150, C + 154, C + 156, C + 149),
    "press display": C + 153, "investment": "gypsum investment", "flask diameter": 0.075, "flask height": 0.1,
    "burnout hold temperatures": (C + 150, C + 370, C + 730, C + 540),
    "burnout hold times": (3600.0, 3600.0, 7200.0, 3600.0),
    "burnout ramps": (0.05, 0.05, 0.08, 0.08), "pour clock time": 36000.0, "flask temperature": C + 540,
    "kiln to pour time": 60.0, "heaviest section": 0.004, "heaviest section width": 0.012, "gate diameter": 0.004, "trunk diameter": 0.008,
    "button diameter": 0.03, "button weight": 0.05, "metal": "sterling", "wax": "injection wax",
    "wax gate diameter": 0.002, "mold temperature": C + 22, "wax temperature": C + 70,
    "wax congealing point": C + 62, "model size": 0.02,
    "wanted finished size": 0.0195,
}  # fmt: skip
CHANGED: dict[str, Value] = {
    "cure time": 3600.0, "gate diameter": 0.006, "wax temperature": C + 66, "kiln to pour time": 120.0,
    "model size": 0.021, "burnout hold times": (7200.0, 7200.0, 7200.0, 7200.0),
}  # fmt: skip


@pytest.fixture(scope="module")
def recorded(of: Consultant) -> Resolved:
    return of.resolver.resolve(TOLD)


@pytest.fixture(scope="module")
def drawn(of: Consultant, recorded: Resolved) -> dict[str, Picture]:
    show = Shower(of.base, "metric")
    return pictures_of(show, recorded) | {"windows": picture("windows", show, recorded.facts)}


@pytest.fixture(scope="module")
def compared(of: Consultant, recorded: Resolved) -> dict[str, Picture]:
    revised = of.resolver.resolve({**TOLD, **CHANGED})
    show = Shower(of.base, "metric")
    return pictures_of(show, recorded, revised) | {"windows": picture("windows", show, recorded.facts, revised.facts)}


def curves(drawing: Picture) -> dict[str, tuple[tuple[float, ...], tuple[float, ...]]]:
    (panel,) = drawing.panels
    assert isinstance(panel, Curves)
    return {curve.label: (curve.xs, curve.ys) for curve in panel.curves}


def test_every_picture_a_calculator_names_exists_and_every_one_is_drawn_here(drawn: dict[str, Picture]) -> None:
    named = {c.drawing for c in all_calculators() if c.drawing}
    assert named <= set(MAKERS)
    assert set(drawn) == set(MAKERS)
    assert len({one.name for one in drawn.values()}) == len(drawn)


@pytest.mark.parametrize("name", MAKERS)
def test_words_and_table_carry_what_the_drawing_shows(name: str, drawn: dict[str, Picture]) -> None:
    one = drawn[name]

    assert re.search(r"\d", one.alt)
    assert one.rows
    assert all(len(row) == len(one.header) for row in one.rows)
    labels = {curve.label.split(",")[0] for p in one.panels if isinstance(p, Curves) for curve in p.curves}
    labels |= {bar.label.split(",")[0] for p in one.panels if isinstance(p, Bars) for bar in p.bars}
    table = " ".join((*one.header, *(cell for row in one.rows for cell in row)))
    assert all(label in one.alt and label in table for label in labels)


@pytest.mark.parametrize("name", ["platens", "freezing order", "flask cooling"])
def test_every_kind_of_panel_is_drawn_with_its_words(name: str, drawn: dict[str, Picture]) -> None:
    words = " ".join(ET.fromstring(drawn[name].svg()).itertext())
    (panel,) = drawn[name].panels

    if isinstance(panel, Curves):
        said = [curve.label for curve in panel.curves] + [panel.x_title, panel.y_title]
    elif isinstance(panel, Bars):
        said = [text for bar in panel.bars for text in (bar.label, bar.words)]
    else:
        said = [line for spot in panel.spots for line in spot.words]
    assert all(text in words for text in said)


@pytest.mark.parametrize("name", [n for n in MAKERS if n != "platens"])
def test_a_revised_setting_stands_beside_the_recorded_one(
    name: str, drawn: dict[str, Picture], compared: dict[str, Picture]
) -> None:
    one = compared[name]

    assert "revised" in one.alt
    assert "revised" in repr(one.rows)
    kinds = {
        c.kind
        for p in one.panels
        for c in (p.curves if isinstance(p, Curves) else p.bars if isinstance(p, Bars) else ())
    }
    assert kinds == {"recorded", "revised"}
    assert one.panels != drawn[name].panels


@pytest.mark.parametrize("width", [40, 60, 80])
@pytest.mark.parametrize("name", MAKERS)
def test_every_picture_fits_a_terminal(
    name: str, width: int, drawn: dict[str, Picture], compared: dict[str, Picture]
) -> None:
    for one in (drawn[name], compared[name]):
        lines = one.characters(width)
        assert max(map(len, lines)) <= width
        assert all(ord(letter) < 128 or letter == "°" for line in lines for letter in line)


@pytest.mark.parametrize("name", MAKERS)
def test_only_finite_numbers_are_drawn(name: str, compared: dict[str, Picture]) -> None:
    for panel in compared[name].panels:
        if isinstance(panel, Curves):
            assert all(isfinite(v) for curve in panel.curves for v in (*curve.xs, *curve.ys))
        elif isinstance(panel, Bars):
            assert all(isfinite(v) for bar in panel.bars for v in (bar.start, bar.end))
        else:
            assert all(isfinite(v) for spot in panel.spots for v in (spot.x, spot.y, spot.value))


def test_an_unknown_picture_is_refused_with_the_names_there_are(of: Consultant) -> None:
    with pytest.raises(BadInput, match="There are: cure"):
        picture("cuer", of.show, {})


def test_an_unchanged_calculation_is_not_drawn_twice(of: Consultant, recorded: Resolved) -> None:
    same = of.resolver.resolve({**TOLD, "gate diameter": 0.006})
    found = pictures_of(of.show, recorded, same)

    assert "revised" not in found["cure"].alt
    assert "revised" in found["freezing order"].alt


# The order is the one in which the setting asks for the readings: middle, then clockwise from the front left.
@pytest.mark.parametrize("count", [4, 5, 9, 13])
def test_platen_points_go_clockwise_from_the_front_left(count: int) -> None:
    middle, *rim = places(count)

    assert middle[:2] == (0.5, 0.5)
    assert rim[0][2] == "front left"
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(rim, [*rim[1:], rim[0]], strict=True))
    assert area < 0.0  # the shoelace formula: negative for clockwise


def test_a_platen_map_holds_every_reading(drawn: dict[str, Picture]) -> None:
    (panel,) = drawn["platens"].panels

    assert isinstance(panel, Map)
    assert [spot.words[0] for spot in panel.spots] == ["1: 153 °C", "2: 150 °C", "3: 154 °C", "4: 156 °C", "5: 149 °C"]
    assert [row[2] for row in drawn["platens"].rows] == ["153 °C", "150 °C", "154 °C", "156 °C", "149 °C"]


def test_the_kiln_is_drawn_through_its_recorded_holds(drawn: dict[str, Picture]) -> None:
    hours, kiln = curves(drawn["burnout"])["kiln, recorded"]

    # 128 K at 3 K/min, 1 h, 220 K at 3, 1 h, 360 K at 4.8, 2 h, 190 K at 4.8, 1 h
    assert hours[-1] == pytest.approx((128 / 3 + 60 + 220 / 3 + 60 + 360 / 4.8 + 120 + 190 / 4.8 + 60) / 60, rel=1e-3)
    assert max(kiln) == pytest.approx(730)
    assert kiln[-1] == pytest.approx(540)
    assert next(row[1] for row in drawn["burnout"].rows if row[0] == "needed") == "0 min"


def test_the_middle_of_the_flask_lags_and_ends_where_the_calculator_says(
    drawn: dict[str, Picture], recorded: Resolved
) -> None:
    _, kiln = curves(drawn["burnout"])["kiln, recorded"]
    _, middle = curves(drawn["burnout"])["middle, recorded"]

    assert middle[-1] == pytest.approx(float(str(recorded.facts["flask core temperature"])) - C, abs=0.01)
    rising = [n for n in range(1, len(kiln)) if kiln[n] > kiln[n - 1]]
    assert all(middle[n] < kiln[n] for n in rising)


def test_the_needed_burnout_ends_at_the_wanted_hour(drawn: dict[str, Picture]) -> None:
    assert drawn["burnout"].rows[-1][2] == "10:00"
    assert "ends at 10:00" in drawn["burnout"].alt


# Chvorinov: freezing time goes with the square of volume over surface: bar of 4 by 12 mm 1.5, rod 4 mm 1, rod 8 mm 2 mm.
def test_freezing_bars_are_as_long_as_chvorinov_says(drawn: dict[str, Picture]) -> None:
    (panel,) = drawn["freezing order"].panels
    assert isinstance(panel, Bars)
    ends = {bar.label: bar.end for bar in panel.bars}

    assert ends["part"] == 1.0
    assert ends["gate"] == pytest.approx((1.0 / 1.5) ** 2)
    assert ends["trunk"] == pytest.approx((2.0 / 1.5) ** 2)
    assert "gate 0.44, too early" in drawn["freezing order"].alt


def test_the_size_chain_multiplies_what_each_step_leaves(drawn: dict[str, Picture]) -> None:
    (panel,) = drawn["size chain"].panels
    assert isinstance(panel, Bars)
    sizes = [bar.end for bar in panel.bars]

    assert sizes[0] == pytest.approx(20.0)
    assert sizes == sorted(sizes, reverse=True)
    for before, bar in zip(panel.bars, panel.bars[1:], strict=False):
        share = float(re.search(r"-([\d.]+) %", bar.words).group(1)) / 100.0  # type: ignore[union-attr]
        assert bar.end == pytest.approx(before.end * (1.0 - share), rel=2e-4)


def test_the_wax_curve_passes_firm_when_the_calculator_says_it_is_firm(
    drawn: dict[str, Picture], recorded: Resolved
) -> None:
    minutes, degrees = curves(drawn["wax cooling"])["heaviest section"]
    firm = float(str(recorded.done["wax set time"].inputs["wax firm temperature"])) - C
    before = max(n for n, kelvin in enumerate(degrees) if kelvin >= firm)
    share = (degrees[before] - firm) / (degrees[before] - degrees[before + 1])
    found = minutes[before] + share * (minutes[before + 1] - minutes[before])

    assert found * 60.0 == pytest.approx(float(str(recorded.facts["wax set time"])), rel=0.05)
    assert list(degrees) == sorted(degrees, reverse=True)


def test_the_flask_is_as_cold_at_the_pour_as_the_calculator_says(drawn: dict[str, Picture], recorded: Resolved) -> None:
    seconds, outer = curves(drawn["flask cooling"])["outermost wax"]
    at_pour = min(range(len(seconds)), key=lambda n: abs(seconds[n] - 60.0))
    done = recorded.done["heat lost to the pour"].results

    assert outer[at_pour] == pytest.approx(float(str(done["flask temperature at pour"])) - C, abs=0.01)


def test_windows_say_on_which_side_a_setting_lies(of: Consultant) -> None:
    facts = of.resolver.resolve({**TOLD, "platen temperature": C + 100}).facts
    one = picture("windows", of.show, facts, {**facts, "platen temperature": C + 153})

    assert tuple(
        row[4] for row in one.rows if row[0] == "platen temperature" and row[2] in ("recorded", "revised")
    ) == ("below the window", "in the window")
    assert "never past" in one.alt
