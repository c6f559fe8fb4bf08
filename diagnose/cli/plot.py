"""Pictures of a calculation: beside its result in the terminal, and as a file."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from diagnose.errors import BadInput

if TYPE_CHECKING:
    from diagnose.consult import Consultant
    from diagnose.derive.calculator import Calculator
    from diagnose.derive.resolve import Computed
    from diagnose.report.pictures import Picture


def check(path: Path, asked: Sequence[Calculator], of: Consultant) -> None:
    """Raise BadInput, before anything is computed, for a file that cannot be or calculators without a picture."""
    from diagnose.report.pictures.files import ending_of

    ending_of(path)
    if not any(c.drawing for c in asked):
        others = ", ".join(c.name.replace(" ", "-") for c in of.resolver.calculators if c.drawing)
        raise BadInput(
            "there is no picture of this.", where=f"calc {asked[0].name}", next_step=f"There are pictures of: {others}."
        )  # fmt: skip


def pictures(of: Consultant, told: dict[str, Any], found: Sequence[Computed]) -> dict[str, Picture]:
    """Return the pictures of what was computed, by the name that the calculators give them."""
    from diagnose.derive.resolve import Resolved
    from diagnose.report.pictures import pictures_of

    if not any(done.calculator.drawing for done in found):
        return {}
    known = Resolved(of.resolver.resolve(told).facts, done={done.calculator.name: done for done in found})
    return pictures_of(of.show, known)


def beside(picture: Picture, width: int) -> list[str]:
    """Return a picture for the terminal: plain signs, or in words for those who asked for words."""
    return [picture.alt] if os.environ.get("ACCESSIBLE") else picture.characters(width)


def write(drawn: dict[str, Picture], found: Sequence[Computed], path: Path) -> str:
    """Write the first picture to a file and return a line that says so; raise BadInput when there is none."""
    from diagnose.report.pictures.files import write_picture

    first = next((p for done in found if (p := drawn.get(done.calculator.drawing))), None)
    if first is None:
        raise BadInput(
            "too little was computed to draw it.", where=str(path),
            next_step="Run it without --plot: it says what is missing.",
        )  # fmt: skip
    write_picture(first, path)
    return f"{first.title}: written to {path}"
