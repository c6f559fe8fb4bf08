"""What every picture must be: the same every time, readable without eyes, self-contained, fit for a terminal."""

from __future__ import annotations

import re
import struct
import xml.etree.ElementTree as ET

import pytest

from diagnose.consult import Consultant
from diagnose.report.pictures.cure import cure_picture
from diagnose.report.pictures.picture import Picture

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def picture(of: Consultant) -> Picture:
    told = {
        "rubber": "natural rubber", "platen temperature": 426.15, "cure time": 3600.0, "rubber thickness": 0.0254,
        "block cooled": "quenched",
    }  # fmt: skip
    facts = of.resolver.resolve(told).done["cure"].inputs
    return cure_picture(of.show, facts, {**facts, "cure time": 4500.0})


def test_the_same_picture_is_the_same_file(picture: Picture) -> None:
    assert picture.svg() == picture.svg()
    assert picture.png() == picture.png()


def test_the_svg_asks_for_nothing_from_outside_and_brings_its_own_background(picture: Picture) -> None:
    svg = picture.svg()
    root = ET.fromstring(svg)

    targets = [value for node in root.iter() for key, value in node.attrib.items() if key.endswith("href")]
    assert all(target.startswith("#") for target in targets)
    assert not re.search(r"<script|<style|@import|<image|url\((?!#)", svg)
    first = next(root.iter(f"{SVG}path"))
    assert "fill: #fcfcf8" in first.attrib["style"]


def test_two_pictures_on_one_page_share_no_id(picture: Picture, of: Consultant) -> None:
    other = Picture("cure", picture.title, "another", (), (), picture.panels)
    ids = [set(re.findall(r'\bid="([^"]+)"', one.svg())) for one in (picture, other)]

    assert ids[0]
    assert not ids[0] & ids[1]
    used = set(re.findall(r"url\(#([^)]+)\)", picture.svg())) | set(re.findall(r'href="#([^"]+)"', picture.svg()))
    assert used <= ids[0]


def test_a_screen_reader_gets_title_and_description(picture: Picture) -> None:
    root = ET.fromstring(picture.svg())

    assert root.attrib["role"] == "img"
    named = root.attrib["aria-labelledby"].split()
    found = {node.attrib.get("id"): node.text for node in root if node.tag in (f"{SVG}title", f"{SVG}desc")}
    assert [found[name] for name in named] == [picture.title, picture.alt]


def test_the_png_is_an_image_of_some_size(picture: Picture) -> None:
    image = picture.png()

    assert image[:8] == b"\x89PNG\r\n\x1a\n"
    wide, high = struct.unpack(">II", image[16:24])
    assert min(wide, high) > 400


@pytest.mark.parametrize("width", [20, 40, 57, 80, 200])
def test_signs_for_a_terminal_are_plain_and_keep_the_width(picture: Picture, width: int) -> None:
    lines = picture.characters(width)

    assert max(map(len, lines)) <= max(40, min(width, 100))
    assert all(ord(letter) < 128 or letter == "°" for line in lines for letter in line)
    assert any("m middle, recorded" in line for line in lines)
