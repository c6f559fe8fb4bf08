"""The picture of heat and cure: what it shows against the physics, and that words and table say the same."""

from __future__ import annotations

import re
from itertools import combinations

import pytest

from diagnose.consult import Consultant
from diagnose.consult.show import Shower
from diagnose.derive.calculator import Facts
from diagnose.report.pictures.cure import cure_picture
from diagnose.report.pictures.drawing import drawn
from diagnose.report.pictures.panels import Curves

CELSIUS = 273.15
INCH = {
    "rubber": "natural rubber", "platen temperature": 153 + CELSIUS, "cure time": 3600.0, "rubber thickness": 0.0254,
    "platen contact": 20000.0, "rubber start temperature": 23 + CELSIUS,
}  # fmt: skip


def facts(of: Consultant, **changed: object) -> Facts:
    told = {**INCH, **{name.replace("_", " "): value for name, value in changed.items()}}
    return of.resolver.resolve(told).done["cure"].inputs


@pytest.fixture
def metric(of: Consultant) -> Shower:
    return Shower(of.base, "metric")


def ends(panel: object) -> dict[str, float]:
    assert isinstance(panel, Curves)
    return {curve.label: curve.ys[-1] for curve in panel.curves}


# 24.5 equivalent minutes in the middle of an inch after 60 min at 153 degrees C, from a separate march; t90 8 min.
def test_the_curves_end_where_the_march_ends(of: Consultant, metric: Shower) -> None:
    heat, cure = cure_picture(metric, facts(of)).panels

    assert ends(heat)["middle"] == pytest.approx(151.8, abs=0.1)
    assert ends(cure)["middle"] == pytest.approx(24.5 / 8, rel=0.01)
    assert ends(cure)["skin"] == pytest.approx(60 / 8, rel=0.01)


def test_every_end_of_a_curve_stands_in_the_words_and_in_the_table(of: Consultant, metric: Shower) -> None:
    picture = cure_picture(metric, facts(of, block_cooled="quenched"))

    for end in ends(picture.panels[1]).values():
        assert f"{end:.2f}" in picture.alt
        assert f"{end:.2f}" in picture.rows[-1]
    assert all(len(row) == len(picture.header) for row in picture.rows)


def test_recorded_and_revised_stand_side_by_side_and_are_told_apart_without_colour(
    of: Consultant, metric: Shower
) -> None:
    picture = cure_picture(metric, facts(of), facts(of, cure_time=5400.0))
    heat = picture.panels[0]

    assert isinstance(heat, Curves)
    assert len({curve.sign for curve in heat.curves}) == len({curve.label for curve in heat.curves}) == 6
    assert {row[0] for row in picture.rows} == {"recorded", "revised"}
    assert "With the recorded settings" in picture.alt
    assert "With the revised settings" in picture.alt


def test_without_a_known_t90_cure_is_drawn_as_time_at_full_heat(of: Consultant, metric: Shower) -> None:
    picture = cure_picture(metric, facts(of, rubber="peroxide silicone"))

    cure = picture.panels[1]
    assert isinstance(cure, Curves)
    assert "time at full heat (min)" in cure.y_title
    assert "nine tenths" not in picture.alt


@pytest.mark.parametrize(("system", "sign"), [("us", "°F"), ("metric", "°C")])
def test_units_are_those_that_the_person_chose(of: Consultant, system: str, sign: str) -> None:
    picture = cure_picture(Shower(of.base, system), facts(of))

    other = {"°F", "°C"} - {sign}
    everything = picture.svg() + picture.alt + repr(picture.rows)
    assert sign in everything
    assert not any(unit in everything for unit in other)


def test_time_runs_forward_and_cure_never_falls(of: Consultant, metric: Shower) -> None:
    for panel in cure_picture(metric, facts(of, block_cooled="loose in air")).panels:
        assert isinstance(panel, Curves)
        for curve in panel.curves:
            assert list(curve.xs) == sorted(curve.xs)
            if "cure" in panel.y_title:
                assert list(curve.ys) == sorted(curve.ys)


def test_the_cooling_is_drawn_only_when_it_is_known(of: Consultant, metric: Shower) -> None:
    def longest(**how: object) -> float:
        panel = cure_picture(metric, facts(of, **how)).panels[0]
        assert isinstance(panel, Curves)
        return panel.curves[0].xs[-1]

    assert longest() == pytest.approx(60.0)
    assert longest(block_cooled="loose in air") == pytest.approx(180.0, rel=0.01)
    assert re.search("heat off", cure_picture(metric, facts(of, block_cooled="loose in air")).svg())


@pytest.mark.parametrize("minutes", [5, 20, 30, 40, 45, 50, 55, 58])
def test_no_name_at_a_curves_end_touches_another(of: Consultant, minutes: float) -> None:
    picture = cure_picture(of.show, facts(of, cure_time=60.0 * minutes), facts(of))
    names = {curve.label for panel in picture.panels if isinstance(panel, Curves) for curve in panel.curves}
    with drawn(picture, "salt") as figure:
        figure.draw_without_rendering()
        for axis in figure.axes:
            boxes = [text.get_window_extent() for text in axis.texts if text.get_text() in names]
            assert len(boxes) == 6
            assert not [1 for one, other in combinations(boxes, 2) if one.overlaps(other)]
            assert all(box.x1 <= figure.bbox.x1 for box in boxes)
