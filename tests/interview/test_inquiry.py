"""The interview without a terminal: what each typed line does."""

from __future__ import annotations

import pytest

from diagnose.consult import Consultant
from diagnose.consult.find import Finder
from diagnose.interview.inquiry import Inquiry
from diagnose.interview.prompt import choose
from diagnose.model.vocabulary import NOT_KNOWN


@pytest.fixture
def seam(inquiry: Inquiry) -> Inquiry:
    inquiry.hear("defect = mold.visible-seam")
    return inquiry


def test_words_of_ones_own_lead_to_a_menu_with_the_right_defect(inquiry: Inquiry) -> None:
    inquiry.hear("there's a line all round the wax")
    prompt = inquiry.prompt()
    assert prompt is not None
    names = [name for name, _ in prompt.options]
    assert inquiry.of.base.defect("wax.visible-seam").name in names[:2]
    assert names[-1] == "none of these"
    inquiry.hear("1")
    assert inquiry.case.defect in inquiry.of.base.defect_files


def test_words_that_mean_nothing_are_not_guessed_at(inquiry: Inquiry) -> None:
    assert "other words" in inquiry.hear("xyzzy qwrt").say[0]
    assert inquiry.case.defect == ""


def test_a_fact_can_be_told_at_any_prompt(seam: Inquiry) -> None:
    reply = seam.hear("cure time = 45 min")
    assert seam.case.settings["cure time"].value == pytest.approx(2700.0)
    assert reply.say[0].startswith("cure time: 45 min")


def test_back_undoes_and_asks_the_same_again(seam: Inquiry) -> None:
    first = seam.prompt()
    assert first is not None
    seam.hear("skip")
    assert seam.prompt() != first
    seam.hear("back")
    again = seam.prompt()
    assert again is not None
    assert again.name == first.name
    assert seam.case.observations == {}


def test_not_known_is_never_asked_twice(seam: Inquiry) -> None:
    asked = []
    while (prompt := seam.prompt()) is not None:
        assert prompt.name not in asked
        asked.append(prompt.name)
        seam.hear("not known")
    assert asked
    assert set(seam.case.observations.values()) == {NOT_KNOWN}


def test_why_says_what_each_answer_would_put_first(seam: Inquiry) -> None:
    while (prompt := seam.prompt()) and not (prompt.options and prompt.name in seam.of.base.words.observations):
        seam.hear("skip")
    assert prompt is not None
    said = " ".join(seam.hear("why").say)
    assert any(answer in said for answer, _ in prompt.options)


def test_an_answer_can_be_changed(seam: Inquiry) -> None:
    seam.hear("squeeze-out = none")
    before = seam.standing
    seam.hear("squeeze-out = heavy")
    assert seam.case.observations["squeeze-out"] == "heavy"
    assert seam.standing != before
    seam.hear("change squeeze-out")
    prompt = seam.prompt()
    assert prompt is not None
    assert prompt.name == "squeeze-out"


def test_two_readings_of_a_number_become_a_choice(seam: Inquiry) -> None:
    seam.hear("platen temperature = 153")
    prompt = seam.prompt()
    if "platen temperature" not in seam.case.settings:
        assert prompt is not None
        assert len(prompt.options) >= 2
        seam.hear("2")
        assert "platen temperature" in seam.case.settings or seam.prompt() is not None


def test_a_wrong_answer_loses_nothing(seam: Inquiry) -> None:
    seam.hear("squeeze-out = none")
    before = seam.case
    assert "is no answer" in seam.hear("squeeze-out = purple").say[0]
    assert "Did you mean" in seam.hear("squeezout = none").say[0]
    assert "time" in seam.hear("cure time = 12 in").say[0]
    assert seam.case == before


