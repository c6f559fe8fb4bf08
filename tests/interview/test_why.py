"""`why NAME`, `why not NAME` and `show all`, typed at any prompt once it is known what is wrong."""

from __future__ import annotations

import pytest

from diagnose.interview.inquiry import Inquiry
from diagnose.model.explanation import Balance, ExplainedDiagnosis, Unfolded, WhyNot


@pytest.fixture
def thin_gate(inquiry: Inquiry) -> Inquiry:
    for line in (
        "defect = casting.shrink-porosity", "gate diameter = 2 mm", "heaviest section = 4 mm",
        "heaviest section width = 6 mm",
    ):  # fmt: skip
        inquiry.hear(line)
    return inquiry


@pytest.mark.parametrize(
    "typed", ["why 1", "why tree.gate-freezes-early", "why the gate froze before the part", "WHY froze before"]
)  # fmt: skip
def test_a_cause_is_meant_by_place_id_name_or_some_of_its_words(thin_gate: Inquiry, typed: str) -> None:
    shown = thin_gate.hear(typed).shown
    assert isinstance(shown, Balance)
    assert shown.cause == "tree.gate-freezes-early"


def test_why_not_names_the_other_side(thin_gate: Inquiry) -> None:
    shown = thin_gate.hear("why not pinched").shown
    assert isinstance(shown, WhyNot)
    assert shown.cause == "tree.pinched-joint"
    assert shown.first == "tree.gate-freezes-early"


def test_a_computed_number_is_opened_up_by_its_name(thin_gate: Inquiry) -> None:
    shown = thin_gate.hear("why part modulus").shown
    assert isinstance(shown, Unfolded)
    assert shown.value == "1.2 mm"  # 4 x 6 / (2 x (4 + 6)): volume over cooling surface of a long bar


def test_show_all_gives_everything(thin_gate: Inquiry) -> None:
    assert isinstance(thin_gate.hear("show all").shown, ExplainedDiagnosis)


@pytest.mark.parametrize("typed", ["why gate", "why not", "why not purple", "why 99", "show nonsense"])
def test_what_is_not_clear_is_asked_back_with_the_names(thin_gate: Inquiry, typed: str) -> None:
    reply = thin_gate.hear(typed)
    assert reply.shown is None
    assert "Causes: " in reply.say[0]
    assert "The gate froze before the part" in reply.say[0]


def test_why_alone_still_says_why_the_question_is_asked(thin_gate: Inquiry) -> None:
    reply = thin_gate.hear("why")
    assert reply.shown is None
    assert reply.say


def test_before_anything_is_wrong_the_line_tells_what_is(inquiry: Inquiry) -> None:
    inquiry.hear("why is there a seam line on the wax")
    assert inquiry.pick is not None or inquiry.case.defect
    assert "what is wrong" in " ".join(inquiry.hear("show all").say).casefold() or inquiry.case.defect


@pytest.mark.parametrize(
    "told", [(), ("thicker gate trial = cured", "gate against section = thinner than the section")]
)
def test_why_says_each_cause_that_would_lead_once(thin_gate: Inquiry, told: tuple[str, ...]) -> None:
    for line in told:
        thin_gate.hear(line)
    for _ in range(6):
        leading = [line for line in thin_gate.hear("why").say if "first" in line]
        causes = [line.partition("then first would be ")[2] or line for line in leading]
        assert len(causes) == len(set(causes))
        thin_gate.hear("skip")


def test_where_every_answer_leaves_the_same_cause_first_it_is_said_in_one_line(inquiry: Inquiry) -> None:
    inquiry.hear("defect = casting.shrink-porosity")
    inquiry.hear("thicker gate trial = cured")
    for _ in range(12):
        said = inquiry.hear("why").say
        once = [line for line in said if "whatever the answer" in line]
        if once:
            break
        inquiry.hear("skip")
    assert inquiry.standing is not None
    first = inquiry.of.show.cause(inquiry.standing.ranking.first())
    assert once == [line for line in said if first in line]
    assert len(once) == 1
