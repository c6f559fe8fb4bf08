"""A small demo year through the library: taken in, learned from, summed up, found again."""

from __future__ import annotations

from pathlib import Path

import pytest

from diagnose.consult import Consultant
from diagnose.consult.hindsight import hindsight
from diagnose.library import learning
from diagnose.library.intake import Intake, Manner
from diagnose.library.kept import Kept
from diagnose.library.lines import lines_of
from diagnose.library.similar import similar
from diagnose.library.store import Library, known
from diagnose.library.summary import shop_picture
from tests.demo_year import DemoShop

COUNT = 60
DEFECTS = {"mold.visible-seam": 3.0, "wax.visible-seam": 1.0}


def a_year(of: Consultant) -> list[Kept]:
    shop = DemoShop(of, seed=5)
    shop.defects = dict(DEFECTS)
    return list(shop.cases(COUNT))


@pytest.fixture(scope="module")
def year(of: Consultant) -> list[Kept]:
    return a_year(of)


def test_the_same_year_comes_of_the_same_seed(of: Consultant, year: list[Kept]) -> None:
    assert [k.to_json() for k in a_year(of)] == [k.to_json() for k in year]


def test_a_year_goes_through_import_learning_summary_and_similar(
    of: Consultant, year: list[Kept], tmp_path: Path
) -> None:
    file = tmp_path / "year.jsonl"
    file.write_text("".join(k.to_json() + "\n" for k in year), encoding="utf-8")
    library = Library(tmp_path / "library.db")
    report = Intake(library, Manner()).take(lines_of(file))
    assert (report.taken, report.faults) == (COUNT, [])

    confirmed = [k for k in year if k.confirmed or k.other_cause]
    hear = lambda kept, causes: hindsight(of, known(kept.case(), of.base), causes)  # noqa: E731
    assert learning.learn(library.database, hear) == len(confirmed)
    found = {d: learning.experience(library.database, d) for d in DEFECTS}
    assert found["wax.visible-seam"].cases == sum(k.defect == "wax.visible-seam" for k in confirmed)
    # A seam on the wax that the mold already had was learned from for the mold, too.
    assert found["mold.visible-seam"].cases >= sum(k.defect == "mold.visible-seam" for k in confirmed)

    picture = shop_picture(library.database, list(of.base.words.slots))
    assert (picture.cases, picture.confirmed) == (COUNT, len(confirmed))
    assert sum(t.said for t in picture.calibration) == len(confirmed)
    assert sum(c.tried for c in picture.corrections) <= sum(len(k.trials) for k in year)

    likes = similar(library.database, year[0].case(), of.base.defect_files)
    assert likes.like[0].similarity == pytest.approx(1.0)
    library.close()
