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
    """A spreadsheet: titles, and rows with the numbers that a spreadsheet program shows."""

    where: str
    titles: tuple[str, ...]
    rows: tuple[tuple[int, tuple[str, ...]], ...]
    encoding: str
    delimiter: str


def read_sheet(path: Path, delimiter: str = "") -> Sheet:
    """Return the spreadsheet in a file; raise BadInput when it cannot be one."""
    where = str(path)
    text, encoding = _decoded(path)
    delimiter = delimiter or _delimiter(text)
    try:
        lines = [tuple(unquoted(cell.strip()) for cell in row) for row in _reader(text, delimiter)]
    except csv.Error as error:
        raise BadInput(
            f"cannot be read as a spreadsheet ({error}).", where=where, next_step="Save it as CSV again."
        ) from None
    filled = [(number, row) for number, row in enumerate(lines, 1) if any(row)]
    if not filled:
        raise BadInput("the file is empty.", where=where, next_step="The first row must hold the titles.")
    (_, titles), *rows = filled
    while titles and not titles[-1]:
        titles = titles[:-1]
    return Sheet(where, titles, tuple(rows), encoding, delimiter)


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
        raise BadInput("is no text file.", where=str(path), next_step="Save the sheet as CSV.")
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
