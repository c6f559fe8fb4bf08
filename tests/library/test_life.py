"""The life of a case on both databases: every step kept, every earlier state kept, the last step taken back."""

from __future__ import annotations

import pytest

from diagnose.errors import BadInput
from diagnose.library import life
from diagnose.library.kept import Kept, from_json
from diagnose.library.store import Library
from diagnose.rulebase.load import RuleBase
from tests.library.invented import a_case

CAUSE = "mold.pack-too-empty"


def confirm(library: Library, name: str, *causes: str, other: str = "") -> Kept:
    return library.change(name, "confirm", lambda k: life.confirmed(k, causes, other))


def try_out(library: Library, name: str, changed: str, result: str = "") -> Kept:
    return library.change(name, "trial", lambda k: life.with_trial(k, {"changed": changed, "result": result}))


def test_a_case_goes_from_opened_to_closed(library: Library) -> None:
    name = library.add([a_case(said=None)])[0].name
    states = [library.kept(name).state]
    library.change(name, "tell", lambda k: k.told_anew(a_case()))
    states.append(library.kept(name).state)
    states.append(try_out(library, name, "packed proud", "cured").state)
    states.append(confirm(library, name, CAUSE).state)
    states.append(library.change(name, "close", lambda k: life.closed(k, library.now())).state)
    assert states == ["opened", "diagnosed", "tried", "confirmed", "closed"]
    assert [c.what for c, _ in library.revisions(name)] == ["add", "tell", "trial", "confirm", "close"]


def test_every_change_keeps_the_case_as_it_was_with_who_and_when(named: str) -> None:
    library = Library(named, author="MK", now=lambda: "2026-05-01T08:00:00Z")
    name = library.add([a_case()])[0].name
    library.author, library.now = "JT", lambda: "2026-05-02T08:00:00Z"
    confirm(library, name, CAUSE)
    (first, none_before), (second, before) = library.revisions(name)
    assert (first.author, first.at, none_before) == ("MK", "2026-05-01T08:00:00Z", None)
    assert (second.author, second.at) == ("JT", "2026-05-02T08:00:00Z")
    assert before is not None
    assert from_json(before).confirmed == ()


def test_several_causes_or_none_of_these(library: Library) -> None:
    name = library.add([a_case()])[0].name
    assert confirm(library, name, CAUSE, "mold.dirty-layers").confirmed == (CAUSE, "mold.dirty-layers")
    assert confirm(library, name, other="the hose was cracked").other_cause == "the hose was cracked"
    assert library.kept(name).confirmed == ()
    with pytest.raises(BadInput, match="what was the cause"):
        confirm(library, name)


def test_a_closed_case_takes_no_trial_until_it_is_open_again(library: Library) -> None:
    name = library.add([a_case()])[0].name
    library.change(name, "close", lambda k: life.closed(k, library.now()))
    with pytest.raises(BadInput, match="is closed"):
        try_out(library, name, "anything")
    library.change(name, "reopen", life.reopened)
    assert try_out(library, name, "packed proud").state == "tried"


def test_the_result_of_a_trial_can_come_later(library: Library) -> None:
    name = library.add([a_case()])[0].name
    try_out(library, name, "packed proud")
    library.change(name, "trial", lambda k: life.with_result(k, 1, "better", "a thin line left"))
    (trial,) = library.kept(name).trials
    assert (trial.changed, trial.result, trial.outcome) == ("packed proud", "better", "a thin line left")
    with pytest.raises(BadInput, match="there is no trial 2"):
        library.change(name, "trial", lambda k: life.with_result(k, 2, "better", ""))


def test_a_trial_keeps_the_revised_setting_beside_the_recorded_one(base: RuleBase) -> None:
    (move,) = life.moved(a_case(), {"cure time": "75 min"}, base)
    assert (move.before, move.before_si) == ("60 min", 3600.0)
    assert (move.after, move.after_si) == ("75 min", 4500.0)


