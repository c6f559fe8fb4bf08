"""A diagnosis as lines: nothing that the verdict names is left without what to try against it."""

from __future__ import annotations

from diagnose.consult import Consultant
from diagnose.model.case import Case
from diagnose.report.text import TRY, TRY_OPEN, diagnosis_lines

FLAT_MOUTHS_IN_A_COOL_KILN = {
    "thermometer beside the flask": "colder than the display", "cones in the load": "none bent", "mouth in the kiln": "down and flat",
    "kind of dark": "soot that wipes off",
}  # fmt: skip


def test_a_cause_named_beside_an_earlier_fault_has_its_step(of: Consultant) -> None:
    found = of.diagnose(Case(defect="burnout.dark-mouth", observations=FLAT_MOUTHS_IN_A_COOL_KILN))
    assert found.upstream is not None
    assert "burnout.mouth-shut" in found.leading
    text = "\n".join(line.text for line in diagnosis_lines(found, 100))
    beside = text.split("ALSO TO TRY")[1]
    assert "ribs" in beside
    shown = text.split("LIKELY CAUSES")[1].split("WHERE IT BEGAN")[0]
    assert of.show.cause("burnout.mouth-shut") in shown


def heads(of: Consultant, case: Case) -> list[str]:
    return [line.text for line in diagnosis_lines(of.diagnose(case), 100) if line.style == "head"]


def test_while_no_cause_stands_out_finding_out_comes_before_changing_anything(of: Consultant) -> None:
    open_case = heads(of, Case(defect="casting.gate-hole"))
    assert open_case.index("WHAT WOULD TELL MORE") < open_case.index(TRY_OPEN.upper())
    clear = heads(of, Case(defect="burnout.dark-mouth", observations=FLAT_MOUTHS_IN_A_COOL_KILN))
    assert TRY.upper() in clear
    assert TRY_OPEN.upper() not in clear
