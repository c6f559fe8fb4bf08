"""Finding cases: each condition alone and together, on both databases."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from diagnose.errors import BadInput
from diagnose.library import life
from diagnose.library.find import Wanted
from diagnose.library.store import Library
from tests.library.invented import a_case
from tests.library.postgres import Server


@pytest.fixture(scope="module", params=["sqlite", "postgresql"])
def shop(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Library]:
    if request.param == "sqlite":
        named: str | Path = tmp_path_factory.mktemp("find") / "library.db"
    else:
        server: Server = request.getfixturevalue("server")
        named = server.new_place()
    library = Library(named, author="MK")
    library.add(
        [
            a_case(part="Oak leaf", date="2026-01-12", notes="the NEW frames, 100% full", author="MK"),
            a_case(
                part="fern_2",
                date="2026-02",
                defect="mold.voids",
                materials={"rubber": "silicone"},
                notes="",
                author="JT",
            ),
            a_case(part="bell", date="2026-03-31", defect="wax.incomplete-fill", said=None, notes="Straße"),
            a_case(part="acorn", date="yesterday", shop="the guild", materials={}, notes=""),
        ]
    )
    library.change("1", "confirm", lambda k: life.confirmed(k, ["mold.pack-too-empty", "mold.dirty-layers"], ""))
    library.change("2", "trial", lambda k: life.with_trial(k, {"changed": "a vent cut"}))
    yield library
    library.close()


@pytest.mark.parametrize(
    ("wanted", "parts"),
    [
        ({}, ["Oak leaf", "fern_2", "bell", "acorn"]),
        ({"defect": "mold.visible-seam"}, ["Oak leaf", "acorn"]),
        ({"defect": "mold.nobody-had-this"}, []),
        ({"cause": "mold.dirty-layers"}, ["Oak leaf"]),
        ({"said": "mold.pack-too-empty"}, ["Oak leaf", "fern_2", "acorn"]),
        ({"stage": "wax"}, ["bell"]),
        ({"material": "silicone"}, ["fern_2"]),
        ({"material": "none"}, []),  # an answer to an observation is no material
        ({"state": "tried"}, ["fern_2"]),
        ({"author": "JT"}, ["fern_2"]),
        ({"shop": "the guild"}, ["acorn"]),
        ({"words": ("new", "FRAMES")}, ["Oak leaf"]),
        ({"words": ("100%",)}, ["Oak leaf"]),
        ({"words": ("%",)}, ["Oak leaf"]),  # no wildcard
        ({"words": ("n_2",)}, ["fern_2"]),
        ({"words": ("strasse",)}, ["bell"]),
        ({"words": ("vent",)}, ["fern_2"]),
        ({"words": ("frames", "vent")}, []),
        ({"since": "2026-02-15"}, ["fern_2", "bell"]),
        ({"since": "2026-03"}, ["bell"]),
        ({"until": "2026-02"}, ["Oak leaf", "fern_2"]),
        ({"until": "2026-01-11"}, []),
        ({"since": "2026", "until": "2026"}, ["Oak leaf", "fern_2", "bell"]),
        ({"since": "2026-03-31", "until": "2026-03-31"}, ["bell"]),
        ({"stage": "mold", "material": "natural rubber"}, ["Oak leaf"]),
    ],
)
def test_what_is_looked_for_is_found_and_nothing_else(shop: Library, wanted: dict[str, Any], parts: list[str]) -> None:
    lines, many = shop.find(Wanted(**wanted))
    assert [line.part for line in reversed(lines)] == parts
    assert many == shop.count(Wanted(**wanted)) == len(parts)
    assert [k.part for k in shop.chosen(Wanted(**wanted))] == parts


def test_the_last_ones_come_first_and_the_rest_is_counted(shop: Library) -> None:
    lines, many = shop.find(Wanted(), limit=2)
    assert [line.part for line in lines] == ["acorn", "bell"]
    assert many == 4


def test_a_line_says_what_it_turned_out_to_be(shop: Library) -> None:
    line = shop.find(Wanted(words=("oak",)))[0][0]
    assert (line.state, line.causes) == ("confirmed", ("mold.pack-too-empty", "mold.dirty-layers"))


@pytest.mark.parametrize("typed", ["soon", "2026-13", "2026-02-30", "", "12.01.2026"])
def test_a_date_that_is_none_is_refused(shop: Library, typed: str) -> None:
    if not typed:
        assert shop.count(Wanted(since=typed)) == 4
        return
    with pytest.raises(BadInput, match="is no date"):
        shop.find(Wanted(since=typed))
