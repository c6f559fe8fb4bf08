"""The shop picture as text and as a page, on a small shop with hostile words in it."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

from diagnose.consult import Consultant
from diagnose.consult.in_window import with_windows
from diagnose.library.kept import Chance, Kept, Moved, Said, Set, Tried
from diagnose.library.store import Library
from diagnose.library.summary import shop_picture
from diagnose.model.shop_picture import ShopPicture
from diagnose.report.shop_page import TEMPLATE, shop_page, shop_pictures
from diagnose.report.shop_text import shop_lines
from diagnose.report.shop_words import LABEL, label
from tests.report.browser import Browser

HOSTILE = '<script>alert(1)</script> & "Käse" \x1b[31m {{ 7 * 7 }}'
SEAM, VOIDS, EMPTY = "mold.visible-seam", "mold.voids", "mold.pack-too-empty"


def case(number: int) -> Kept:
    minutes = 30.0 + number
    moved = Moved(setting="cure time", before="30 min", after="60 min", before_si=1800.0, after_si=3600.0)
    result = "same" if number % 3 == 0 else "cured"
    trial = Tried(changed=HOSTILE if number % 2 else "Pack it fuller.", result=result, moves=(moved,))
    cure, platens = Set(typed="x", value=60.0 * minutes), Set(typed="153 C", value=426.0)
    return Kept(
        name=f"{HOSTILE} {number}" if number == 3 else "", defect=SEAM if number % 4 else VOIDS,
        date=f"2026-{1 + number % 3:02d}-05", materials={"rubber": "natural rubber"},
        settings={"platen temperature": platens, "cure time": cure},
        confirmed=(EMPTY,) if number % 5 else (HOSTILE,), trials=(trial,), cost=1250, currency="EUR",
        said=Said(verdict="one cause", causes=(Chance(cause=EMPTY, chance=0.85),)),
    )  # fmt: skip


@pytest.fixture(scope="module")
def picture(of: Consultant, tmp_path_factory: pytest.TempPathFactory) -> ShopPicture:
    library = Library(tmp_path_factory.mktemp("shop") / "library.db")
    library.add([case(n) for n in range(40)])
    return with_windows(of, shop_picture(library.database, list(of.base.words.slots)))


@pytest.fixture(scope="module")
def page(of: Consultant, picture: ShopPicture) -> str:
    return shop_page(of.show, picture, "Made by a test.")


@pytest.mark.parametrize("width", [40, 80])
def test_no_line_is_wider_than_the_terminal_and_none_carries_a_control_sign(
    of: Consultant, picture: ShopPicture, width: int
) -> None:
    lines = [line.text for line in shop_lines(of.show, picture, width)]
    assert max(map(len, lines)) <= width
    assert not any(ord(sign) < 32 for line in lines for sign in line)


def test_the_text_says_what_was_counted(of: Consultant, picture: ShopPicture) -> None:
    text = " ".join(line.text.strip() for line in shop_lines(of.show, picture, 80))
    # By hand: 40 cases, ten of them voids; EUR 12.50 each; said 85 %, and it was so in the 32 that are no fifth one.
    assert "40 cases, from 2026-01 to 2026-03; 40 of them confirmed." in text
    assert f"{of.base.defect(SEAM).name} (mold) ########## 30 (75%)" in text
    assert "500.00 EUR in 40 cases" in text
    assert "said 80% to 90%: was right 32 of 40 times, 80% (65% to 90%)" in text


class Outline(HTMLParser):
    """Collects what a page is made of."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str]] = []
        self.ids: list[str] = []
        self.rows = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes += [(name, value or "") for name, value in attrs]
        self.ids += [value or "" for name, value in attrs if name == "id"]


def outline(page: str) -> Outline:
    found = Outline()
    found.feed(page)
    return found


def test_the_page_has_no_script_asks_for_nothing_and_every_id_stands_once(page: str) -> None:
    found = outline(page)
    assert not {"script", "link", "img", "iframe", "object", "form"} & set(found.tags)
    assert not [name for name, _ in found.attributes if name.startswith("on")]
    links = [value for name, value in found.attributes if name.endswith("href") or name == "src"]
    assert all(value.startswith("#") for value in links)
    assert {value[1:] for value in links} <= set(found.ids)
    assert len(found.ids) == len(set(found.ids))
    assert not re.search(r"url\((?!#)", page)
    assert "default-src 'none'" in page
    assert "\x1b" not in page
    assert "49" not in re.findall(r"Käse[^<]{0,40}", page)[0]


