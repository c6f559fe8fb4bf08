"""What a calculator refuses is said in the units in which it was typed: inches come back as inches, not as metres.

Every quantity expected below is one that was typed, or a bound that a conversion table gives: 1 in is 25.4 mm, 32 °F is
0 °C, 1 psi is 6.894757 kPa, 1 inHg is 3.386389 kPa (NIST Special Publication 811, B. N. Taylor, A. Thompson, Guide for
the Use of the International System of Units, 2008, appendix B.8; from memory).
"""

from __future__ import annotations

import re
import shlex

import pytest

from diagnose.cli.commands import run
from diagnose.consult import Consultant

SI = re.compile(r"\d (K|m|Pa|kg|kg/m3|m3|rad/s)\b(?!/)")

REFUSED = [
    ("quench-window",
     "flask-diameter=12in 'metal=fine silver'", ("12 in", "0.9843 in", "7.874 in"),
     "flask-diameter=300mm 'metal=fine silver'", ("300 mm", "25 mm", "200 mm")),
    ("gap-to-flask-wall",
     "tree-diameter=4in flask-diameter=3in", ("4 in", "3 in"),
     "tree-diameter=90mm flask-diameter=80mm", ("90 mm", "80 mm")),
    ("gap-over-the-tip",
     "tree-height=6in flask-height=4in base-rise=12.7mm", ("6.5 in", "4 in"),
     "tree-height=150mm flask-height=100mm base-rise=10mm", ("160 mm", "100 mm")),
    ("wax-temperature-window",
     "wax-congealing-point=180F wax-ceiling=176F", ("180 °F", "176 °F"),
     "wax-congealing-point=82C wax-ceiling=80C", ("82 °C", "80 °C")),
    ("vacuum-share",
     "vacuum-at-pour=29inHg barometer=25inHg", ("29 inHg", "25 inHg"),
     "vacuum-at-pour=98kPa barometer=85kPa", ("98 kPa", "85 kPa")),
    ("blind-pocket",
     "mold-vacuum=28inHg barometer=24inHg injection-pressure=8psi", ("28 inHg", "24 inHg"),
     "mold-vacuum=95kPa barometer=80kPa injection-pressure=0.5bar", ("95 kPa", "80 kPa")),
    ("spin-pressure",
     "spin-speed=400rpm arm-radius=4in metal-surface-radius=6in 'metal=fine silver'", ("4 in", "6 in"),
     "spin-speed=400rpm arm-radius=100mm metal-surface-radius=150mm 'metal=fine silver'", ("100 mm", "150 mm")),
    ("melting-heat",
     "metal-weight=100g charge-temperature=70F pour-temperature=1000F 'metal=fine silver'", ("70 °F", "1000 °F"),
     "metal-weight=100g charge-temperature=20C pour-temperature=500C 'metal=fine silver'", ("20 °C", "500 °C")),
    ("freezing-time",
     "flask-temperature=1740F pour-temperature=1800F thinnest-section=1mm 'metal=fine silver'"
     " 'investment=gypsum investment'", ("1740 °F", "36 °F"),
     "flask-temperature=950C pour-temperature=1000C thinnest-section=1mm 'metal=fine silver'"
     " 'investment=gypsum investment'", ("950 °C", "20 °C")),
    ("warm-up-of-the-middle",
     "rubber-thickness=1in platen-temperature=140F rubber-start-temperature=140F 'rubber=natural rubber'", ("140 °F",),
     "rubber-thickness=25mm platen-temperature=60C rubber-start-temperature=60C 'rubber=natural rubber'", ("60 °C",)),
    ("raw-rubber-age",
     "storage-temperature=0F storage-time=6months 'rubber=natural rubber'", ("0 °F", "5 °F", "140 °F"),
     "storage-temperature=-18C storage-time=6months 'rubber=natural rubber'", ("-18 °C", "-15 °C", "60 °C")),
    ("finished-size",
     "model-size=0.02in finishing-loss=0.05in wax-shrinkage=1% metal-shrinkage=1% rubber-shrinkage=1%",
     ("0.02 in", "0.05 in"),
     "model-size=0.5mm finishing-loss=1.5mm wax-shrinkage=1% metal-shrinkage=1% rubber-shrinkage=1%",
     ("0.5 mm", "1.5 mm")),
    ("water-in-the-wax",
     "pot-vacuum=29inHg barometer=25inHg wax-temperature=150F", ("29 inHg", "25 inHg"),
     "pot-vacuum=98kPa barometer=85kPa wax-temperature=65C", ("98 kPa", "85 kPa")),
    ("end-cover",
     "end-cover=4in flask-height=4in flask-diameter=3in", ("4 in",),
     "end-cover=100mm flask-height=100mm flask-diameter=80mm", ("100 mm",)),
    ("burnout-plan",
     "flask-diameter=3in pour-hold-temperature=1350F investment='gypsum investment'", ("1350 °F", "1292 °F"),
     "flask-diameter=80mm pour-hold-temperature=730C investment='gypsum investment'", ("730 °C", "700 °C")),
    ("closing",
     "platen-temperature=140F cure-time=45min rubber-thickness=1in 'rubber=natural rubber'", ("140 °F",),
     "platen-temperature=60C cure-time=45min rubber-thickness=25mm 'rubber=natural rubber'", ("60 °C",)),
]  # fmt: skip


BOTH = [(c, us, says) for c, us, says, _, _ in REFUSED] + [(c, metric, says) for c, _, _, metric, says in REFUSED]


@pytest.mark.parametrize(("calculator", "inputs", "says"), BOTH)
def test_a_refusal_is_said_in_the_units_typed(
    of: Consultant, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str],
    calculator: str, inputs: str, says: tuple[str, ...],
) -> None:  # fmt: skip
    of_nobody_yet = Consultant(of.base, of.resolver, "")
    monkeypatch.setattr("diagnose.cli.setup.consultant", lambda rules, system: of_nobody_yet)

    assert run(["calc", calculator, *shlex.split(inputs)]) == 2

    said = capsys.readouterr().err
    assert [quantity for quantity in says if quantity not in said] == []
    assert not SI.search(said), said


def test_a_named_system_is_kept(
    of: Consultant, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    in_metric = Consultant(of.base, of.resolver, "metric")
    monkeypatch.setattr("diagnose.cli.setup.consultant", lambda rules, system: in_metric)
    assert run(["calc", "gap-to-flask-wall", "tree-diameter=4in", "flask-diameter=3in"]) == 2
    assert "a tree 101.6 mm wide does not go into a flask of 76.2 mm" in capsys.readouterr().err


def test_results_come_in_the_units_typed_too(
    of: Consultant, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    of_nobody_yet = Consultant(of.base, of.resolver, "")
    monkeypatch.setattr("diagnose.cli.setup.consultant", lambda rules, system: of_nobody_yet)
    assert run(["calc", "gap-to-flask-wall", "tree-diameter=60mm", "flask-diameter=80mm"]) == 0
    assert "flask diameter: 80 mm" in capsys.readouterr().out
