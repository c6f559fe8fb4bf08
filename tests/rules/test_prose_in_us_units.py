"""Every text of the rules base, read by a shop that writes in US units.

The factors are written out here from their definitions: 1 in = 25.4 mm, F = 1.8 C + 32, 1 psi = 6894.757 Pa.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

import pytest

from diagnose.consult import Consultant
from diagnose.consult.find import Finder
from diagnose.interview.inquiry import Inquiry
from diagnose.interview.prompt import choose_either
from diagnose.model.record import Record
from diagnose.rulebase.cases import fact_value
from diagnose.rulebase.load import RuleBase
from diagnose.units import prose, quantities_in

NO_SENTENCES = ("id", "source", "words", "examples", "facts", "file", "unit_us", "unit_metric", "cause", "dimension")
LOOKS_METRIC = re.compile(r"\d ?(?:°C|C|K|mm|cm|m|bar|mbar|kPa|MPa|kg|degrees C)(?![\w°-])")
# Read one by one: these small numbers are temperatures, these large ones are differences.
COLD = {"Keep flasks above 5 C until the kiln", "between 10 and 25 C"}
WIDE = {"The same tree was cast in a metal poured 150 C cooler. How is its skin?"}


def texts_of(thing: object) -> Iterator[str]:
    if isinstance(thing, str):
        yield thing
    elif isinstance(thing, Record):
        for name in type(thing).model_fields:
            if name not in NO_SENTENCES:
                yield from texts_of(getattr(thing, name))
    elif isinstance(thing, Mapping):
        for key, value in thing.items():
            yield from texts_of(key)
            yield from texts_of(value)
    elif isinstance(thing, tuple):
        for part in thing:
            yield from texts_of(part)


@pytest.fixture(scope="module")
def texts(base: RuleBase) -> list[str]:
    words = base.words
    tables = (words.settings, words.derived, words.observations, words.slots, base.hazards, base.causes)
    everything = [entry for table in tables for entry in table.values()]
    found = texts_of((*everything, *base.all_defects(), *base.glossary))
    return list(dict.fromkeys(text for text in found if re.search(r"\d", text)))


def test_every_quantity_is_found_and_classified(texts: list[str]) -> None:
    left = []
    for text in texts:
        covered = [range(q.start, q.end) for q in quantities_in(text)]
        left += [text for m in LOOKS_METRIC.finditer(text) if not any(m.start() in span for span in covered)]
    assert sum(1 for text in texts for _ in quantities_in(text)) > 500
    assert left == []


def test_none_is_left_half_converted(texts: list[str]) -> None:
    for text in texts:
        us = prose(text, "us")
        assert prose(us, "us") == us
        for q in quantities_in(us):
            assert q.both, us


def test_a_metric_reader_reads_the_text_of_the_rules(texts: list[str]) -> None:
    for text in texts:
        assert prose(text, "metric") == re.sub(r"(?<=\d) K\b", " C", text)


def test_each_number_is_the_metric_one_by_definition(texts: list[str]) -> None:
    convert = {"length": lambda n, u: n * {"mm": 1, "cm": 10}[u] / 25.4, "mass": lambda n, u: n / 0.45359237}
    bar = {"bar": 1e5, "mbar": 1e2, "kPa": 1e3, "MPa": 1e6}
    checked = 0
    for text in texts:
        for q in quantities_in(text):
            if q.both or q.unit == "m":
                continue
            metric = [float(n) for n in re.findall(r"\d+(?:\.\d+)?", q.numbers)]
            us = [float(n) for n in re.findall(r"\d+(?:\.\d+)?", q.written("us"))][: len(metric)]
            for n, shown in zip(metric, us, strict=True):
                if q.pair.dimension == "temperature":
                    assert shown == pytest.approx(1.8 * n + 32.0, abs=2.5), text
                elif q.pair.dimension == "temperature change":
                    assert shown == pytest.approx(1.8 * n, abs=0.51), text
                elif q.pair.dimension == "pressure":
                    assert shown == pytest.approx(n * bar[q.unit] / 6894.757, rel=0.05), text
                else:
                    assert shown == pytest.approx(convert[q.pair.dimension](n, q.unit), rel=0.05), text
                checked += 1
    assert checked > 500


def test_temperatures_and_differences_are_told_apart_where_a_slip_would_show(texts: list[str]) -> None:
    for text in texts:
        for q in quantities_in(text):
            numbers = [float(n) for n in re.findall(r"\d+(?:\.\d+)?", q.numbers)]
            if q.pair.dimension == "temperature" and min(numbers) < 15:
                assert any(known in text for known in COLD), f"a temperature, or a difference to write in K? {text}"
            if q.pair.dimension == "temperature change" and max(numbers) > 100:
                assert text in WIDE, f"a difference, or a temperature? {text}"


def test_an_answer_is_taken_as_it_is_kept_and_as_it_is_shown(base: RuleBase) -> None:
    checked = 0
    for name, seen in base.words.observations.items():
        for answer in seen.answers:
            shown = prose(answer, "us")
            if shown == answer:
                continue
            checked += 1
            for typed in (answer, shown, shown.replace("°", ""), shown.upper()):
                assert choose_either(typed, list(seen.answers), lambda text: prose(text, "us")) == answer
                if typed != shown.upper():
                    assert fact_value(base, name, typed) == answer
    assert checked > 30


def test_another_number_is_another_answer(base: RuleBase) -> None:
    answers = list(base.words.observations["peak in the core"].answers)
    assert choose_either("over 1300 F", answers, lambda text: prose(text, "us")) is None
    assert choose_either("over 1380 F", answers, lambda text: prose(text, "us")) == "over 750 C"


def test_the_interview_asks_answers_and_diagnoses_in_us_units(of: Consultant, finder: Finder) -> None:
    inquiry = Inquiry(Consultant(of.base, of.resolver, "us"), finder, lambda told: None)
    inquiry.hear("defect = casting.spalled-lumps")
    inquiry.put_first("peak in the core")
    prompt = inquiry.prompt()
    assert prompt is not None
    # 1.8 x 680 + 32 = 1256, 1.8 x 745 + 32 = 1373, 1.8 x 750 + 32 = 1382: each to five degrees
    assert [shown for shown, _ in prompt.options][:3] == ["under 1255 °F", "1255 to 1375 °F", "over 1380 °F"]
    assert inquiry.hear("over 1380 °F").say[0] == "peak in the core: over 1380 °F"
    assert inquiry.case.observations["peak in the core"] == "over 750 C"
    # A fact whose name holds a quantity is known by both names.
    inquiry.hear("heating between 300 and 610 F = fast")
    assert inquiry.case.observations["heating between 150 and 320 C"] == "fast"
