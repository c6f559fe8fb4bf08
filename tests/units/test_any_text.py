"""Whatever is typed ends in a value, a question or a refusal, soon; and what is shown can be typed back."""

from __future__ import annotations

from math import isfinite
from time import perf_counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.errors import BadInput
from diagnose.units import (
    Ask,
    AskMany,
    Reject,
    Value,
    dimension_named,
    dimensions,
    from_si,
    quantity,
    read,
    read_many,
    show,
    to_si,
)

QUIET = settings(database=None, deadline=None, max_examples=300)
NAMES = sorted(dimensions())
PIECES = st.sampled_from(
    [*"0123456789", " ", " ", ".", ",", "-", "/", ":", "1/2", "½", "e", "e-5", " to ", "+/-", "±", "~", " and ", "; ",
     "between ", "F", "°C", "C", " min", " h", "'", '"', " in", " ft", " lb", " oz", " g", "%", " psi", "Hg", " per ",
     "/K", "⁵", "\x00", "ﷺ", "\u202e", "vacuum", "(g)", "raise by "]
)  # fmt: skip
TEXTS = st.one_of(st.text(max_size=90), st.lists(PIECES, max_size=24).map("".join))
MEASURED = [(kind.name, unit.symbol) for kind in dimensions().values() for unit in kind.units]


@QUIET
@given(TEXTS, st.sampled_from(NAMES), st.booleans(), st.sampled_from(["ask", "refuse"]), st.booleans())
def test_any_text_is_answered(text: str, dimension: str, ranges: bool, bare: str, habit: bool) -> None:
    unit = dimension_named(dimension).common[0] if habit else None
    answer = read(text, dimension, unit, (0.1, 1000.0), ranges, bare="refuse" if bare == "refuse" else "ask")
    if isinstance(answer, Value):
        assert isfinite(answer.si)
        assert len(text) <= 80
    elif isinstance(answer, Ask):
        assert bare == "ask"
        assert answer.candidates
        assert answer.question.endswith("?")
    else:
        assert isinstance(answer, Reject)
        assert answer.reason.isprintable()


@QUIET
@given(TEXTS, st.sampled_from(NAMES))
def test_any_list_is_answered(text: str, dimension: str) -> None:
    answer = read_many(text, dimension, dimension_named(dimension).common[0], (0.1, 1000.0))
    assert isinstance(answer, (tuple, AskMany, Reject))
    if isinstance(answer, AskMany):
        assert all(answer.candidates)


@QUIET
@given(TEXTS, st.sampled_from(NAMES))
def test_any_text_in_a_rule_is_a_number_or_bad_input(text: str, dimension: str) -> None:
    message = ""
    try:
        assert isfinite(quantity(text, dimension))
    except BadInput as error:
        message = str(error)
    assert message.isprintable()


@pytest.mark.parametrize(
    "text",
    ["1-" * 40, "1 to " * 16, "1 ft " * 16, "1/1 " * 20, "1 000 " * 13, "1," * 40, "(" * 80, " " * 80, "9" * 80,
     "10**10**10", "9**9**7", "between " * 10, "~" * 80, "1e99" * 20, "½" * 80, "ﷺ" * 80, "in " * 26],
)  # fmt: skip
def test_no_text_takes_long(text: str) -> None:
    """A tenth of a second is fifty times what the worst of them needs, so a busy machine does not matter."""
    read(text, "length", "in", None, True)
    start = perf_counter()
    read(text, "length", "in", None, True)
    assert perf_counter() - start < 0.1


@QUIET
@given(st.sampled_from(MEASURED), st.floats(1e-3, 1e4))
def test_there_and_back_keeps_six_digits(measured: tuple[str, str], number: float) -> None:
    dimension, unit = measured
    back = from_si(to_si(number, unit, dimension), unit, dimension)
    slack = 2e-3 if dimension == "temperature" else 0.0  # six digits of the kelvin scale
    assert back == pytest.approx(number, rel=1.1e-5, abs=slack)


@QUIET
@given(st.sampled_from(MEASURED), st.floats(1e-3, 1e4))
def test_what_is_shown_can_be_typed_back(measured: tuple[str, str], number: float) -> None:
    dimension, unit = measured
    si = to_si(number, unit, dimension)
    found = read(show(si, dimension, unit, digits=4), dimension, unit)
    assert isinstance(found, Value), found
    slack = {"temperature": 0.6, "time": 60.0}.get(dimension, 0.0)  # whole degrees; whole minutes from an hour on
    assert found.si == pytest.approx(si, rel=6e-4, abs=slack)
