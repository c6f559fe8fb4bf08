"""JSON Lines out and in again: the very same, once, with every fault by its line."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from diagnose.errors import BadInput
from diagnose.library import life
from diagnose.library.intake import Intake, Manner, Report
from diagnose.library.kept import Kept, from_json
from diagnose.library.lines import lines_of, numbered
from diagnose.library.store import Library
from tests.library.invented import a_case, kepts


def lines(kept: list[Kept]) -> list[bytes]:
    return [k.to_json().encode() + b"\n" for k in kept]


def take(library: Library, given: list[bytes], **manner: object) -> Report:
    return Intake(library, Manner(**manner)).take(numbered(given))  # type: ignore[arg-type]


@settings(max_examples=12, suppress_health_check=list(HealthCheck))
@given(st.lists(kepts(), min_size=1, max_size=8))
def test_any_case_comes_back_from_the_tables_as_it_was_put_in(library: Library, cases: list[Kept]) -> None:
    added = library.add(cases)
    for asked, kept in zip(cases, added, strict=True):
        assert kept == asked.model_copy(update={"name": kept.name, "uid": kept.uid})
        assert library.kept(kept.name) == kept
        assert from_json(kept.to_json()) == kept


@settings(max_examples=8, suppress_health_check=list(HealthCheck))
@given(cases=st.lists(kepts(), min_size=1, max_size=6))
def test_a_library_goes_through_json_lines_into_another_and_out_again_byte_for_byte(
    library: Library, tmp_path: Path, cases: list[Kept]
) -> None:
    names = {k.name for k in library.add(cases)}
    out = lines([k for k in library.everything() if k.name in names])
    other = Library(tmp_path / f"{len(list(tmp_path.iterdir()))}.db")
    take(other, out, again=True)
    assert lines(list(other.everything())) == out
    other.close()


def test_the_same_case_is_taken_in_once(library: Library) -> None:
    library.add([a_case(), a_case(part="fern")])
    out = lines(list(library.everything()))
    report = take(library, out)
    assert (report.taken, len(report.same)) == (0, 2)
    assert report.same[0] == ("line 1", library.names()[0])


def test_a_case_told_the_very_same_is_recognised_without_its_number(library: Library) -> None:
    name = library.add([a_case()])[0].name
    twin = a_case(settings={"cure time": {"typed": "1 h", "value": 3600.0}})
    report = take(library, lines([twin, a_case(notes="another day"), a_case(notes="another day")]))
    assert report.taken == 1
    assert report.same == [("line 1", name), ("line 3", "line 2")]
    assert take(library, lines([twin]), again=True).taken == 1


def test_lines_that_cannot_be_used_are_named_and_the_good_ones_kept(library: Library) -> None:
    given = [
        *lines([a_case()]), b"\n", b"{\n", b'{"part": 3}\n', b'{"colour": "red"}\n', b'{"notes": "a\\u0000b"}\n',
        b'{"settings": {"cure time": {"typed": "1 h", "value": NaN}}}\n', b'{"part": "\xff"}\n',
        b'{"part": "\\ud800"}\n', *lines([a_case(part="fern")]),
    ]  # fmt: skip
    report = take(library, given)
    assert report.taken == 2
    assert [where for where, _ in report.faults] == [f"line {n}" for n in (3, 4, 5, 6, 7, 8, 9)]
    assert "colour" in dict(report.faults)["line 5"]
    assert "zero byte" in dict(report.faults)["line 6"]


def test_a_backslash_before_u0000_is_no_zero_byte(library: Library) -> None:
    assert take(library, lines([a_case(notes="C:\\u0000 is a path")])).taken == 1


def test_a_dry_run_says_what_would_come_in_and_takes_nothing(library: Library) -> None:
    library.add([a_case()])
    report = take(library, lines([a_case(), a_case(part="fern")]), dry=True)
    assert (report.taken, len(report.same)) == (1, 1)
    assert len(library.names()) == 1


def test_an_import_in_many_parts_is_one_change_and_one_undo(library: Library, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("diagnose.library.lines.FIRST_PART", 1)
    monkeypatch.setattr("diagnose.library.lines.PART", 3)
    library.add([a_case()])
    take(library, lines([a_case(part=str(i)) for i in range(8)]))
    assert len(library.names()) == 9
    assert library.undo().cases == 8
    assert len(library.names()) == 1
    library.undo(back=True)
    assert len(library.names()) == 9


def test_of_a_case_changed_on_both_sides_ours_stays_unless_theirs_is_asked_for(library: Library) -> None:
    kept = library.add([a_case()])[0]
    theirs = kept.model_copy(update={"other_cause": "the press leaked"})
    library.change(kept.name, "confirm", lambda k: life.confirmed(k, ["mold.dirty-layers"], ""))
    report = take(library, lines([theirs]))
    assert report.differing == [("line 1", kept.name)]
    assert library.kept(kept.name).confirmed == ("mold.dirty-layers",)
    assert take(library, lines([theirs]), update=True).updated == 1
    assert library.kept(kept.name).other_cause == "the press leaked"
    library.undo()
    assert library.kept(kept.name).confirmed == ("mold.dirty-layers",)


def test_an_earlier_state_of_a_case_changes_nothing(library: Library) -> None:
    kept = library.add([a_case()])[0]
    library.change(kept.name, "confirm", lambda k: life.confirmed(k, ["mold.dirty-layers"], ""))
    report = take(library, lines([kept]), update=True)
    assert (report.taken, report.updated, len(report.same)) == (0, 0, 1)


def test_cases_of_another_shop_are_marked_as_such(library: Library) -> None:
    take(library, lines([a_case()]), shop="the guild")
    assert [k.shop for k in library.everything()] == ["the guild"]
    with library.database.read() as conn:
        assert conn.exec_driver_sql("SELECT count(*) FROM shops").scalar() == 2


def test_a_file_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="cannot be read"):
        list(lines_of(tmp_path / "none.jsonl"))


def test_an_import_that_is_stopped_keeps_what_was_written_and_goes_on_later(
    library: Library, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("diagnose.library.lines.FIRST_PART", 2)
    monkeypatch.setattr("diagnose.library.lines.PART", 2)
    given = lines([a_case(part=str(i)) for i in range(6)])

    def until_stopped() -> Iterator[bytes]:
        yield from given[:5]
        raise KeyboardInterrupt

    report = Intake(library, Manner()).take(numbered(until_stopped()))
    assert (report.taken, report.stopped, len(library.names())) == (4, True, 4)
    report = take(library, given)
    assert (report.taken, len(report.same), report.stopped) == (2, 4, False)


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ('{"part": 3}', "part (3) must be a text."),
        ('{"colour": "red"}', "colour (red) is no part of a case."),
        ('{"trials": [{"result": "perfect"}]}', "trials / 1 / result (perfect) must be 'cured', 'better', 'same' or"),
        ('{"settings": {"cure time": {"typed": "1 h"}}}', "settings / cure time / value is missing."),
        (
            '{"settings": {"cure time": {"typed": "1", "value": "x"}}}',
            "settings / cure time / value (x) must be a number",
        ),
        ('{"cost": -5}', "cost (-5) must be 0 or more."),
        ('{"confirmed": "mold.soft-core"}', "confirmed (mold.soft-core) must be a list."),
        ('{"part": ', "is no case: a case is one JSON object on a line of its own."),
        ("[1]", "is no case: a case is one JSON object on a line of its own."),
    ],
)
def test_what_is_wrong_with_a_line_is_said_in_plain_words(line: str, said: str) -> None:
    with pytest.raises(BadInput) as found:
        from_json(line)
    assert found.value.message().startswith(said)


@pytest.mark.parametrize("name", ["scrap.xlsx", "README.md", "cases"])
def test_a_file_of_another_kind_is_refused_as_a_whole(tmp_path: Path, name: str) -> None:
    (tmp_path / name).write_bytes(b"PK\x03\x04 or a page of text\nand more\n")
    with pytest.raises(BadInput, match=r"Save a sheet as \.csv"):
        list(lines_of(tmp_path / name))
    (tmp_path / name).write_bytes(b'\xef\xbb\xbf\n{"part": "ring"}\n')
    assert [kept.part for _, kept in lines_of(tmp_path / name) if isinstance(kept, Kept)] == ["ring"]


def test_what_came_of_a_case_that_was_told_before_is_not_lost_in_silence(library: Library) -> None:
    kept = library.add([a_case(cost=900)])[0]
    later = a_case(confirmed=("mold.dirty-layers",))
    assert take(library, lines([a_case()])).same == [("line 1", kept.name)]
    assert take(library, lines([later])).differing == [("line 1", kept.name)]
    assert library.kept(kept.name) == kept
    assert take(library, lines([later]), update=True).updated == 1
    now = library.kept(kept.name)
    assert (now.confirmed, now.cost, now.uid) == (("mold.dirty-layers",), 900, kept.uid)
    assert take(library, lines([later])).same == [("line 1", kept.name)]
    library.undo()
    assert library.kept(kept.name) == kept


@pytest.mark.parametrize("part", [1, 10])
def test_a_case_that_a_file_holds_twice_is_changed_once_and_undone_whole(
    library: Library, monkeypatch: pytest.MonkeyPatch, part: int
) -> None:
    monkeypatch.setattr("diagnose.library.lines.FIRST_PART", part)
    monkeypatch.setattr("diagnose.library.lines.PART", part)
    here = library.add([a_case()])[0]
    new = a_case(part="fern", uid="cd" * 16)
    twice = [kept.model_copy(update={"other_cause": text}) for kept in (here, new) for text in ("hose", "press")]
    report = take(library, lines(twice), update=True)
    assert (report.taken, report.updated, len(report.same), len(report.differing)) == (1, 1, 0, 2)
    assert library.kept(here.name).other_cause == "hose"
    library.undo()
    assert list(library.everything()) == [here]


@pytest.mark.parametrize("part", [1, 10])
def test_what_came_of_a_case_that_a_file_tells_twice_is_not_lost_in_silence(
    library: Library, monkeypatch: pytest.MonkeyPatch, part: int
) -> None:
    monkeypatch.setattr("diagnose.library.lines.FIRST_PART", part)
    monkeypatch.setattr("diagnose.library.lines.PART", part)
    found_out = a_case(confirmed=("mold.dirty-layers",))
    report = take(library, lines([a_case(), a_case(), found_out]))
    assert (report.taken, [where for where, _ in report.same]) == (1, ["line 2"])
    assert [where for where, _ in report.differing] == ["line 3"]


@pytest.mark.parametrize("part", [1, 10])
def test_a_case_that_a_file_holds_twice_whole_is_the_same(
    library: Library, monkeypatch: pytest.MonkeyPatch, part: int
) -> None:
    monkeypatch.setattr("diagnose.library.lines.FIRST_PART", part)
    monkeypatch.setattr("diagnose.library.lines.PART", part)
    found_out = a_case(confirmed=("mold.dirty-layers",), cost=900)
    named = a_case(part="fern", uid="cd" * 16, opened_at="2026-01-12T08:00:00Z", other_cause="hose")
    report = take(library, lines([found_out, found_out, named, named]))
    assert (report.taken, len(report.same), report.differing) == (2, 2, [])
