"""Quantities in sentences in US units. The numbers follow from the definitions: 1 in = 25.4 mm exactly, 1 lb = 0.45359237 kg
exactly (international yard and pound agreement, 1959), F = 1.8 C + 32, and 1 psi = 6894.757 Pa (NIST Special Publication 811,
A. Thompson and B. Taylor, Guide for the Use of the International System of Units, 2008, appendix B)."""

from __future__ import annotations

import pytest

from diagnose.units import prose, quantities_in


@pytest.mark.parametrize(
    ("metric", "us"),
    [
        # Temperatures: 1.8 C + 32; those given to ten degrees go to five, 212 and 68 and 185 are what everybody knows.
        ("pour at 400 to 480 C", "pour at 750 to 895 °F"),  # 752, 896
        ("never above 85 °C", "never above 185 °F"),  # 185
        ("water boils at 100 C", "water boils at 212 °F"),
        ("keep it at 20 to 22 C", "keep it at 68 to 72 °F"),  # 68, 71.6
        ("rubber at 153 °C", "rubber at 307 °F"),  # 307.4
        ("tin 231.9 °C, silver 961.8 °C", "tin 449.4 °F, silver 1763.2 °F"),  # 449.42, 1763.24
        ("between about 400 and 200 degrees C", "between about 750 and 390 °F"),  # 752, 392
        ("at 150, 400 and 730 C", "at 300, 750 and 1345 °F"),  # 302, 752, 1346
        ("faster at 35 than at 25 °C", "faster at 95 than at 77 °F"),
        # Differences: 1.8 C.
        ("pour 25 C cooler", "pour 45 °F cooler"),
        ("within 10 C", "within 18 °F"),
        ("lower the press by 20 C", "lower the press by 36 °F"),
        ("10 K more", "18 °F more"),
        ("50 °C and more off", "90 °F and more off"),
        ("raise the pot 10 C at a time", "raise the pot 18 °F at a time"),
        ("in steps of 2 to 3 C", "in steps of 4 to 5 °F"),  # 3.6, 5.4
        ("4 C or more above it", "7 °F or more above it"),  # 7.2
        ("set it 20 to 40 °C above fully melted", "set it 36 to 72 °F above fully melted"),
        ("climb at 1.5 C a minute, wide ones 1 K", "climb at 2.7 °F a minute, wide ones 1.8 °F"),
        ("no more than 5 °C/min", "no more than 9 °F/min"),
        ("gone by 650 C", "gone by 1200 °F"),  # 1202
        # Lengths: mm / 25.4.
        ("over 5 mm", "over 0.2 in (5 mm)"),  # 0.197
        ("3 to 10 mm long", "0.12 to 0.4 in (3 to 10 mm) long"),  # 0.118, 0.394
        ("a 0.5 x 3 mm strip", "a 0.02 x 0.12 in (0.5 x 3 mm) strip"),  # 0.0197, 0.118
        ("2-5 mm", "0.08-0.2 in (2-5 mm)"),  # 0.0787, 0.197
        ("a gap of 0.1 mm", "a gap of 0.004 in (0.1 mm)"),  # 0.00394
        ("12 mm (16 mm at 64 mm)", "0.47 in (12 mm) (0.63 in = 16 mm at 2.5 in = 64 mm)"),  # 0.472, 0.630, 2.520
        ("at 2500 m", "at 8200 ft"),  # 2500 / 0.3048 = 8202
        # Pressure and mass.
        ("pushes with 5 bar", "pushes with 73 psi"),  # 500000 / 6894.757 = 72.5
        ("use 3.5 MPa", "use 510 psi"),  # 507.6
        ("under 1 kg", "under 2.2 lb"),  # 2.205
    ],
)
def test_a_sentence_is_given_in_us_units(metric: str, us: str) -> None:
    assert prose(metric, "us") == us
    assert prose(us, "us") == us


@pytest.mark.parametrize(
    "text",
    [
        "Shore A, grade C, part C, 22k gold, 24 karat",
        "flux 0.3 to 0.6 g for 100 g, 5 ml of peroxide, 3 to 10 µm nickel",
        "39 to 100, 70/30 brass, 1:2, 100 mesh, grits 400 to 1200, an angle of 45 degrees, 8 of 10",
        "30 min at 18 %, 1 h, 2 days, 950 platinum",
        "5 W/m2/K and 3 mm2/s and 2 m2 and 1 cm2",
        "never above 85 C (185 F)",
        "from 18 to 24 C (65 to 75 F)",
        "732 F is only 389 C",
        "lower it by 1 to 2 psi (0.07 to 0.14 bar)",
        "25 inHg (85 kPa below air) or deeper",
        "0.47 in (12 mm)",
        "307 °F, 1 1/4 in, 12 psi",
        "",
    ],
)
def test_what_is_no_metric_quantity_or_is_there_in_both_systems_is_left(text: str) -> None:
    assert prose(text, "us") == text
    assert prose(text, "metric") == text


def test_a_metric_reader_reads_what_was_written_and_kelvins_as_degrees() -> None:
    text = "pour 25 C cooler, at 400 to 480 C for over 5 mm, never above 700 °C; 5 bar"
    assert prose(text, "metric") == text
    assert prose("1.5 K a minute at 75 mm, 1 K at 100 mm", "metric") == "1.5 C a minute at 75 mm, 1 C at 100 mm"


def test_two_temperatures_near_each_other_are_only_the_same_when_they_are_equal() -> None:
    assert prose("20 C (75 F outside)", "us") == "68 °F (75 F outside)"  # 1.8 x 20 + 32 = 68


@pytest.mark.parametrize(
    ("metric", "us"),
    [
        # 745 C is 1373 F and 165 C is 329 F by definition: a limit is not passed by rounding it.
        ("never above 745 C", "never above 1373 °F"),
        ("pour at about 745 C", "pour at about 1375 °F"),
        ("stays at 165 C or below", "stays at 329 °F or below"),
        ("never under 355 C", "never under 671 °F"),
        ("at least 18 C", "at least 65 °F"),
    ],
)
def test_a_limit_is_rounded_to_its_safe_side_only(metric: str, us: str) -> None:
    assert prose(metric, "us") == us


def test_each_quantity_says_what_it_is() -> None:
    found = list(quantities_in("heat to 150 C, then 1 C a minute, 3 mm thick, within 5 C"))
    assert [q.pair.dimension for q in found] == ["temperature", "temperature change", "length", "temperature change"]
