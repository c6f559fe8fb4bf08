"""Help pages say what is true: the numbers, the commands, the units and the words at a prompt."""

from __future__ import annotations

import re

import pytest

from diagnose import units
from diagnose.cli.commands import Lazy
from diagnose.errors import BadInput
from diagnose.interview.commands import LEADING, PLAIN
from diagnose.report.topics import FOLDER, contents_lines, topic_lines, topics

DIMENSION = {
    "307 F": "temperature", "153 C": "temperature", "1 1/4 in": "length", '3/8"': "length", "32 mm": "length",
    "1 h 15 min": "time", "1:15": "time", "28 inHg": "pressure", "0,8 bar": "pressure", "12 psi": "pressure",
    "40/100": "ratio",
}  # fmt: skip


def text_of(name: str) -> str:
    return (FOLDER / f"{name}.txt").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", topics())
@pytest.mark.parametrize("width", [40, 80])
def test_every_page_fits_the_width(name: str, width: int) -> None:
    lines = topic_lines(name, width)

    assert max(len(line.text) for line in lines) <= width
    assert not any("{" in line.text for line in lines)


@pytest.mark.parametrize("name", topics())
def test_every_command_on_a_page_exists(name: str) -> None:
    for command in re.findall(r"(?:^|`)\s*diagnose (?:--\S+ \S+ )?([a-z]+)", text_of(name), re.MULTILINE):
        assert command in Lazy.homes, command


def test_the_contents_name_every_page() -> None:
    shown = "\n".join(line.text for line in contents_lines(80))

    assert all(name in shown for name in topics())


def test_the_strength_bands_are_those_of_the_published_table() -> None:
    # Kass & Raftery, J. Am. Stat. Assoc. 90, 773, 1995, table of section 3.2: 1 to 3, 3 to 20, 20 to 150, > 150.
    shown = " ".join(line.text for line in topic_lines("ranking", 100))

    assert "slight 1 to 3, positive 3 to 20, strong 20 to 150, very strong over 150" in shown


@pytest.mark.parametrize("written", DIMENSION)
def test_the_quantities_shown_as_examples_are_understood(written: str) -> None:
    assert written in text_of("units")
    unit = units.dimension_named(DIMENSION[written]).units[0].symbol
    assert not isinstance(units.read(written, DIMENSION[written], unit, None), units.Reject)


def test_the_words_at_a_prompt_do_what_the_page_says() -> None:
    page = text_of("interview").split("At any prompt:")[1].split("Every answer")[0]
    for line in page.strip().splitlines():
        for wish in re.split(r"\s{2,}", line.strip())[0].split(", "):
            known = wish in PLAIN or wish == "skip" or "=" in wish or any(wish.startswith(b) for b in LEADING)
            assert known, wish


def test_an_unknown_page_names_those_there_are() -> None:
    with pytest.raises(BadInput, match="units"):
        topic_lines("florble", 80)
