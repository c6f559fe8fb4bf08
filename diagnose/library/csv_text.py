"""CSV as shops have it: any usual delimiter, any usual encoding; formulas are text and never anything else."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from diagnose.errors import BadInput

DELIMITERS = ",;\t|"
SIZE_LIMIT = 200_000_000
_ACTIVE = re.compile(r"'*[=+\-@\t\r]")
"""A cell that a spreadsheet program would take for a formula, and one that was made harmless before."""


@dataclass(frozen=True)
class Sheet:
    """A spreadsheet: titles, each only once, and rows with the numbers that a spreadsheet program shows."""

    where: str
    titles: tuple[str, ...]
    rows: tuple[tuple[int, tuple[str, ...]], ...]
    encoding: str
    delimiter: str
    broken: tuple[tuple[int, BadInput], ...] = ()
    """Rows whose cells cannot be told apart."""


def read_sheet(path: Path, delimiter: str = "") -> Sheet:
    """Return the spreadsheet in a file; raise BadInput when it cannot be one."""
    where = str(path)
    if len(delimiter) > 1 or delimiter in ('"', "\r", "\n"):
        raise BadInput(f"'{delimiter}' cannot stand between cells.", where="--delimiter", next_step="Say , ; | or tab.")
    text, encoding = _decoded(path)
    delimiter = delimiter or _delimiter(text)
    filled: list[tuple[int, tuple[str, ...]]] = []
    broken: list[tuple[int, BadInput]] = []
    for number, row in enumerate(_rows(text, delimiter), 1):
        if isinstance(row, BadInput):
            broken.append((number, row))
        elif any(cells := tuple(unquoted(cell.strip()) for cell in row)):
            filled.append((number, cells))
    if broken and (not filled or broken[0][0] < filled[0][0]):
        raise BadInput(f"the titles: {broken[0][1].what}", where=where, next_step=broken[0][1].next_step)
    if not filled:
        raise BadInput("the file is empty.", where=where, next_step="The first row must hold the titles.")
    (_, titles), *rows = filled
    return Sheet(where, _each_once(titles), tuple(rows), encoding, delimiter, tuple(broken))


def _rows(text: str, delimiter: str) -> Iterator[list[str] | BadInput]:
    """Yield the rows of a text; one with a quotation mark that is never closed would swallow those after it."""
    taken: list[str] = []

    def lines() -> Iterator[str]:
        for line in io.StringIO(text, newline=""):
            taken.append(line)
            yield line

    reader = csv.reader(lines(), delimiter=delimiter, strict=True)
    while True:
        taken.clear()
        first = reader.line_num + 1
        try:
            yield next(reader)
        except StopIteration:
            return
        except csv.Error:
            yield _loosely(taken, delimiter) or BadInput(
                f"a quotation mark is opened and not closed where its cell ends (lines {first} to {reader.line_num}).",
                next_step="Close it, or write it twice where it belongs to the text.",
            )


def _loosely(lines: list[str], delimiter: str) -> list[str] | None:
    """Return the cells of a single line in which quotation marks stand where they should not."""
    try:
        return next(csv.reader(lines, delimiter=delimiter)) if len(lines) == 1 else None
    except csv.Error:
        return None


def _each_once(titles: tuple[str, ...]) -> tuple[str, ...]:
    """Return the titles, those that are missing or there before with a number, without empty ones at the end."""
    while titles and not titles[-1]:
        titles = titles[:-1]
    found: dict[str, str] = {}
    for number, title in enumerate(titles, 1):
        name = own = title or f"column {number}"
        count = 1
        while name.casefold() in found:
            count += 1
            name = f"{own} ({count})"
        found[name.casefold()] = name
    return tuple(found.values())


def _decoded(path: Path) -> tuple[str, str]:
    try:
        if path.stat().st_size > SIZE_LIMIT:
            raise BadInput(f"is larger than {SIZE_LIMIT // 1_000_000} MB.", where=str(path), next_step="Split it.")
        data = path.read_bytes()
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise BadInput(f"cannot be read ({reason}).", where=str(path), next_step="Check the name.") from None
    for mark, encoding in ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16")):
        if data.startswith(mark):
            return data.decode(encoding, errors="replace"), encoding
    if b"\0" in data:
        raise BadInput("is no text file.", where=str(path), next_step="Save the sheet as CSV, in UTF-8.")
    try:
        return data.decode("utf-8"), "utf-8"
    except UnicodeDecodeError:
        # The encoding of Western European Windows; it has a letter for nearly every byte.
        return data.decode("cp1252", errors="replace"), "cp1252"


def _delimiter(text: str) -> str:
    """Return the delimiter that splits the first rows into the same number of cells, and into the most."""

    def score(delimiter: str) -> tuple[int, int]:
        widths = []
        try:
            for row in _reader(text[:50_000], delimiter):
                if any(row):
                    widths.append(len(row))
                if len(widths) == 20:
                    break
        except csv.Error:
            return 0, 0
        if not widths or widths[0] < 2:
            return 0, 0
        return sum(w == widths[0] for w in widths), widths[0]

    return max(DELIMITERS, key=score)


def _reader(text: str, delimiter: str) -> Iterator[list[str]]:
    return csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=False)


def write_sheet(titles: Iterable[str], rows: Iterable[Iterable[str]]) -> Iterator[str]:
    """Yield the lines of a CSV file in which nothing is active."""
    for row in (titles, *()):
        yield _line(row)
    for row in rows:
        yield _line(row)


def _line(cells: Iterable[str]) -> str:
    out = io.StringIO()
    csv.writer(out).writerow([harmless(cell) for cell in cells])
    return out.getvalue()


def harmless(cell: str) -> str:
    """Return a cell that no spreadsheet program takes for a formula; `unquoted` gives the cell back."""
    return "'" + cell if _ACTIVE.match(cell) else cell


def unquoted(cell: str) -> str:
    """Return a cell without the quotation mark that made it harmless."""
    return cell[1:] if cell.startswith("'") and _ACTIVE.match(cell) else cell
