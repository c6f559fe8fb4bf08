"""What the columns of a spreadsheet mean: guessed, set right by a person, remembered."""

from __future__ import annotations

import pytest

from diagnose.errors import BadInput
from diagnose.library.mapping import guess, in_every_row, remember, remembered, settled
from diagnose.library.store import Library
from diagnose.rulebase.load import RuleBase


@pytest.mark.parametrize(
    ("title", "to", "unit"),
    [
        ("platen temperature", "platen temperature", ""),
        ("Platen Temperature (°F)", "platen temperature", "°F"),
        ("platen temp (F)", "platen temperature", "F"),
        ("Platen temp. [C]", "platen temperature", "C"),
        ("platen temperature, K", "platen temperature", "K"),
        ("platen temp in F", "platen temperature", "F"),
        ("cure time min", "cure time", "min"),
        ("Cure Time", "cure time", ""),
        ("squeeze out", "squeeze-out", ""),
        ("Rubber", "rubber", ""),
        ("Date", "date", ""),
        ("Remarks", "notes", ""),
        ("Root cause", "confirmed", ""),
        ("What is wrong", "defect", ""),
        ("zodiac sign", "-", ""),
        ("", "-", ""),
    ],
)
def test_a_title_is_taken_for_what_it_says(base: RuleBase, title: str, to: str, unit: str) -> None:
    (column,) = guess((title,), base).columns
    assert (column.to, column.unit) == (to, unit)


def test_a_guess_says_that_it_is_one(base: RuleBase) -> None:
    sure, guessed = guess(("cure time", "platen temp (F)"), base).columns
    assert (sure.sure, guessed.sure) == (True, False)


def test_two_titles_never_mean_the_same(base: RuleBase) -> None:
    first, second = guess(("cure time", "Cure Time (min)"), base).columns
    assert (first.to, second.to) == ("cure time", "-")


def test_a_person_has_the_last_word(base: RuleBase) -> None:
    columns = guess(("Heat", "Zeit", "part"), base)
    columns = settled(
        columns, [("heat", "platen temperature"), ("Zeit", "cure time"), ("part", "-")], [("Heat", "F")], base
    )
    assert [(c.to, c.unit) for c in columns.columns] == [("platen temperature", "F"), ("cure time", ""), ("-", "")]
    assert all(c.sure for c in columns.columns)


@pytest.mark.parametrize(
    ("given", "units", "message"),
    [
        ([("Hat", "cure time")], [], "there is no column 'Hat'. Did you mean 'Heat'"),
        ([("Heat", "platen temprature")], [], "Did you mean 'platen temperature'"),
        ([("Heat", "platen temperature")], [("Heat", "kg")], "is not a unit of temperature"),
        ([("Heat", "notes")], [("Heat", "F")], "'notes' has no unit"),
        ([("Heat", "cure time"), ("Zeit", "cure time")], [], "'Heat' and 'Zeit' both mean 'cure time'"),
    ],
)
def test_a_wrong_word_is_named_with_the_nearest(
    base: RuleBase, given: list[tuple[str, str]], units: list[tuple[str, str]], message: str
) -> None:
    with pytest.raises(BadInput, match=message):
        settled(guess(("Heat", "Zeit"), base), given, units, base)


def test_how_a_sheet_is_read_is_remembered_by_its_titles(library: Library, base: RuleBase) -> None:
    titles = ("Heat", "part")
    assert remembered(library, titles) is None
    columns = settled(guess(titles, base), [("Heat", "platen temperature")], [], base)
    remember(library, titles, columns.model_copy(update={"values": {"ok": "none"}, "dates": "dmy"}))
    found = remembered(library, ("HEAT", "Part"))
    assert found is not None
    assert (found.columns[0].to, found.values, found.dates) == ("platen temperature", {"ok": "none"}, "dmy")
    assert remembered(library, ("Heat", "part", "more")) is None
    remember(library, titles, columns)
    assert remembered(library, titles) == columns


def test_a_title_that_can_mean_several_things_is_left_for_a_person(base: RuleBase) -> None:
    found = {c.title: c for c in guess(("Vacuum", "Wall thickness", "Alloy"), base).columns}
    assert found["Vacuum"].to == "-"
    assert not found["Vacuum"].sure
    assert found["Wall thickness"].to == "thinnest section"
    assert found["Alloy"].to == "-"


def test_what_a_person_agreed_to_is_no_guess_the_next_time(library: Library, base: RuleBase) -> None:
    columns = guess(("platen temp (F)",), base)
    remember(library, ("platen temp (F)",), columns)
    again = remembered(library, ("platen temp (F)",))
    assert again is not None
    assert again.columns == (columns.columns[0].model_copy(update={"sure": True}),)


def test_what_holds_for_every_row_must_mean_something(base: RuleBase) -> None:
    assert in_every_row([("stage", "mold"), ("rubber", "natural rubber")], base)["stage"] == "mold"
    with pytest.raises(BadInput, match="'colour' means nothing here"):
        in_every_row([("colour", "red")], base)
