"""Packing against volumes that can be reckoned on paper and the trade's bands for squeeze-out."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.calc.packing import (
    heat_squeeze_out,
    needed_rubber,
    overfill,
    proud_height,
    squeezed_out_share,
)
from diagnose.errors import OutOfRange

AREA, DEPTH = 0.0476 * 0.073, 0.0254


def test_an_aluminum_frame_of_gum_rubber_loses_7_6_percent_to_heat() -> None:
    # Expansions: gum rubber 6.6e-4 (Wood, Polymer Handbook, from memory), aluminum 23.6e-6 (Callister, table B.6).
    # In long form: (1 + 6.6e-4 x 130) / (1 + 23.6e-6 x 130)^3 = 1.0858 / 1.009232 = 1.07587.
    assert heat_squeeze_out(6.6e-4, 23.6e-6, 130.0) == pytest.approx(0.07587, abs=1e-5)


def test_silicone_cured_hotter_loses_9_5_percent() -> None:
    # 7.5e-4 per kelvin, 23 to 165 degrees C, aluminum frame, worked out separately.
    assert heat_squeeze_out(7.5e-4, 23.6e-6, 142.0) == pytest.approx(0.095, abs=1e-3)


@given(warming=st.floats(1, 200), beta=st.floats(3e-4, 9e-4))
def test_a_frame_that_expands_like_the_rubber_loses_nothing(warming: float, beta: float) -> None:
    alpha = ((1 + beta * warming) ** (1 / 3) - 1) / warming

    assert heat_squeeze_out(beta, alpha, warming) == pytest.approx(0.0, abs=1e-12)


def test_sheets_of_an_eighth_inch_fill_an_inch_frame_eight_times() -> None:
    sheets = needed_rubber(AREA, DEPTH, 0.0, 0.0) / (AREA * 0.003175)

    assert sheets == pytest.approx(8.0)


def test_a_mold_of_usual_size_holds_about_as_much_as_the_trade_weighs() -> None:
    # 84 to 100 g for 47.6 x 73 x 25 mm at 0.97 to 1.15 g/cm3 (common practice).
    volume = needed_rubber(AREA, 0.025, 0.0, 0.0)

    assert volume * 970 * 1e3 == pytest.approx(84, abs=1)
    assert volume * 1150 * 1e3 == pytest.approx(100, abs=1)


@given(rubber=st.floats(0.5, 1.6), model=st.floats(0.0, 0.1))
def test_standing_proud_and_being_overfilled_are_the_same_thing(rubber: float, model: float) -> None:
    frame = AREA * DEPTH
    over = overfill(frame, rubber * frame, model * frame)

    assert over == pytest.approx(rubber + model - 1)
    assert proud_height(AREA, DEPTH, rubber * frame, model * frame) == pytest.approx(over * DEPTH)


@given(model=st.floats(0.0, 1e-5), proud=st.floats(0.0, 0.003))
def test_the_needed_rubber_stands_as_proud_as_wanted(model: float, proud: float) -> None:
    rubber = needed_rubber(AREA, DEPTH, model, proud)

    assert proud_height(AREA, DEPTH, rubber, model) == pytest.approx(proud, abs=1e-9)


def test_a_pack_by_the_book_gives_the_flash_that_is_called_normal() -> None:
    # Common practice: 5 to 10 % over, 7.6 % by heat, 2 to 5 % air: 8 to 16 % comes out of a correct pack.
    least = squeezed_out_share(0.05, 0.076, 0.05)
    most = squeezed_out_share(0.10, 0.076, 0.02)

    assert 0.06 < least < 0.09
    assert 0.13 < most < 0.16


def test_a_pack_short_by_more_than_heat_adds_gives_no_flash() -> None:
    assert squeezed_out_share(-0.10, 0.076, 0.03) == 0.0


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: overfill(0.0, 1e-4, 0.0), "the frame's volume"),
        (lambda: overfill(1e-4, 1e-4, 2e-4), "does not go into 0.0001 m3"),
        (lambda: overfill(1e-4, -1e-4, 0.0), "the rubber's volume"),
        (lambda: heat_squeeze_out(6.6e-4, 23.6e-6, 500.0), "the warming"),
        (lambda: heat_squeeze_out(6.6e-2, 23.6e-6, 130.0), "volume expansion"),
        (lambda: needed_rubber(AREA, DEPTH, 1.0, 0.001), "no room for rubber"),
        (lambda: needed_rubber(AREA, 0.0, 0.0, 0.001), "depth"),
        (lambda: needed_rubber(AREA, DEPTH, 0.0, 0.05), "height above the frame"),
        (lambda: squeezed_out_share(2.0, 0.07, 0.03), "the overfill"),
        (lambda: squeezed_out_share(0.05, 0.07, float("nan")), "the air in the pack"),
    ],
)
def test_what_cannot_be_is_refused(call, says: str) -> None:
    with pytest.raises(OutOfRange, match=says):
        call()
