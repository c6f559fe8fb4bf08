"""What people type into a case is shown and never obeyed: on a terminal, in a page, in a drawing, in a case file."""

from __future__ import annotations

import unicodedata
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from diagnose.consult import Consultant
from diagnose.consult.explain import explained
from diagnose.consult.side_by_side import side_by_side
from diagnose.model.case import Case, Trial
from diagnose.model.clean import clean
from diagnose.report.case_page import case_page
from diagnose.report.pictures.panels import Bar, Bars, Step, Steps
from diagnose.report.pictures.picture import Picture
from diagnose.report.side_by_side import side_by_side_lines
from diagnose.report.text import diagnosis_lines
from diagnose.report.why import explained_lines
from diagnose.rulebase.cases import case_from_text, case_to_text
from tests.report.browser import Browser

HOSTILE = {
    "script": "<script>window.hacked = 1</script>",
    "picture": "<img src=x onerror=\"window.hacked=1\"><svg onload='hacked=1'>",
    "end of the page": "</bdi></h1></main></body></html><h1>other</h1>",
    "link": "<a href=\"javascript:hacked=1\">click</a> &lt;b&gt; &#x3c;",
    "template": "{{7*7}} {% include '/etc/passwd' %} {{ case.__class__ }} ${7*7} #{7*7}",
    "terminal": "red \x1b[31m, title \x1b]0;owned\x07, clear \x9b2J, bell \x07, back \x08\x08\x08",
    "direction": "ring\u202e gnp.exe\u202c \u2066isolated \u200f right",
    "nothing": "nul \x00 and \ufffe and \ue000 and \ud800",
    "formula": "=HYPERLINK(\"http://x.example/\",\"look\")",
    "markup of terminals": "[bold red]not bold[/] [/nope] %s %(x)d {0}",
    "style": "}</style><style>body{display:none}",
    "marks": "Z" + "\N{COMBINING ACUTE ACCENT}\N{COMBINING CEDILLA}" * 200,
    "long": "W" * 3000,
    "right to left letters": "טבעת כסף 925",
}  # fmt: skip
COMMANDS = ("Cc", "Cf", "Cs", "Co", "Cn")


def typed_case(text: str) -> Case:
    return Case(
        part=text, defect="wax.flash", date=text, notes=f"{text}\nsecond line",
        trials=(Trial(changed=text, outcome=text, date=text),),
    )  # fmt: skip


@pytest.mark.parametrize("what", HOSTILE)
def test_a_terminal_gets_nothing_but_text_no_wider_than_it_is(of: Consultant, what: str) -> None:
    text = HOSTILE[what]
    case, other = typed_case(text), typed_case("plain")
    lines = diagnosis_lines(of.diagnose(case), 60, case.part)
    lines += side_by_side_lines(side_by_side(of, case, other), 60)
    shown = [line.text for line in lines]
    assert not [ch for line in shown for ch in line if unicodedata.category(ch) in COMMANDS]
    assert max(map(len, shown)) <= 60
    assert clean(text)[:20] in " ".join(shown)


def test_everything_at_once_reads_as_text_with_all_reasons(of: Consultant) -> None:
    case = typed_case(" ".join(t for k, t in HOSTILE.items() if k != "long"))
    lines = [line.text for line in explained_lines(explained(of, case), 80, case.part)]
    assert not [ch for line in lines for ch in line if unicodedata.category(ch) in COMMANDS]


def test_a_page_shows_all_of_it_as_text_and_obeys_none(of: Consultant, browser: Browser, tmp_path: Path) -> None:
    case = typed_case("start")
    found = explained(of, case)
    hostile = case.model_copy(update={"trials": tuple(Trial(changed=t, outcome=t, date=t) for t in HOSTILE.values())})
    hostile = hostile.model_copy(update={"part": HOSTILE["end of the page"], "notes": HOSTILE["style"]})
    file = tmp_path / "page.html"
    file.write_text(case_page(of, hostile, found), encoding="utf-8")
    with browser.open(file.as_uri(), width=360) as opened:
        page = opened.page
        page.wait_for_load_state("networkidle")
        assert opened.asked == [file.as_uri()]
        assert page.evaluate("window.hacked") is None
        assert page.evaluate("document.querySelectorAll('script, img, bdi a, bdi svg, bdi h1').length") == 0
        assert page.evaluate("document.querySelectorAll('h1').length") == 1
        assert page.evaluate("document.documentElement.scrollWidth") == 360
        assert opened.measured("stickingOut") == []
        text = page.inner_text("main")
        for typed in HOSTILE.values():
            assert " ".join(clean(typed)[:200].split()) in " ".join(text.split())
        assert not [ch for ch in text if unicodedata.category(ch) in COMMANDS and ch not in "\n\t"]
        directions = page.evaluate("[...document.querySelectorAll('bdi')].map(e => getComputedStyle(e).unicodeBidi)")
        assert set(directions) == {"isolate"}


@pytest.mark.parametrize("what", [k for k in HOSTILE if k != "long"])
def test_a_drawing_shows_it_as_text(what: str) -> None:
    text = HOSTILE[what]
    bars = Bars(text, (Bar(text, 0.0, 1.0, text), Bar("b", 0.0, 2.0, "two")))
    for panel in (bars, Steps((Step(text, text, text), Step("end", "x")))):
        root = ET.fromstring(Picture("hostile", text, text, (text,), ((text,),), (panel,)).svg())
        inside = "".join(root.itertext())
        assert not [ch for ch in inside if unicodedata.category(ch) in COMMANDS and ch != "\n"]
        tags = {node.tag.rpartition("}")[2] for node in root.iter()}
        assert tags <= {
            "svg",
            "title",
            "desc",
            "defs",
            "g",
            "path",
            "clipPath",
            "rect",
            "text",
            "tspan",
            "use",
            "pattern",
        }
        assert clean(text)[:12].strip() in inside


@pytest.mark.parametrize("what", HOSTILE)
def test_a_case_file_gives_it_back_without_what_commands(of: Consultant, what: str) -> None:
    case = typed_case(clean(HOSTILE[what]))
    again = case_from_text(case_to_text(case), "case.yaml", of.base)
    assert again.part == " ".join(case.part.split())
    assert again.trials[0].outcome == " ".join(case.part.split())
