"""What was found, in the reader's units: sentences change, values and sources do not, and the record itself stays."""

from __future__ import annotations

from diagnose.consult import Consultant
from diagnose.consult.worded import sentence, worded
from diagnose.model.case import Case, Recorded
from diagnose.report.text import diagnosis_lines


def hot_flask() -> Case:
    return Case(
        defect="casting.spalled-lumps",
        settings={"flask temperature": Recorded(typed="1382 F", value=1023.15)},
        observations={"peak in the core": "over 750 C"},
    )


def test_a_value_that_stands_alone_is_left_and_a_sentence_is_not() -> None:
    assert sentence("2.1 mm", "us") == "2.1 mm"
    assert sentence("at least 2 mm; 3 mm", "us") == "at least 2 mm; 3 mm"
    assert sentence("3 to 5 mm", "us") == "0.12 to 0.2 in (3 to 5 mm)"
    assert sentence("under 680 C", "us") == "under 1255 °F"  # 1.8 x 680 + 32 = 1256


def test_the_page_is_in_us_units_and_the_json_keeps_the_words_of_the_rules(of: Consultant) -> None:
    us = Consultant(of.base, of.resolver, "us")
    found = us.diagnose(hot_flask())
    kept = found.model_dump_json()
    page = " ".join(line.text.strip() for line in diagnosis_lines(worded(found, "us"), 90))
    assert "peak in the core: over 1380 °F" in page
    assert "750 C" not in page
    assert found.model_dump_json() == kept
    assert "over 750 C" in kept
    assert worded(found, "us").sources == found.sources


def test_a_metric_page_is_what_it_was(of: Consultant) -> None:
    found = Consultant(of.base, of.resolver, "metric").diagnose(hot_flask())
    assert diagnosis_lines(worded(found, "metric"), 90) == diagnosis_lines(found, 90)
