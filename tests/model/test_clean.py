"""Text typed by people is shown, never obeyed: by terminals, by spreadsheets."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose.model.clean import clean, harmless_cell

NEVER_SHOWN = ("Cc", "Cf", "Cs", "Co", "Cn")


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("ring\x1b[31m red", "ring\N{REPLACEMENT CHARACTER}[31m red"),  # ECMA-48 control sequence
        ("\x9b2J", "\N{REPLACEMENT CHARACTER}2J"),  # the same in eight bits
        ("a\x1b]52;c;cm0=\x07b", "a\N{REPLACEMENT CHARACTER}]52;c;cm0=\N{REPLACEMENT CHARACTER}b"),  # sets a clipboard
        ("gnp.\u202egnir", "gnp.gnir"),  # right-to-left override (Unicode Standard Annex 9)
        ("\u2066isolated\u2069", "isolated"),
        ("zero\u200bwidth\ufeff", "zerowidth"),
        ("nul\x00bell\x07", "nul\N{REPLACEMENT CHARACTER}bell\N{REPLACEMENT CHARACTER}"),
        ("two\nlines\tand a tab", "two lines and a tab"),
        ("\ud800 alone", "\N{REPLACEMENT CHARACTER} alone"),
        ("Größe 5 µm, кольцо, 指輪, טבעת", "Größe 5 µm, кольцо, 指輪, טבעת"),
        ("<b>&amp;{{7*7}}[red]%s", "<b>&amp;{{7*7}}[red]%s"),
    ],
)
def test_what_would_command_a_terminal_is_shown_or_left_out(typed: str, shown: str) -> None:
    assert clean(typed) == shown


def test_marks_are_not_stacked_without_end_but_real_letters_keep_theirs() -> None:
    assert len(clean("a" + "\N{COMBINING ACUTE ACCENT}" * 300)) <= 5
    assert len(clean("a" + "\N{COMBINING ACUTE ACCENT}\u200b" * 300)) <= 5
    vietnamese = unicodedata.normalize("NFD", "Tiếng Việt ộ ẫ")
    assert clean(vietnamese) == vietnamese


def test_a_text_without_end_is_cut_where_one_line_is_wanted() -> None:
    assert len(clean("x" * 1_000_000)) <= 2000
    assert clean("one\ntwo", keep_lines=True) == "one\ntwo"


@given(st.text())
def test_nothing_that_commands_is_left_and_cleaning_twice_changes_nothing(text: str) -> None:
    once = clean(text)
    assert not [ch for ch in once if unicodedata.category(ch) in NEVER_SHOWN]
    assert clean(once) == once


@pytest.mark.parametrize(
    "typed",
    ['=HYPERLINK("x","y")', "=1+1", "+SUM(A1)", "-2+3", "@SUM(A1)", " =1+1", "|cmd", "%0A=1", "\uff1d1+1", "\uff0b1"],
)  # fmt: skip
def test_what_a_spreadsheet_would_compute_is_marked_as_text(typed: str) -> None:
    # The signs that begin a formula in common spreadsheets: OWASP, CSV Injection.
    assert harmless_cell(clean(typed)).startswith("'")


@pytest.mark.parametrize("typed", ["ring no. 5", "-12.5", "+3", "1e-3", "", "a=b", "'quoted"])
def test_plain_words_and_numbers_stay_as_they_are(typed: str) -> None:
    assert harmless_cell(typed) == typed
