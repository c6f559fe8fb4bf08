"""Kept cases like the one at hand, said once during the interview and shown on `similar`."""

from __future__ import annotations

import pytest

from diagnose.consult import Consultant
from diagnose.consult.find import Finder
from diagnose.interview.inquiry import Inquiry
from diagnose.model.case import Case
from diagnose.model.likeness import Like, Likes

EMPTY, COLD = "mold.pack-too-empty", "mold.rubber-cold"
TOLD = ("defect = mold.visible-seam", "squeeze-out = none", "layer peel = faces come apart clean")


def like(name: str, cause: str = "", worked: str = "") -> Like:
    causes, changes = (cause,) if cause else (), (worked,) if worked else ()
    return Like(name=name, similarity=0.9, shared=5, confirmed=causes, worked=changes)


@pytest.fixture
def shelf() -> list[Like]:
    return [like("a", EMPTY, "packed proud"), like("b", EMPTY, "packed proud"), like("c", COLD)]


@pytest.fixture
def talk(of: Consultant, finder: Finder, shelf: list[Like]) -> Inquiry:
    def similar(case: Case) -> Likes:
        return Likes(looked_at=40, alike=len(shelf), like=tuple(shelf))

    return Inquiry(of, finder, lambda told: None, similar)


def said(talk: Inquiry, line: str) -> list[str]:
    return [text for text in talk.hear(line).say if "like this here" in text]


def test_similar_cases_are_mentioned_once_and_again_when_what_they_mostly_were_changes(
    talk: Inquiry, shelf: list[Like]
) -> None:
    assert [text for line in TOLD for text in said(talk, line)] == []
    name = talk.of.base.cause_name(EMPTY)
    first = said(talk, "cure time = 45 min")
    assert first == [
        f"3 like this here; 2 were: {name}; 1 was: {talk.of.base.cause_name(COLD)}. Type similar to see them."
    ]
    assert said(talk, "rubber thickness = 1 in") == []
    shelf[:] = [like("c", COLD), like("d", COLD)]
    assert len(said(talk, "platen temperature = 307 F")) == 1


def test_similar_shows_what_they_were_and_what_worked(talk: Inquiry) -> None:
    assert "kept" not in talk.hear("similar").say[0]
    talk.hear(TOLD[0])
    assert "could be compared" in talk.hear("similar").say[0]
    talk.hear(TOLD[1])
    shown = talk.hear("similar").say
    assert shown[0].startswith("3 like this here; 2 were: ")
    assert shown[1] == "What worked: packed proud (2 times)."
    assert shown[2].startswith("a: 90% alike over 5 facts; was: ")


def test_nothing_kept_and_nothing_alike_are_said_plainly(of: Consultant, finder: Finder, shelf: list[Like]) -> None:
    alone = Inquiry(of, finder, lambda told: None)
    for line in (*TOLD, "cure time = 45 min"):
        assert said(alone, line) == []
    assert alone.case.known()
    assert "has been kept yet" in alone.hear("similar").say[0]
    none = Inquiry(of, finder, lambda told: None, lambda case: Likes(looked_at=7, alike=0))
    none.hear(TOLD[0])
    none.hear(TOLD[1])
    assert none.hear("similar").say == ["None of the 7 kept cases of this defect is like this one."]
