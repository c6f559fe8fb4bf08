"""Phrases as people type them, with the defect that must be among the first three."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from diagnose.consult.find import Finder, stem

COMPLAINTS = yaml.safe_load((Path(__file__).parent / "complaints.yaml").read_text())
PHRASES = yaml.safe_load((Path(__file__).parent / "phrases.yaml").read_text())


@pytest.mark.parametrize("meant", sorted(PHRASES))
def test_what_people_type_finds_the_defect_they_mean(meant: str, finder: Finder) -> None:
    missed = [typed for typed in PHRASES[meant] if meant not in [f.defect.id for f in finder.search(typed, 3)]]
    assert missed == []


def test_whole_sentences_with_their_story_find_it_too(finder: Finder) -> None:
    places = []
    for complaint in COMPLAINTS:
        found = [f.defect.id for f in finder.search(complaint["typed"])]
        places.append(min((found.index(d) for d in complaint["meant"] if d in found), default=None))
    # A list of five is offered; more than one in ten would have to say it in other words.
    assert sum(place is not None for place in places) >= 0.9 * len(places), places
    assert sum(place is not None and place < 3 for place in places) >= 0.8 * len(places), places


def test_every_defect_is_found_by_several_phrases_and_there_are_hundreds(finder: Finder) -> None:
    assert set(PHRASES) == {d.id for d in finder.defects}
    assert min(map(len, PHRASES.values())) >= 2
    assert sum(map(len, PHRASES.values())) >= 300


def test_no_phrase_is_a_synonym_copied_from_the_rules(finder: Finder) -> None:
    copied = [p for d in finder.defects for p in PHRASES[d.id] if p.casefold() in {w.casefold() for w in d.words}]
    # A few plain names cannot be said in another way: wax flash, gas porosity.
    assert len(copied) <= sum(map(len, PHRASES.values())) // 20


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("cracked", "cracks"), ("dropped", "drop"), ("leaning", "leans"), ("torn", "tear"), ("mould", "mold"),
        ("bubbles", "bubble"), ("pitting", "pits"), ("shrunk", "shrinking"), ("grey", "gray"),
    ],
)  # fmt: skip
def test_forms_of_one_word_are_one_word(one: str, other: str) -> None:
    assert stem(one) == stem(other)


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("seem on teh wax", "wax.visible-seam"), ("gas porositty in silver", "casting.gas-porosity"),
        ("rubbr stuck to mastr", "mold.sticks-to-model"), ("flsh on wax", "wax.flash"),
        ("bubles in the ruber", "mold.voids"), ("plastr wont boil", "investment.does-not-boil"),
    ],
)  # fmt: skip
def test_slips_of_the_finger_do_no_harm(typed: str, meant: str, finder: Finder) -> None:
    assert meant in [f.defect.id for f in finder.search(typed, 3)]


@pytest.mark.parametrize("typed", ["", "   ", "the of and", "qwzx vrtk", "\N{SNOWMAN}" * 10])
def test_nothing_is_guessed_from_nothing(typed: str, finder: Finder) -> None:
    assert finder.search(typed) == []
