"""Words that people ask about are found, in their own spelling, and nothing is explained that is not known."""

from __future__ import annotations

import pytest

from diagnose.consult.meaning import Meanings
from diagnose.interview.inquiry import Inquiry
from diagnose.model.source import parse_source
from diagnose.rulebase.load import RuleBase


@pytest.fixture(scope="module")
def meanings(base: RuleBase) -> Meanings:
    return Meanings(base)


@pytest.mark.parametrize(
    ("asked", "word"),
    [
        ("t90", "time to nine tenths cured"),
        ("Sprue", "trunk"),
        ("platens", "platen"),
        ("a quench crack", "quench crack"),
        ("firescale", "fire stain"),
        ("fire-scale", "fire stain"),
        ("shore a", "hardness"),
        ("investmant", "investment"),
        ("liquidus", "fully melted at"),
        ("platen temperature", "platen temperature"),
        ("very strong", "very strong"),
        ("sterling silver", "sterling"),
    ],
)
def test_a_word_is_found_under_the_names_people_use(meanings: Meanings, asked: str, word: str) -> None:
    assert meanings.of(asked)[0].word == word


def test_an_unknown_word_is_not_explained(meanings: Meanings) -> None:
    assert meanings.of("xylophone") == []


def test_every_word_of_the_glossary_has_a_source_and_a_plain_sentence(base: RuleBase) -> None:
    for word in base.glossary:
        assert parse_source(word.source), word.name
        assert word.says.endswith("."), word.name


def test_other_names_lead_to_one_word(base: RuleBase) -> None:
    names = [name.casefold() for word in base.glossary for name in (word.name, *word.also)]

    assert sorted(names) == sorted(set(names))


def test_a_word_can_be_asked_at_any_prompt_and_changes_nothing(inquiry: Inquiry) -> None:
    before = inquiry.case

    said = inquiry.hear("? reversion").say

    assert "sticky" in said[0]
    assert inquiry.case == before
    assert inquiry.prompt().name == "defect"  # type: ignore[union-attr]


def test_an_unknown_word_gets_the_near_ones(inquiry: Inquiry) -> None:
    said = " ".join(inquiry.hear("what is a zorkmid").say)

    assert "not explained" in said
