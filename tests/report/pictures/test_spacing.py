"""Words beside a drawing never lie on each other."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.report.pictures.spacing import spread_out

PLACES = st.lists(st.floats(-0.5, 1.5), min_size=1, max_size=12)


@given(PLACES)
@settings(max_examples=40)
def test_words_keep_their_order_their_distance_and_the_frame(places: list[float]) -> None:
    gap = 0.08
    found = spread_out(places, gap, 0.0, 1.0)
    order = sorted(range(len(places)), key=lambda n: places[n])

    for one, other in pairwise(order):
        assert found[other] - found[one] >= gap - 1e-9
    assert min(found) >= -1e-9
    assert max(found) <= 1.0 + 1e-9


def test_words_that_have_room_stay_where_they_belong() -> None:
    assert spread_out([0.9, 0.1, 0.5], 0.2, 0.0, 1.0) == pytest.approx([0.9, 0.1, 0.5])
