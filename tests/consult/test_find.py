"""Phrases as people type them, with the defect that must be among the first three."""

from __future__ import annotations

import pytest

from diagnose.consult.find import Finder

PHRASES = [
    ("there's a line all round the wax", "wax.visible-seam"),
    ("seam on wax", "wax.visible-seam"),
    ("parting line shows on the wax", "wax.visible-seam"),
    ("line in the rubber mold where the sheets meet", "mold.visible-seam"),
    ("knit line in rubber", "mold.visible-seam"),
    ("seam in the mold cavity", "mold.visible-seam"),
    ("thin fins of wax along the edge", "wax.flash"),
    ("wax flash", "wax.flash"),
    ("wax leaks between the mold halves", "wax.flash"),
    ("too much rubber squeezed out of the frame", "mold.flash"),
    ("thick flash on the rubber mold", "mold.flash"),
    ("holes inside the rubber", "mold.voids"),
    ("bubbles in the rubber mold", "mold.voids"),
    ("air pockets in rubber", "mold.voids"),
    ("hollow inside the wax", "wax.voids"),
    ("wax is light and hollow", "wax.voids"),
    ("bubbles on the wax surface", "wax.surface-bubbles"),
    ("little pits all over the wax", "wax.surface-bubbles"),
    ("model stuck in the rubber", "mold.sticks-to-model"),
    ("rubber wont come off the model", "mold.sticks-to-model"),
    ("rubber bonded to master", "mold.sticks-to-model"),
    ("mold halves stuck together", "mold.halves-stick-together"),
    ("cant open the mold halves are glued", "mold.halves-stick-together"),
    ("wax sticks in the mold", "wax.sticks-in-mold"),
    ("wax wont come out of the mold", "wax.sticks-in-mold"),
    ("wax breaks when I pull it out", "wax.breaks"),
    ("shrinkage porosity in silver", "casting.shrink-porosity"),
    ("spongy metal near the sprue", "casting.shrink-porosity"),
    ("holes in the casting after polishing", "casting.shrink-porosity"),
    ("round gas holes in the metal", "casting.gas-porosity"),
    ("fins on the casting", "casting.fins"),
    ("flash on the metal", "casting.fins"),
    ("line around the ring in metal", "casting.seam-line"),
    ("parting line on the casting", "casting.seam-line"),
    ("rubber soft in the middle", "mold.soft-core"),
    ("gummy core", "mold.soft-core"),
    ("mold is tacky on the outside", "mold.tacky-skin"),
]


@pytest.mark.parametrize(("typed", "meant"), PHRASES)
def test_what_people_type_finds_the_defect_they_mean(typed: str, meant: str, finder: Finder) -> None:
    assert meant in [f.defect.id for f in finder.search(typed, 3)]


@pytest.mark.parametrize("typed", ["", "   ", "the of and", "qwzx vrtk", "\N{SNOWMAN}" * 10])
def test_nothing_is_guessed_from_nothing(typed: str, finder: Finder) -> None:
    assert finder.search(typed) == []