def test_every_picture_has_words_and_the_same_as_a_table(of: Consultant, picture: ShopPicture, page: str) -> None:
    pictures = shop_pictures(of.show, picture)
    found = outline(page)
    assert found.tags.count("svg") == found.tags.count("table") == found.tags.count("figcaption") == len(pictures)
    assert found.tags.count("tr") == sum(1 + len(one.rows) for one in pictures)
    assert all(len(row) == len(one.header) for one in pictures for row in one.rows)
    assert all(one.alt.endswith((".", ")")) and len(one.alt) > 20 for one in pictures)
    assert {"defects", "causes", "months", "corrections", "cost", "chances"} <= {one.name for one in pictures}


def test_a_run_chart_shows_the_window_of_the_materials_at_hand(of: Consultant, picture: ShopPicture) -> None:
    setting = of.base.words.settings["platen temperature"]
    window = next(w for w in setting.windows if w.holds_for.get("rubber kind") in ((), ("natural",)))
    runs = [r.model_copy(update={"setting": "platen temperature"}) for r in picture.settings[:1]]
    found = with_windows(of, picture.model_copy(update={"settings": tuple(runs)})).settings[0]
    assert (found.window_low, found.window_high) == (window.low, window.high)


def luminance(color: str) -> float:
    """WCAG 2.2, definition of relative luminance."""
    parts = [int(color[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


@pytest.mark.parametrize("theme", [0, 1], ids=["light", "dark"])
def test_text_and_lines_stand_out_from_what_they_lie_on(theme: int) -> None:
    rules = re.findall(r":root \{([^}]*)\}", TEMPLATE.read_text())
    colors = dict(re.findall(r"--([a-z]+): (#[0-9a-f]{6})", rules[theme]))

    def contrast(a: str, b: str) -> float:
        high, low = sorted((luminance(colors[a]), luminance(colors[b])), reverse=True)
        return (high + 0.05) / (low + 0.05)

    # WCAG 2.2 AA: 4.5 for text (1.4.3), 3 for what is needed to make out a control or a drawing (1.4.11).
    for ink, paper in (("ink", "paper"), ("ink", "stripe"), ("link", "paper")):
        assert contrast(ink, paper) >= 4.5
    assert contrast("line", "paper") >= 3.0


def test_a_phone_shows_the_page_without_moving_it_sideways(browser: Browser, page: str, tmp_path: Path) -> None:
    file = tmp_path / "shop.html"
    file.write_text(page, encoding="utf-8")
    with browser.open(file.as_uri(), width=360) as opened:
        opened.page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true")
        assert opened.page.evaluate("document.documentElement.scrollWidth") <= 360
        assert opened.asked == [file.as_uri()]
        assert opened.said == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_paper_is_white_whatever_the_screen_is(browser: Browser, page: str, tmp_path: Path, scheme: str) -> None:
    file = tmp_path / "shop.html"
    file.write_text(page, encoding="utf-8")
    colors = "[getComputedStyle(document.body).backgroundColor, getComputedStyle(document.body).color]"
    with browser.open(file.as_uri(), scheme=scheme, media="print") as opened:
        assert opened.page.evaluate(colors) == ["rgb(255, 255, 255)", "rgb(0, 0, 0)"]


def test_the_label_of_a_row_has_two_lines_at_most() -> None:
    for text in ("short", "Lower the pressure by 1 psi (0.07 bar), or end the vacuum as the wax enters"):
        lines = label(text).split("\n")
        assert len(lines) <= 2
        assert max(map(len, lines)) <= LABEL
    assert lines[-1].endswith(" ...")


def test_an_empty_shop_has_a_page_and_a_line(of: Consultant) -> None:
    nothing = ShopPicture(cases=0, confirmed=0)
    assert "There are no cases yet." in shop_page(of.show, nothing, "")
    assert [line.text for line in shop_lines(of.show, nothing, 40)][1] == "There are no cases yet."