def test_every_answer_is_kept_and_an_interview_can_be_taken_up_again(of: Consultant, finder: Finder) -> None:
    kept: list[list[tuple[str, str]]] = []
    one = Inquiry(of, finder, lambda told: kept.append(list(told)))
    for line in ("defect = mold.visible-seam", "squeeze-out = none", "skip"):
        one.hear(line)
    assert len(kept) == 3
    other = Inquiry(of, finder, lambda told: None)
    other.replay(kept[-1])
    assert other.case == one.case
    assert other.prompt() == one.prompt()


@pytest.mark.parametrize("width", [20, 38, 78, 200])
def test_the_bottom_line_fits_and_moves(seam: Inquiry, width: int) -> None:
    before = seam.bottom_line(width)
    seam.hear("squeeze-out = none")
    after = seam.bottom_line(width)
    assert len(before) <= width
    assert len(after) <= width
    assert before != after


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("2", "thin even bead"),
        ("none", "none"),
        ("hea", "heavy"),
        ("thin evn bead", "thin even bead"),
        ("9", None),
        ("maybe", None),
    ],
)
def test_an_answer_may_be_a_number_a_beginning_or_loosely_spelled(typed: str, meant: str | None) -> None:
    assert choose(typed, ["none", "thin even bead", "heavy"]) == meant


def test_a_fault_that_began_earlier_is_followed_with_what_was_told(inquiry: Inquiry) -> None:
    inquiry.hear("defect = wax.visible-seam")
    for line in ("squeeze-out = none", "line and cut = beside the cut", "rubber at the line = line in the rubber"):
        inquiry.hear(line)
    while (prompt := inquiry.prompt()) and prompt.name != "next step":
        inquiry.hear("skip")
    assert prompt is not None
    assert [option for option, _ in prompt.options][::2] == ["follow", "done"]
    inquiry.hear("1")
    assert inquiry.case.defect == "mold.visible-seam"
    assert inquiry.standing is not None
    assert inquiry.standing.ranking.first() == "mold.pack-too-empty"


@pytest.mark.parametrize("typed", ["change of color on the gold", "set too soft to pour"])
def test_what_is_wrong_may_begin_with_the_word_of_a_command(inquiry: Inquiry, typed: str) -> None:
    reply = inquiry.hear(typed)

    assert not any("to change" in line for line in reply.say)


def test_a_question_stays_open_while_other_facts_are_told(seam: Inquiry) -> None:
    first = seam.prompt()
    assert first is not None
    seam.hear("cure time = 45 min")
    again = seam.prompt()
    assert again is not None
    assert again.name == first.name


def test_a_caution_is_given_once(inquiry: Inquiry) -> None:
    inquiry.hear("defect = wax.flow-lines")
    said = [line for told in ("wax temperature = 96 C", "skip", "skip", "skip") for line in inquiry.hear(told).say]
    smoke = [line for line in said if "smoke" in line.casefold()]
    assert len(smoke) == len(set(smoke))


def test_a_second_fault_is_noted_and_comes_next(seam: Inquiry) -> None:
    before = seam.case.defect
    seam.hear("squeeze-out = none")
    assert "looks" not in seam.hear("defect = torn mold").say[0]
    prompt = seam.prompt()
    assert prompt is not None
    assert [o for o, _ in prompt.options] == ["as well", "instead"]
    assert "{" not in prompt.question
    assert "Noted: " in seam.hear("as well").say[0]
    assert seam.case.defect == before
    reply = seam.hear("done")
    assert not reply.over
    assert getattr(reply.shown, "defect", "") == before
    assert seam.case.defect == "mold.torn-mold"
    assert seam.case.observations["squeeze-out"] == "none"
    assert seam.hear("done").over


