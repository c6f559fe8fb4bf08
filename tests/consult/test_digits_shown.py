"""A computed number is shown with no more digits than the bounds of what was assumed leave it."""

from __future__ import annotations

import re

from diagnose.consult import Consultant
from diagnose.rulebase.cases import case_from_text

BLOCK = """
defect: mold.soft-core
materials: {rubber: natural rubber}
settings: {cure time: 43 min, platen temperature: 153 C, rubber thickness: 27 mm}
observations: {platen probe: all within 3 C}
"""


def digits(text: str) -> int:
    number = re.match(r"-?([0-9.,]+)", text)
    assert number is not None
    plain = number[1].replace(",", "").replace(".", "").lstrip("0")
    return len(plain.rstrip("0"))


def test_a_wide_range_and_its_number_have_two_digits(of: Consultant) -> None:
    # The maker's minutes of a natural rubber differ by far more than a tenth, so does what is reckoned from them.
    found = of.diagnose(case_from_text(BLOCK, "case", of.base))
    share = next(d for d in found.derived if d.name == "cure time against need")
    low, high = share.range.split(" to ")
    assert [digits(t) <= 2 for t in (share.value, low, high)] == [True, True, True]
    shown = [f for c in found.causes for e in c.evidence for f in e.facts if f.name == share.name]
    assert shown
    assert {f.value for f in shown} == {share.value}