def test_undo_goes_back_step_by_step_and_back_again(library: Library) -> None:
    name = library.add([a_case()])[0].name
    opened = library.kept(name)
    tried = try_out(library, name, "packed proud")
    confirmed = confirm(library, name, CAUSE)

    library.undo()
    assert library.kept(name) == tried
    library.undo()
    assert library.kept(name) == opened
    library.undo(back=True)
    assert library.kept(name) == tried
    library.undo(back=True)
    assert library.kept(name) == confirmed
    with pytest.raises(BadInput, match="no undo to take back"):
        library.undo(back=True)


def test_undo_of_the_first_keeping_takes_the_case_out_and_brings_the_very_same_back(library: Library) -> None:
    kept = library.add([a_case()])[0]
    library.undo()
    assert library.names() == []
    library.undo(back=True)
    assert library.kept(kept.name) == kept
    assert [c.what for c, _ in library.revisions(kept.name)] == ["add", "undo", "undo back"]


def test_undo_takes_back_only_what_the_author_did(library: Library) -> None:
    name = library.add([a_case()])[0].name
    library.author = "JT"
    with pytest.raises(BadInput, match="no change to undo by JT") as caught:
        library.undo()
    assert "'add' by MK" in caught.value.next_step
    assert library.names() == [name]


def test_undo_is_refused_when_somebody_changed_the_case_after(library: Library) -> None:
    name = library.add([a_case()])[0].name
    confirm(library, name, CAUSE)
    library.author = "JT"
    try_out(library, name, "packed proud")
    library.author = "MK"
    with pytest.raises(BadInput, match="changed again since \\('trial' by JT\\)"):
        library.undo()
    assert library.kept(name).confirmed == (CAUSE,)


def test_a_change_after_an_undo_bars_the_way_back(library: Library) -> None:
    name = library.add([a_case()])[0].name
    confirm(library, name, CAUSE)
    library.undo()
    try_out(library, name, "packed proud")
    with pytest.raises(BadInput, match="changed again since"):
        library.undo(back=True)
    assert library.kept(name).confirmed == ()


def test_a_forgotten_case_is_gone_and_undo_brings_it_back(library: Library) -> None:
    first, second = library.add([a_case(), a_case(part="another")])
    library.forget(first.name)
    assert library.names() == [second.name]
    library.undo()
    assert library.kept(first.name) == first


def test_a_case_forgotten_for_good_leaves_nothing_to_read(library: Library) -> None:
    kept = library.add([a_case(part="a secret brooch")])[0]
    confirm(library, kept.name, CAUSE)
    library.forget(kept.name, for_good=True)
    with pytest.raises(BadInput):
        library.undo()
    with library.database.read() as conn:
        left = conn.exec_driver_sql("SELECT count(*) FROM revisions").scalar()
    assert left == 0
    if library.place.file:
        library.close()
        for file in library.place.file.parent.iterdir():
            assert b"a secret brooch" not in file.read_bytes()


def test_a_number_is_never_used_twice(library: Library) -> None:
    first = library.add([a_case()])[0]
    library.forget(first.name, for_good=True)
    second = library.add([a_case()])[0]
    assert second.name != first.name


def test_a_case_can_be_named_by_its_number(library: Library) -> None:
    kept = library.add([a_case()])[0]
    assert library.kept(kept.name.rsplit("-", 1)[1]) == kept
    with pytest.raises(BadInput, match="there is no case '99'"):
        library.kept("99")


def test_the_order_is_that_of_the_changes_not_of_the_clock(named: str) -> None:
    times = iter(["2026-05-02T08:00:00Z", "2026-05-01T08:00:00Z", "1999-01-01T00:00:00Z", "1998-01-01T00:00:00Z"] * 3)
    library = Library(named, author="MK", now=lambda: next(times))
    first, second = library.add([a_case()])[0], library.add([a_case()])[0]
    confirm(library, first.name, CAUSE)
    assert library.names() == [first.name, second.name]
    assert [c.what for c, _ in library.revisions(first.name)] == ["add", "confirm"]
    assert library.undo().what == "confirm"
