"""A shop's spreadsheet: any usual form of it, every bad row by its number, formulas never more than text."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from diagnose.errors import BadInput
from diagnose.library.amounts import amount
from diagnose.library.csv_text import harmless, read_sheet, unquoted, write_sheet
from diagnose.library.exchange_csv import read_rows, write_rows
from diagnose.library.kept import Kept
from diagnose.library.mapping import Columns, guess, refuse_meaningless, settled
from diagnose.rulebase.load import RuleBase
from tests.library.invented import TEXT, a_case

SHEET = """\
Date,What is wrong,Part,Rubber,Platen temp (F),"Cure time, min",squeeze-out,Cause,Scrap cost,Remarks
2026-01-12,Soft or raw core,oak leaf,natural rubber,307,60,none,mold.pack-too-empty,12.50,"first, of the new frames"
2026-01-13,mold.visible-seam,fern,natural rubber,153 C,1 h,none,,,
"""


def rows(tmp_path: Path, base: RuleBase, text: str | bytes, **more: object) -> list[tuple[str, Kept | BadInput]]:
    path = tmp_path / "sheet.csv"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    sheet = read_sheet(path)
    columns = guess(sheet.titles, base).model_copy(update=more)
    return list(read_rows(sheet, columns, base))


def good(found: list[tuple[str, Kept | BadInput]]) -> list[Kept]:
    wrong = [error.message() for _, error in found if isinstance(error, BadInput)]
    assert wrong == []
    return [kept for _, kept in found if isinstance(kept, Kept)]


def test_units_stand_in_the_title_or_in_the_cell(tmp_path: Path, base: RuleBase) -> None:
    first, second = good(rows(tmp_path, base, SHEET))
    # 307 F = (307 - 32) x 5/9 + 273.15 K; 153 C = 426.15 K.
    assert first.settings["platen temperature"].value == pytest.approx(425.928, abs=1e-3)
    assert first.settings["platen temperature"].typed == "307 F"
    assert second.settings["platen temperature"].value == pytest.approx(426.15)
    assert [k.settings["cure time"].value for k in (first, second)] == [3600.0, 3600.0]


def test_words_of_the_shop_become_words_of_the_rules(tmp_path: Path, base: RuleBase) -> None:
    first, second = good(rows(tmp_path, base, SHEET))
    assert (first.defect, second.defect) == ("mold.soft-core", "mold.visible-seam")
    assert (first.materials, first.observations) == ({"rubber": "natural rubber"}, {"squeeze-out": "none"})
    assert (first.confirmed, first.cost, first.notes) == (("mold.pack-too-empty",), 1250, "first, of the new frames")
    assert (first.date, first.part) == ("2026-01-12", "oak leaf")


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_the_usual_encodings_are_read(tmp_path: Path, base: RuleBase, encoding: str) -> None:
    (kept,) = good(rows(tmp_path, base, "part;notes\nRäder;für 20 °C\n".encode(encoding)))
    assert (kept.part, kept.notes) == ("Räder", "für 20 °C")


@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
def test_the_usual_delimiters_are_found_out(tmp_path: Path, base: RuleBase, delimiter: str) -> None:
    lines = [["part", "notes"], ["a", "one, two"], ["b", "x; y | z"], ["c", ""]]
    out = io.StringIO()
    csv.writer(out, delimiter=delimiter).writerows(lines)
    assert [k.part for k in good(rows(tmp_path, base, out.getvalue()))] == ["a", "b", "c"]


def test_decimal_commas_are_read_when_asked_for(tmp_path: Path, base: RuleBase) -> None:
    text = "part;cure time (h);rubber thickness (mm)\nring;1,5;25,4\n"
    (kept,) = good(rows(tmp_path, base, text, comma=True))
    assert kept.settings["cure time"].value == 5400.0
    assert kept.settings["rubber thickness"].value == pytest.approx(0.0254)
    assert kept.settings["cure time"].typed == "1.5 h"


def test_every_bad_row_is_named_by_its_number_with_every_bad_cell(tmp_path: Path, base: RuleBase) -> None:
    text = (
        "date,defect,cure time (min),squeeze-out\n"
        "2026-01-01,mold.visible-seam,60,none\n"
        "2026-01-02,mold.visibel-seam,sixty,purple\n"
        "\n"
        "2026-01-03,mold.visible-seam,60,none,too,many\n"
        "2026-01-04,mold.visible-seam,9999999,none\n"
        "2026-01-05,mold.voids,45,\n"
    )
    found = rows(tmp_path, base, text)
    assert [where for where, _ in found] == ["row 2", "row 3", "row 5", "row 6", "row 7"]
    bad = {where: error.message() for where, error in found if isinstance(error, BadInput)}
    assert list(bad) == ["row 3", "row 5", "row 6"]
    assert "mold.visibel-seam" in bad["row 3"]
    assert "sixty" in bad["row 3"]
    assert "purple" in bad["row 3"]
    assert "6 cells" in bad["row 5"]


def test_a_formula_is_shown_and_never_obeyed(tmp_path: Path, base: RuleBase) -> None:
    text = 'part,cure time (min),notes\nring,=6*10,"=cmd|\' /C calc\'!A0"\nbell,60,"=HYPERLINK(""http://x"")"\n'
    first, second = rows(tmp_path, base, text)
    assert isinstance(first[1], BadInput)
    assert "'=6*10' is a formula" in first[1].message()
    assert isinstance(second[1], Kept)
    assert second[1].notes == '=HYPERLINK("http://x")'
    (line,) = [line for line in write_rows(lambda: [second[1]], base) if "bell" in line]  # type: ignore[list-item]
    assert "'=HYPERLINK" in line


@given(cell=TEXT | st.sampled_from(("=1+1", "+1", "-5 C", "@x", "\tx", "'=x", "''=x", "'x", "=cmd|'/C calc'!A0")))
def test_no_cell_that_is_written_is_active_and_each_comes_back(cell: str) -> None:
    written = harmless(cell)
    assert not written.startswith(("=", "+", "-", "@", "\t", "\r"))
    assert unquoted(written) == cell


@settings(max_examples=40, suppress_health_check=list(HealthCheck))
@given(cells=st.lists(st.tuples(TEXT.map(str.strip), TEXT.map(str.strip)), min_size=1, max_size=5))
def test_cells_with_anything_in_them_come_back_from_a_written_sheet(
    tmp_path: Path, cells: list[tuple[str, str]]
) -> None:
    path = tmp_path / "out.csv"
    path.write_text("".join(write_sheet(("one", "two"), cells)), encoding="utf-8", newline="")
    back = [row for _, row in read_sheet(path, ",").rows]
    assert back == [pair for pair in cells if any(pair)]


def test_a_written_sheet_is_read_again_with_what_was_told(tmp_path: Path, base: RuleBase) -> None:
    cases = [
        a_case(confirmed=("mold.pack-too-empty",), cost=1250, currency="EUR"),
        a_case(part="=fern", observations={"layer peel": "not known"}, other_cause="the hose"),
    ]
    path = tmp_path / "out.csv"
    path.write_text("".join(write_rows(lambda: cases, base)), encoding="utf-8", newline="")
    sheet = read_sheet(path)
    back = good(list(read_rows(sheet, guess(sheet.titles, base), base)))
    told = [k.model_copy(update={"name": "", "said": None}) for k in cases]
    assert back == told


@pytest.mark.parametrize(
    ("cells", "dates"),
    [
        (["31.12.2025", "01.02.2026"], ["2025-12-31", "2026-02-01"]),
        (["12/31/2025", "01/02/2026"], ["2025-12-31", "2026-01-02"]),
        (["2026/3/4", "2026-03-04T10:00"], ["2026-03-04", "2026-03-04"]),
        (["31.12.25"], ["2025-12-31"]),
    ],
)
def test_dates_are_read_as_the_column_shows_them(
    tmp_path: Path, base: RuleBase, cells: list[str], dates: list[str]
) -> None:
    text = "date,part\n" + "".join(f"{cell},x\n" for cell in cells)
    assert [k.date for k in good(rows(tmp_path, base, text))] == dates


def test_a_date_that_can_be_two_is_asked_for(tmp_path: Path, base: RuleBase) -> None:
    ((_, error),) = rows(tmp_path, base, "date,part\n01/02/2026,x\n")
    assert isinstance(error, BadInput)
    assert "--dates" in error.message()
    assert [k.date for k in good(rows(tmp_path, base, "date,part\n01/02/2026,x\n", dates="mdy"))] == ["2026-01-02"]


def test_words_and_values_of_a_shop_are_told_once(tmp_path: Path, base: RuleBase) -> None:
    text = "fault,part\nseam like a worm,ring\n"
    ((_, error),) = rows(tmp_path, base, text)
    assert isinstance(error, BadInput)
    assert "--value" in error.message()
    (kept,) = good(rows(tmp_path, base, text, values={"seam like a worm": "mold.visible-seam"}))
    assert kept.defect == "mold.visible-seam"
    (kept,) = good(rows(tmp_path, base, "part\nring\n", every={"defect": "mold.voids"}))
    assert kept.defect == "mold.voids"


@pytest.mark.parametrize(
    ("text", "hundredths"),
    [("12.50", 1250), ("12,5", 1250), ("$ 1,250.00", 125000), ("1.250,00 EUR", 125000), ("7", 700), ("1 000", 100000)],
)
def test_amounts_are_read_as_people_write_them(text: str, hundredths: int) -> None:
    assert amount(text) == hundredths


@pytest.mark.parametrize("text", ["", "much", "-5", "1.2.3", "12.505.1"])
def test_an_amount_that_is_none_is_refused(text: str) -> None:
    with pytest.raises(BadInput, match="is no amount"):
        amount(text)


@pytest.mark.parametrize("content", [b"", b"\n\n", b"PK\x03\x04\x00\x00"])
def test_a_file_that_is_no_sheet_is_refused(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "s.csv"
    path.write_bytes(content)
    with pytest.raises(BadInput, match=r"s\.csv"):
        read_sheet(path)


def test_columns_without_a_meaning_are_left_out(tmp_path: Path, base: RuleBase) -> None:
    (kept,) = good(rows(tmp_path, base, "part,zodiac sign\nring,aries\n"))
    assert kept == Kept(part="ring")
    assert isinstance(guess(("zodiac sign",), base), Columns)


def test_a_name_that_several_stages_use_is_asked_for_until_the_stage_is_said(tmp_path: Path, base: RuleBase) -> None:
    ((_, error),) = rows(tmp_path, base, "defect,part\nvisible-seam,ring\n")
    assert isinstance(error, BadInput)
    assert "mold.visible-seam or wax.visible-seam" in error.message()
    (kept,) = good(rows(tmp_path, base, "stage,defect,part\nmold,visible-seam,ring\n"))
    assert kept.defect == "mold.visible-seam"


def test_titles_that_are_there_twice_or_missing_shift_no_cell(tmp_path: Path, base: RuleBase) -> None:
    text = "part,notes,Notes,defect,,cure time (min)\nring,first,second,mold.soft-core,x,45\n"
    path = tmp_path / "sheet.csv"
    path.write_text(text)
    sheet = read_sheet(path)
    assert sheet.titles == ("part", "notes", "Notes (2)", "defect", "column 5", "cure time (min)")
    columns = settled(guess(sheet.titles, base), [("Notes (2)", "outcome")], [], base)
    (kept,) = good(list(read_rows(sheet, columns, base)))
    assert (kept.part, kept.notes, kept.defect, kept.trials[0].outcome) == (
        "ring", "first", "mold.soft-core", "second",
    )  # fmt: skip
    assert kept.settings["cure time"].value == 2700.0


def test_a_quotation_mark_that_is_never_closed_swallows_no_row_in_silence(tmp_path: Path, base: RuleBase) -> None:
    text = (
        'part,notes\nring,good\nbell,"a note\nfern,b\nleaf,"c"\nclip,"two\nlines"\n'
        'rod,3/8" thick\nbar,"5" long"\nlast,"open\nlost,x\n'
    )
    found = rows(tmp_path, base, text)
    assert [k.part for _, k in found if isinstance(k, Kept)] == ["ring", "clip", "rod", "bar"]
    bad = {where: error.message() for where, error in found if isinstance(error, BadInput)}
    assert list(bad) == ["row 3", "row 7"]
    assert "lines 3 to 5" in bad["row 3"]
    assert "lines 10 to 11" in bad["row 7"]


def test_one_wrong_date_makes_no_other_doubtful(tmp_path: Path, base: RuleBase) -> None:
    found = rows(tmp_path, base, "date,part\n31.12.2025,a\n32.13.2025,b\n01.02.2026,c\n2026-02-31,d\n")
    assert [k.date for _, k in found if isinstance(k, Kept)] == ["2025-12-31", "2026-02-01"]
    wrong = [error.message() for _, error in found if isinstance(error, BadInput)]
    assert wrong == [f"date: there is no day '{day}'. Write 2026-11-25." for day in ("32.13.2025", "2026-02-31")]


def test_where_dates_of_both_orders_stand_only_those_that_can_be_two_are_asked_for(
    tmp_path: Path, base: RuleBase
) -> None:
    found = rows(tmp_path, base, "date,part\n31.12.2025,a\n12.31.2025,b\n05.05.2026,c\n01.02.2026,d\n")
    assert [k.date for _, k in found if isinstance(k, Kept)] == ["2025-12-31", "2025-12-31", "2026-05-05"]
    assert "--dates" in found[3][1].message()  # type: ignore[union-attr]
    found = rows(tmp_path, base, "date,part\n12.31.2025,b\n", dates="dmy")
    assert "It is one with --dates mdy." in found[0][1].message()  # type: ignore[union-attr]


@pytest.mark.parametrize("cell", ["2026-13", "2026-00", "1.2.202"])
def test_a_month_or_year_that_is_none_is_refused(tmp_path: Path, base: RuleBase, cell: str) -> None:
    ((_, error),) = rows(tmp_path, base, f"date,part\n{cell},x\n")
    assert isinstance(error, BadInput)


def test_a_bare_number_is_told_how_the_column_gets_its_unit(tmp_path: Path, base: RuleBase) -> None:
    ((_, error),) = rows(tmp_path, base, "part,platen temp\nring,307\n")
    assert isinstance(error, BadInput)
    assert "--unit 'platen temp=UNIT'" in error.message()


def test_a_result_that_is_none_is_told_by_its_column_and_can_be_translated(tmp_path: Path, base: RuleBase) -> None:
    text = "part,trial,result\nring,longer cure,gut\n"
    ((_, error),) = rows(tmp_path, base, text)
    assert isinstance(error, BadInput)
    assert error.message().startswith("result: 'gut' is no result. Results: cured, better, same, worse.")
    (kept,) = good(rows(tmp_path, base, text, values={"gut": "cured"}))
    assert kept.trials[0].result == "cured"


def test_a_sheet_of_which_no_title_means_anything_is_refused_as_a_whole(tmp_path: Path, base: RuleBase) -> None:
    path = tmp_path / "scan.csv"
    path.write_bytes(b"%PDF-1.4\n1 0 obj\n<< /Type /Catalog >>\nendobj\n")
    columns = guess(read_sheet(path).titles, base)
    with pytest.raises(BadInput, match=r"scan\.csv: no title in its first row means anything here \('%PDF-1\.4'\)"):
        refuse_meaningless(columns, str(path))


def test_a_cell_goes_before_what_holds_for_every_row(tmp_path: Path, base: RuleBase) -> None:
    text = "part,defect\nring,mold.soft-core\nbell,\n"
    first, second = good(rows(tmp_path, base, text, every={"defect": "mold.voids", "stage": "mold"}))
    assert (first.defect, second.defect) == ("mold.soft-core", "mold.voids")


@pytest.mark.parametrize("delimiter", ["xx", '"', "\n"])
def test_what_cannot_stand_between_cells_is_refused(tmp_path: Path, delimiter: str) -> None:
    path = tmp_path / "s.csv"
    path.write_text("a,b\n")
    with pytest.raises(BadInput, match="cannot stand between cells"):
        read_sheet(path, delimiter)