def test_a_second_fault_is_kept_with_the_answers_and_undone_with_them(inquiry: Inquiry) -> None:
    kept: list[list[tuple[str, str]]] = []
    inquiry.keep = lambda told: kept.append(list(told))
    for line in ("defect = mold.visible-seam", "defect = mold.torn-mold", "as well"):
        inquiry.hear(line)
    again = Inquiry(inquiry.of, inquiry.finder, lambda told: None)
    again.replay(kept[-1])
    assert (again.case.defect, again.others) == ("mold.visible-seam", ["mold.torn-mold"])
    again.hear("next")
    assert (again.case.defect, again.others) == ("mold.torn-mold", [])
    inquiry.hear("back")
    assert (inquiry.case.defect, inquiry.others) == ("mold.visible-seam", [])


def test_settings_told_twice_use_up_no_second_look(seam: Inquiry) -> None:
    for minutes in (40, 45, 50):
        seam.hear(f"cure time = {minutes} min")
    assert seam.looked_again == frozenset()


def test_a_wrong_first_name_is_replaced(seam: Inquiry) -> None:
    seam.hear("defect = torn mold")
    seam.hear("2")
    assert seam.case.defect == "mold.torn-mold"
    assert seam.others == []


def test_without_a_second_fault_next_says_how_to_name_one(seam: Inquiry) -> None:
    assert "defect = WORDS" in seam.hear("next").say[0]


@pytest.mark.parametrize(
    ("congealing", "ceiling", "says"),
    [("180 F", "176 F", "congeals at 180 °F leaves no room under 176 °F"),
     ("82 C", "80 C", "congeals at 82 °C leaves no room under 80 °C")],
)  # fmt: skip
def test_why_a_number_cannot_be_given_is_said_in_the_units_typed(
    of: Consultant, finder: Finder, congealing: str, ceiling: str, says: str
) -> None:
    inquiry = Inquiry(Consultant(of.base, of.resolver, ""), finder, lambda told: None)
    degree = congealing[-1]
    inquiry.hear("defect = wax.flow-lines")
    inquiry.hear(f"wax temperature = {'150' if degree == 'F' else '65'} {degree}")
    inquiry.hear(f"mold temperature = {'68' if degree == 'F' else '20'} {degree}")
    inquiry.hear(f"wax congealing point = {congealing}")
    inquiry.hear(f"wax ceiling = {ceiling}")
    assert says in inquiry.diagnosis().model_dump_json()


def test_words_of_the_trade_for_a_number_are_taken_or_refused_with_what_to_do(inquiry: Inquiry) -> None:
    inquiry.hear("defect = investment.does-not-boil")
    inquiry.hear("altitude = at sea level")
    assert inquiry.case.settings["altitude"].value == 0.0
    assert "read a thermometer" in inquiry.hear("slurry temperature = room temperature").say[0]
    assert "slurry temperature" not in inquiry.case.settings


def two_earlier_faults(inquiry: Inquiry) -> list[str]:
    inquiry.hear("defect = casting.wrong-size")
    while (prompt := inquiry.prompt()) is not None and prompt.name != "next step":
        inquiry.hear("skip")
    assert prompt is not None
    return [option for option, _ in prompt.options]


def test_two_faults_that_it_may_have_begun_with_are_both_offered(inquiry: Inquiry) -> None:
    assert two_earlier_faults(inquiry)[:2] == ["follow", "follow other"]
    inquiry.hear("2")
    assert inquiry.case.defect == "wax.distorted"
    assert inquiry.others == ["wax.wrong-size"]


def test_the_one_not_followed_first_is_kept_for_afterwards(inquiry: Inquiry) -> None:
    two_earlier_faults(inquiry)
    said = inquiry.hear("follow").say
    assert inquiry.case.defect == "wax.wrong-size"
    assert inquiry.others == ["wax.distorted"]
    assert any("Noted: Bent, oval or twisted wax" in line for line in said)


def test_where_one_is_sure_the_other_is_not_pressed_on_anybody(inquiry: Inquiry) -> None:
    inquiry.hear("defect = casting.wrong-size")
    inquiry.hear("kept wax measured = off in size")
    inquiry.hear("follow")
    assert inquiry.case.defect == "wax.wrong-size"
    assert inquiry.others == []
