"""A shop's spreadsheet into kept cases, row by row, and kept cases into a spreadsheet."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import date
from typing import get_args

from rapidfuzz import process

from diagnose.errors import BadInput
from diagnose.library.amounts import amount
from diagnose.library.csv_text import Sheet, write_sheet
from diagnose.library.kept import Kept, Result, checked
from diagnose.library.lines import Read
from diagnose.library.mapping import IGNORED, Column, Columns
from diagnose.model.case import Recorded
from diagnose.model.vocabulary import NOT_KNOWN, STAGES
from diagnose.rulebase.cases import fact_value
from diagnose.rulebase.load import RuleBase

NOTHING = ("", "-", "--", "n/a", "na", "?")
SKIPPED = (NOT_KNOWN, "unknown")
_BARE = re.compile(r"[-+]?[\d\s.,/]+")
_DAY = re.compile(r"(\d{1,4})[./-](\d{1,2})[./-](\d{1,4})")
_WORDS_ALIKE = 70.0


def read_rows(sheet: Sheet, columns: Columns, base: RuleBase) -> Iterator[Read]:
    """Yield the case of each row with its row number, or everything that is wrong with the row."""
    rows = RowReader(sheet, columns, base)
    both: list[tuple[int, tuple[str, ...] | BadInput]] = [*sheet.rows, *sheet.broken]
    for number, cells in sorted(both, key=lambda row: row[0]):
        try:
            yield f"row {number}", cells if isinstance(cells, BadInput) else rows.read(cells)
        except BadInput as error:
            yield f"row {number}", error


class RowReader:
    """Reads rows by the columns' meanings."""

    def __init__(self, sheet: Sheet, columns: Columns, base: RuleBase) -> None:
        self.columns, self.base = columns, base
        self.order = columns.dates or _order(sheet, columns)
        self.values = {k.casefold(): v for k, v in columns.values.items()}
        self.stage = ""
        self.defects: dict[str, set[str]] = {}
        for defect in base.all_defects():
            for word in (*defect.words, defect.name, defect.id, defect.id.partition(".")[2]):
                self.defects.setdefault(word.casefold(), set()).add(defect.id)
        self.causes: dict[str, set[str]] = {d.casefold(): {d} for d in base.defect_files}
        for cause in base.causes.values():
            for word in (cause.name, cause.id, cause.id.partition(".")[2]):
                self.causes.setdefault(word.casefold(), set()).add(cause.id)

    def read(self, cells: tuple[str, ...]) -> Kept:
        """Return the case in a row; raise one BadInput that names every cell that cannot be used."""
        known = self.columns.columns
        if len(cells) > len(known) and any(cells[len(known) :]):
            raise BadInput(
                f"has {len(cells)} cells, the titles are {len(known)}.", next_step="Is a delimiter inside a text?"
            )
        # What holds for every row comes first: a cell that says something else goes before.
        told = [(Column(title=to, to=to), text) for to, text in self.columns.every.items()]
        told += [(c, cell) for c, cell in zip(known, cells, strict=False) if c.to != IGNORED]
        stages = [cell.casefold() for column, cell in told if column.to == "stage" and cell]
        self.stage = stages[-1] if stages and stages[-1] in STAGES else ""
        fields: dict[str, object] = {}
        faults: list[str] = []
        for column, cell in told:
            if cell.casefold() in NOTHING or column.to == "stage":
                continue
            try:
                self._tell(fields, column, cell)
            except BadInput as error:
                faults.append(f"{column.title}: {error.message()}")
        if faults:
            raise BadInput(" ".join(faults))
        if not (set(fields) - {"currency", "author"}):
            raise BadInput("says nothing that can be kept.")
        return checked(fields)

    def _tell(self, fields: dict[str, object], column: Column, cell: str) -> None:
        tell: Mapping[str, Callable[[str], object]] = {
            "defect": self._defect, "confirmed": self._confirmed, "date": self._date, "cost": amount,
        }  # fmt: skip
        if column.to in ("changed", "outcome", "result"):
            trial = dict(fields.get("trials", ({},))[0])  # type: ignore[index]
            fields["trials"] = ({**trial, column.to: self._result(cell) if column.to == "result" else cell},)
        elif column.to == "none of these":
            fields["other_cause"] = cell
        elif column.to in tell:
            fields[column.to] = tell[column.to](cell)
        elif column.to in ("part", "notes", "author", "currency"):
            fields[column.to] = cell
        else:
            self._fact(fields, column, cell)

    def _fact(self, fields: dict[str, object], column: Column, cell: str) -> None:
        words = self.base.words
        section = "materials" if column.to in words.slots else "observations"
        meant = self.values.get(cell.casefold(), cell)
        if meant.casefold() in SKIPPED:
            value: object = NOT_KNOWN
            section = "observations"
        elif column.to in words.settings:
            found = self._setting(column, meant)
            assert isinstance(found, Recorded)
            section, value = "settings", {"typed": found.typed, "value": found.value}
        else:
            value = self._answer(column.to, meant)
        fields.setdefault(section, {})[column.to] = value  # type: ignore[index]

    def _setting(self, column: Column, cell: str) -> object:
        try:
            return fact_value(self.base, column.to, self._quantity(column, cell))
        except BadInput as error:
            if column.unit or not _BARE.fullmatch(cell):
                raise
            whole = f"Or give the column one: --unit '{column.title}=UNIT'."
            raise BadInput(error.what, where=error.where, next_step=f"{error.next_step} {whole}".strip()) from None

    def _quantity(self, column: Column, cell: str) -> str:
        if cell.startswith("="):
            raise BadInput(f"'{cell}' is a formula.", next_step="Save the sheet with its values.")
        if self.columns.comma:
            cell = re.sub(r"(?<=\d)\.(?=\d{3}\b)", "", cell)
            cell = re.sub(r"(?<=\d),(?=\d)", ".", cell)
        return f"{cell} {column.unit}" if column.unit and _BARE.fullmatch(cell) else cell

    def _answer(self, name: str, cell: str) -> str:
        known = self.base.words.answers(name)
        same = [a for a in known if a.casefold() == cell.casefold()]
        begins = [a for a in known if a.casefold().startswith(cell.casefold())]
        if same or len(begins) == 1:
            return (same or begins)[0]
        found = fact_value(self.base, name, cell)
        assert isinstance(found, str)
        return found

    def _defect(self, cell: str) -> str:
        return _named("defect", self.values.get(cell.casefold(), cell), self.defects, self.stage)

    def _confirmed(self, cell: str) -> tuple[str, ...]:
        parts = [self.values.get(p.strip().casefold(), p.strip()) for p in re.split(r"[;|]", cell) if p.strip()]
        return tuple(_named("cause", part, self.causes, "") for part in parts)

    def _result(self, cell: str) -> str:
        meant = self.values.get(cell.casefold(), cell).casefold()
        known = [r for r in get_args(Result) if r]
        if meant not in known:
            hint = f"Results: {', '.join(known)}. Or say --value '{cell}=RESULT'."
            raise BadInput(f"'{cell}' is no result.", next_step=hint)
        return meant

    def _date(self, cell: str) -> str:
        day = cell.split("T")[0].split(" ")[0]
        if re.fullmatch(r"\d{4}(-(0[1-9]|1[0-2]))?", day):
            return day
        parts = _DAY.fullmatch(day)
        if parts is None:
            raise BadInput(f"'{cell}' is no date.", next_step="Write 2026-11-25.")
        orders = ("ymd",) if len(parts[1]) == 4 else (self.order,) if self.order else ("dmy", "mdy")
        readings = {found for order in orders if (found := _day(parts, order))}
        if len(readings) > 1:
            raise BadInput(f"'{cell}' can be two dates.", next_step="Say --dates dmy or --dates mdy.")
        if not readings:
            other = [order for order in ("dmy", "mdy", "ymd") if _day(parts, order)]
            hint = f"It is one with --dates {' or '.join(other)}." if other else "Write 2026-11-25."
            raise BadInput(f"there is no day '{cell}'.", next_step=hint)
        return readings.pop()


