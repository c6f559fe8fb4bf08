"""What every picture must be: the same every time, readable without eyes, self-contained, fit for a terminal."""

from __future__ import annotations

import re
import struct
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest

from diagnose.report.pictures.panels import Band, Bar, Bars, Curve, Curves, Level
from diagnose.report.pictures.picture import Picture

SVG = "{http://www.w3.org/2000/svg}"


SKIN = Curve("skin, recorded", (1.0, 2.0, 3.0), (20.0, 150.0, 153.0), "dotted", "recorded", "s")
MIDDLE = Curve("middle, recorded", (1.0, 2.0, 3.0), (20.0, 90.0, 150.0), "solid", "recorded", "m")
LEVEL, MOMENT, BAND = Level(120.0, "as hot as this"), Level(2.5, "heat off"), Band(100.0, 110.0, "wanted")
CURVES = Curves("time (min)", "temperature (°C)", (SKIN, MIDDLE), (LEVEL,), (MOMENT,), (BAND,))
BARS = Bars("size (mm)", (Bar("model", 20.0, 20.0, "20 mm"), Bar("cavity", 20.0, 19.5, "19.5 mm", "revised")), (LEVEL,))
PICTURE = Picture("made-up", "A made-up picture", "It shows 2 curves and 2 bars.", (), (), (CURVES, BARS))


@pytest.fixture(scope="module")
def svg() -> str:
    return PICTURE.svg()


def test_the_same_picture_is_the_same_file(svg: str) -> None:
    small = replace(PICTURE, panels=(BARS,))
    assert PICTURE.svg() == svg
    assert small.png() == small.png()


def test_the_svg_asks_for_nothing_from_outside_and_brings_its_own_background(svg: str) -> None:
    root = ET.fromstring(svg)

    targets = [value for node in root.iter() for key, value in node.attrib.items() if key.endswith("href")]
    assert all(target.startswith("#") for target in targets)
    assert not re.search(r"<script|<style|@import|<image|url\((?!#)", svg)
    first = next(root.iter(f"{SVG}path"))
    assert "fill: #fcfcf8" in first.attrib["style"]


def test_two_pictures_on_one_page_share_no_id(svg: str) -> None:
    other = replace(PICTURE, alt="another", panels=(CURVES,)).svg()
    ids = [set(re.findall(r'\bid="([^"]+)"', one)) for one in (svg, other)]

    assert ids[0]
    assert not ids[0] & ids[1]
    used = set(re.findall(r"url\(#([^)]+)\)", svg)) | set(re.findall(r'href="#([^"]+)"', svg))
    assert used <= ids[0]


def test_a_screen_reader_gets_title_and_description(svg: str) -> None:
    root = ET.fromstring(svg)

    assert root.attrib["role"] == "img"
    named = root.attrib["aria-labelledby"].split()
    found = {node.attrib.get("id"): node.text for node in root if node.tag in (f"{SVG}title", f"{SVG}desc")}
    assert [found[name] for name in named] == [PICTURE.title, PICTURE.alt]


def test_the_png_is_an_image_of_some_size() -> None:
    image = replace(PICTURE, panels=(BARS,)).png()

    assert image[:8] == b"\x89PNG\r\n\x1a\n"
    wide, high = struct.unpack(">II", image[16:24])
    assert wide > 2 * high > 400


@pytest.mark.parametrize("width", [20, 40, 57, 80, 200])
def test_signs_for_a_terminal_are_plain_and_keep_the_width(width: int) -> None:
    lines = PICTURE.characters(width)

    assert max(map(len, lines)) <= max(40, min(width, 100))
    assert all(ord(letter) < 128 or letter == "°" for line in lines for letter in line)
    assert any("m middle, recorded" in line for line in lines)
