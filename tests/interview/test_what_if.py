"""`what if` at any prompt: side by side, and nothing of it is kept."""

from __future__ import annotations

from diagnose.interview.inquiry import Inquiry
from diagnose.model.what_if import WhatIf


def test_a_setting_tried_changes_nothing_that_was_told(inquiry: Inquiry) -> None:
    for line in ("defect = wax.sinks", "wax temperature = 80 C", "wax congealing point = 62 C"):
        inquiry.hear(line)
    case, told, asked = inquiry.case, list(inquiry.told), inquiry.prompt()
    shown = inquiry.hear("What if wax temperature = 68 C?").shown
    assert isinstance(shown, WhatIf)
    assert [c.to for c in shown.changes] == ["154 °F"]
    assert (inquiry.case, inquiry.told, inquiry.prompt()) == (case, told, asked)


def test_an_unusable_change_is_said_and_changes_nothing(inquiry: Inquiry) -> None:
    inquiry.hear("defect = wax.sinks")
    reply = inquiry.hear("what if wax temperature = 68")
    assert reply.shown is None
    assert "68 what?" in reply.say[0]


def test_before_a_defect_is_named_it_asks_for_one(inquiry: Inquiry) -> None:
    assert inquiry.hear("what if wax temperature = 68 C").say == [
        "Say first what is wrong; then there are causes to ask about."
    ]
