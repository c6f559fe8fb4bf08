"""The casting stage: shop words find its defects, and no correction steps past a limit of the trade."""

from __future__ import annotations

import pytest

from diagnose.consult.find import Finder
from diagnose.rulebase.load import RuleBase


@pytest.mark.parametrize(
    ("typed", "defect"),
    [
        ("shrinkage porosity in silver", "shrink-porosity"),
        ("spongy metal near the sprue", "shrink-porosity"),
        ("holes in the casting after polishing", "shrink-porosity"),
        ("round gas holes in the metal", "gas-porosity"),
        ("fins on the casting", "fins"),
        ("flash on the metal", "fins"),
        ("line around the ring in metal", "seam-line"),
        ("parting line on the casting", "seam-line"),
        ("prong did not fill", "incomplete-fill"),
        ("metal ran out of the flask", "metal-escapes"),
    ],
)
def test_words_of_the_shop_find_the_defect(finder: Finder, typed: str, defect: str) -> None:
    assert next(iter(finder.search(typed))).defect.id == f"casting.{defect}"


def test_every_fault_of_the_tree_shows_in_some_defect(base: RuleBase) -> None:
    used = {c.cause for d in base.all_defects() for c in d.candidates}
    assert [c.id for c in base.causes.values() if c.stage == "tree" and c.id not in used] == []
