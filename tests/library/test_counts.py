"""Counts kept up to date step by step are those that all cases give when counted anew."""

from __future__ import annotations

import random

import pytest

from diagnose.errors import BadInput
from diagnose.library import counts, life
from diagnose.library.kept import Chance, Said
from diagnose.library.read import stream
from diagnose.library.store import Library
from tests.library.invented import CAUSES, a_case


def as_they_are(library: Library) -> object:
    with library.database.read() as conn:
        return counts.counted(conn)


def made_anew(library: Library) -> object:
    def work(conn, change):  # type: ignore[no-untyped-def]
        rows = list(stream(conn, library.database.words))
        counts.recount(conn, library.database.words, ((r.kept, r.shop) for r in rows))

    library.database.write(work)
    return as_they_are(library)


@pytest.mark.parametrize("seed", range(2))
def test_any_run_of_changes_leaves_the_counts_of_the_cases_as_they_stand(library: Library, seed: int) -> None:
    chance = random.Random(seed)
    library.add([a_case(part=str(i), shop=chance.choice(("", "other"))) for i in range(5)])
    for _ in range(25):
        try:
            step(library, chance)
        except BadInput:
            continue
    steady = as_they_are(library)
    assert steady == made_anew(library)


def step(library: Library, chance: random.Random) -> None:
    name = chance.choice(library.names() or ["1"])
    what = chance.randrange(7)
    if what < 3:
        causes = chance.sample(CAUSES, chance.randrange(2))
        library.change(name, "confirm", lambda k: life.confirmed(k, causes, chance.choice(("", "a hose"))))
    elif what == 3:
        said = Said(causes=(Chance(cause=chance.choice(CAUSES), chance=chance.random()),))
        library.change(name, "tell", lambda k: k.told_anew(a_case(said=said, defect="mold.voids")))
    elif what == 4:
        library.forget(name)
    else:
        library.undo(back=what == 6)


def test_several_causes_share_one_count_and_chances_fall_into_tenths(library: Library) -> None:
    name = library.add([a_case()])[0].name
    library.change(name, "confirm", lambda k: life.confirmed(k, ["mold.dirty-layers", "mold.voids"], ""))
    with library.database.read() as conn:
        found = counts.counted(conn)
    assert [row[-1] for row in found["cause_counts"]] == [0.5, 0.5]
    # 0.9 was said of the first cause, wrongly; 0.1 of a later one, rightly.
    assert [row[3:] for row in found["calibration"]] == [(False, 1, 1, 1, 0.1), (True, 9, 1, 0, 0.9)]