def _day(parts: re.Match[str], order: str) -> str:
    """Return the day that three numbers in an order give, or nothing when there is no such day."""
    at = {letter: int(parts[order.index(letter) + 1]) for letter in "ymd"}
    year = at["y"] + 2000 if at["y"] < 100 else at["y"]
    try:
        return f"{date(year, at['m'], at['d']):%Y-%m-%d}" if year >= 1000 else ""
    except ValueError:
        return ""


def _order(sheet: Sheet, columns: Columns) -> str:
    """Return the order of day and month that the dates of a sheet show, or nothing when they never or both ways do."""
    where = [i for i, c in enumerate(columns.columns) if c.to == "date"]
    found: set[str] = set()
    for _, cells in sheet.rows:
        for i in where:
            parts = _DAY.match(cells[i]) if i < len(cells) else None
            if parts and len(parts[1]) < 4:
                can = [order for order in ("dmy", "mdy") if _day(parts, order)]
                found.update(can if len(can) == 1 else ())
    return found.pop() if len(found) == 1 else ""


def _named(what: str, cell: str, known: Mapping[str, set[str]], stage: str) -> str:
    """Return the one id that a cell names, by id, name or word; a near miss is suggested, never taken."""
    meant = sorted(i for i in known.get(cell.casefold(), ()) if not stage or i.startswith(f"{stage}."))
    if len(meant) == 1:
        return meant[0]
    if meant:
        raise BadInput(
            f"'{cell}' can be {' or '.join(meant)}.", next_step=f"Say --value '{cell}=ID' or --every stage=..."
        )
    near = process.extractOne(cell.casefold(), list(known), score_cutoff=_WORDS_ALIKE)
    hint = f"Did you mean '{sorted(known[near[0]])[0]}'?" if near else "`diagnose rules list` shows all."
    raise BadInput(f"'{cell}' is no {what} known here.", next_step=f"{hint} Or say --value '{cell}=ID'.")


FIXED = ("name", "date", "defect", "part", "state", "confirmed", "none of these", "notes", "author", "cost", "currency")


def write_rows(kepts: Callable[[], Iterable[Kept]], base: RuleBase) -> Iterator[str]:
    """Yield the lines of a spreadsheet: one row for each case, one column for each fact that any of them has."""
    facts: dict[str, None] = {}
    for kept in kepts():
        facts.update(dict.fromkeys(fact.name for fact in kept.facts()))
    names = sorted(facts)
    yield from write_sheet((*FIXED, *names), (_cells(kept, names) for kept in kepts()))


def _cells(kept: Kept, names: Iterable[str]) -> Iterator[str]:
    cost = f"{kept.cost // 100}.{kept.cost % 100:02d}" if kept.cost is not None else ""
    yield from (
        kept.name, kept.date, kept.defect, kept.part, kept.state, "; ".join(kept.confirmed), kept.other_cause,
        kept.notes, kept.author, cost, kept.currency,
    )  # fmt: skip
    told = {fact.name: fact.typed or fact.answer for fact in kept.facts()}
    for name in names:
        yield told.get(name, "")
