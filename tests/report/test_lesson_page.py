"""The lesson sheet as a page, in a real browser: on a phone, in the dark, on paper, without eyes; all of the text sheet is in it."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path

import pytest

from diagnose.consult import Consultant
from diagnose.model.lesson import Section, Sheet, Task
from diagnose.report.lesson_page import lesson_page
from diagnose.teach.sheet import sheet
from tests.report.browser import MM, Browser
from tests.report.test_case_page import MARGIN, PAPERS
from tests.report.test_hostile_text import HOSTILE

NAMES = ("mold.soft-core", "mold.pack-too-empty", "tree")  # a defect, a cause, a stage


@pytest.fixture(scope="module")
def pages(of: Consultant, tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    folder = tmp_path_factory.mktemp("lessons")
    found = {}
    for name in NAMES:
        file = folder / f"{name}.html"
        file.write_text(lesson_page(sheet(of, name), answers=True), encoding="utf-8")
        found[name] = file.as_uri()
    return found


@pytest.mark.parametrize("name", NAMES)
def test_it_holds_all_that_the_text_sheet_holds(
    of: Consultant, browser: Browser, pages: dict[str, str], name: str
) -> None:
    made = sheet(of, name)
    with browser.open(pages[name]) as opened:
        text = " ".join(opened.page.inner_text("main").split())
    said = [words for s in made.sections for words in (*s.paragraphs, *s.steps, *s.points)]
    said += [t.question for t in made.tasks] + [t.answer for t in made.tasks] + list(made.sources)
    assert [words for words in said if " ".join(words.split()) not in text] == []


@pytest.mark.parametrize("name", NAMES)
def test_it_asks_for_nothing_fits_a_phone_and_is_in_order(browser: Browser, pages: dict[str, str], name: str) -> None:
    with browser.open(pages[name], width=360) as opened:
        page = opened.page
        page.wait_for_load_state("networkidle")
        assert opened.asked == [pages[name]]
        assert opened.said == []
        assert page.evaluate("document.scripts.length") == 0
        assert page.evaluate("document.documentElement.scrollWidth") == 360
        assert opened.measured("stickingOut") == []
        levels = page.evaluate("[...document.querySelectorAll('h1,h2,h3,h4,h5,h6')].map(h => Number(h.tagName[1]))")
        assert levels[0] == 1
        assert levels.count(1) == 1
        assert all(after <= before + 1 for before, after in pairwise(levels))
        ids = page.evaluate("[...document.querySelectorAll('[id]')].map(e => e.id)")
        links = page.evaluate("[...document.querySelectorAll('a')].map(a => a.getAttribute('href'))")
        assert len(ids) == len(set(ids))
        assert {link.removeprefix("#") for link in links} == set(ids)
        bare = "[...document.querySelectorAll('img, svg, canvas')].filter(e => !e.getAttribute('aria-labelledby') && !e.alt)"
        assert page.evaluate(f"{bare}.length") == 0


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_piece_of_text_stands_out(browser: Browser, pages: dict[str, str], scheme: str) -> None:
    # WCAG 2.2, 1.4.3 (AA): 4.5 to 1, for large text 3 to 1.
    with browser.open(pages[NAMES[0]], scheme=scheme) as opened:
        found = opened.measured("contrasts")
    assert len(found) > 100
    assert [one for one in found if one[0] < (3.0 if one[1] else 4.5)] == []


@pytest.mark.parametrize("paper", PAPERS)
def test_on_paper_the_answers_begin_a_page_and_nothing_is_cut_off(
    browser: Browser, pages: dict[str, str], paper: str
) -> None:
    width = int((PAPERS[paper] - 2.0 * MARGIN) * MM)
    with browser.open(pages[NAMES[0]], width=width, scheme="dark", media="print") as opened:
        page = opened.page
        assert opened.measured("cutOff") == []
        assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)"
        assert page.evaluate("getComputedStyle(document.getElementById('answers')).breakBefore") == "page"
        assert page.evaluate(
            "[...document.querySelectorAll('.line')].every(e => e.getBoundingClientRect().height > 20)"
        )
        head = page.evaluate("document.getElementById('answers').getBoundingClientRect().top")
        printed = page.pdf(format=paper)
        page.evaluate("document.getElementById('answers').classList.remove('new-page')")
        joined = page.pdf(format=paper)
    assert head > 0.0
    assert _pages(printed) >= _pages(joined)
    assert [round(float(w) / 72.0 * 25.4) for w in re.findall(rb"/MediaBox\s*\[0 0 ([0-9.]+)", printed)[:1]] == [
        round(PAPERS[paper])
    ]


def _pages(printed: bytes) -> int:
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", printed))


def test_the_answers_can_be_left_out(of: Consultant) -> None:
    made = sheet(of, "wax.flash")

    assert "Answers" in lesson_page(made, answers=True)
    assert "Answers" not in lesson_page(made, answers=False)
    assert made.tasks[0].answer not in lesson_page(made, answers=False)


@pytest.mark.parametrize("what", HOSTILE)
def test_text_from_a_rules_folder_of_ones_own_is_shown_and_never_obeyed(
    browser: Browser, tmp_path: Path, what: str
) -> None:
    text = HOSTILE[what]
    part = Section(title=f"Signs: {text}", paragraphs=(text,), points=(text,), steps=(text,))
    made = Sheet(id="x", title=text, sections=(part, part), tasks=(Task(question=text, answer=text),), sources=(text,))
    file = tmp_path / "page.html"
    file.write_text(lesson_page(made, answers=True), encoding="utf-8")
    with browser.open(file.as_uri(), width=360) as opened:
        page = opened.page
        assert opened.asked == [file.as_uri()]
        assert page.evaluate("window.hacked") is None
        assert page.evaluate("document.querySelectorAll('script, img, svg, h1').length") == 1
        assert opened.measured("stickingOut") == []
