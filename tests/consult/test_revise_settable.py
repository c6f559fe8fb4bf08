"""What can be set on the machine: round numbers in the person's unit."""

from __future__ import annotations

import pytest

from diagnose import units
from diagnose.consult import Consultant
from diagnose.consult.revise_settable import PARTS, scale_of, usual_step
from diagnose.consult.show import Shower
from diagnose.rulebase.load import RuleBase


@pytest.mark.parametrize(
    ("name", "system", "wanted", "up", "down"),
    [
        ("cure time", "us", "95.3 min", "96 min", "95 min"),
        ("platen temperature", "metric", "144.4 C", "145 C", "144 C"),
        ("platen temperature", "us", "291.1 F", "292 F", "290 F"),
        ("hold time", "us", "7.2 s", "8 s", "7 s"),
        ("gate diameter", "us", "5.76 mm", "5.8 mm", "5.7 mm"),
        ("injection pressure", "us", "11.8 psi", "12 psi", "11.5 psi"),
        ("flask temperature", "metric", "513 C", "515 C", "510 C"),
        ("rest before heat", "us", "122 min", "130 min", "120 min"),
        ("arm turns", "us", "2.4", "3", "2"),
    ],
)
def test_numbers_are_rounded_as_a_dial_is_read(
    base: RuleBase, name: str, system: str, wanted: str, up: str, down: str
) -> None:
    setting = base.words.settings[name]

    def si(text: str) -> float:
        return units.quantity(text, setting.dimension)

    scale = scale_of(setting, Shower(base, system), si(wanted))
    assert scale.value(scale.up(si(wanted))) == pytest.approx(si(up), rel=1e-5)
    assert scale.value(scale.down(si(wanted))) == pytest.approx(si(down), rel=1e-5)


@pytest.mark.parametrize("system", ["us", "metric"])
def test_every_setting_has_round_numbers_no_further_apart_than_its_usual_step(of: Consultant, system: str) -> None:
    for setting in of.base.words.settings.values():
        if setting.dimension == "answer":
            continue
        middle = (setting.plausible_low + setting.plausible_high) / 2.0
        scale, step = scale_of(setting, Shower(of.base, system), middle), usual_step(setting, middle)
        assert 0.0 < scale.apart <= step * 1.001, setting.name
        if setting.dimension != "number" and setting.usual_step:
            assert scale.apart <= step / PARTS * 1.001 or scale.every in (1.0, 2.0, 5.0), setting.name
        place = scale.up(middle)
        assert scale.up(scale.value(place)) == scale.down(scale.value(place)) == place, setting.name


@pytest.mark.parametrize("system", ["us", "metric"])
def test_a_settable_value_reads_back_as_itself_from_how_it_is_shown(of: Consultant, system: str) -> None:
    show = Shower(of.base, system)
    for setting in of.base.words.settings.values():
        if setting.usual_step is None or not setting.windows:
            continue
        window = setting.windows[0]
        for end in (window.low, window.high):
            if not end:
                continue
            scale = scale_of(setting, show, end)
            value = scale.value(scale.up(end))
            shown = units.must_read(show.value(setting.name, value), setting.dimension, show.unit(setting.name)[1])
            assert shown.si == pytest.approx(value, abs=0.5 * scale.apart), setting.name
