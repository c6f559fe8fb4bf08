"""`diagnose library import` and `merge`: cases in, from files or from another library."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from diagnose.cli.wrap import say, tell

if TYPE_CHECKING:
    from diagnose.library.csv_text import Sheet
    from diagnose.library.intake import Manner, Report
    from diagnose.library.lines import Read
    from diagnose.library.mapping import Columns
    from diagnose.library.store import Library
    from diagnose.rulebase.load import RuleBase

SHEETS = (".csv", ".tsv", ".txt")
SHOWN = 20
NOTHING = "Nothing was taken in."
STOPPED = 130
"""The exit code after Ctrl-C."""
ENCODINGS = {"utf-8": "UTF-8", "utf-8-sig": "UTF-8", "utf-16": "UTF-16", "cp1252": "Western European letters"}
BETWEEN = {",": "commas", ";": "semicolons", "\t": "tabs", "|": "bars"}
COMMON = (
    click.option("--dry-run", is_flag=True, help="Only show what would come in."),
    click.option("--again", is_flag=True, help="Take cases in even when the same is there already."),
    click.option("--update", is_flag=True, help="Where a case is in another state here, take the other's."),
    click.option("--from-shop", "shop", default="", metavar="NAME", help="They are another shop's."),
)


def manners(command: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command the options that say how to take in."""
    for option in reversed(COMMON):
        command = option(command)
    return command


@click.command("import")
@click.argument("files", nargs=-1, required=True, type=click.Path())
@click.option("--map", "meanings", multiple=True, metavar="'TITLE=FACT'", help="What a column means; - for nothing.")
@click.option("--unit", "unit_of", multiple=True, metavar="'TITLE=UNIT'", help="The unit of a column's bare numbers.")
@click.option("--value", "values", multiple=True, metavar="'CELL=MEANING'", help="What a word of your shop means.")
@click.option("--every", multiple=True, metavar="'NAME=VALUE'", help="What holds for every row.")
@click.option("--dates", type=click.Choice(("dmy", "mdy", "ymd")), help="The order of day, month and year.")
@click.option(
    "--decimal-comma/--decimal-point", default=None, help="With a comma 1,5 is one and a half, 1.500 fifteen hundred."
)
@click.option("--delimiter", default="", help="Between cells; found out unless said.")
@click.option("--yes", is_flag=True, help="The columns are right; ask nothing.")
@manners
@click.pass_obj
def import_command(
    given: dict[str, str], /, files: tuple[str, ...], meanings: tuple[str, ...], unit_of: tuple[str, ...],
    values: tuple[str, ...], every: tuple[str, ...], dates: str | None, decimal_comma: bool | None, delimiter: str,
    yes: bool, dry_run: bool, again: bool, update: bool, shop: str,
) -> int:  # fmt: skip
    """Take cases in from JSON Lines, case files (or a folder of them), or a shop's spreadsheet (CSV).

    A spreadsheet is looked through first: what each column means is shown, is asked to be right, and is remembered.
    """
    from diagnose.cli.names import pairs
    from diagnose.cli.shop import open_library, rules_base
    from diagnose.errors import BadInput
    from diagnose.library.csv_text import read_sheet
    from diagnose.library.intake import Manner
    from diagnose.library.mapping import in_every_row

    library, base = open_library(given), rules_base(given)
    manner = Manner(dry=dry_run, again=again, update=update, shop=shop)
    code = 0

    def columns_of(sheet: Sheet) -> tuple[Columns, bool]:
        columns, known = _columns(library, sheet, base, pairs(meanings), pairs(unit_of))
        more = {
            "values": {**columns.values, **{k.casefold(): v for k, v in pairs(values)}},
            "every": {**columns.every, **in_every_row(pairs(every), base)}, "dates": dates or columns.dates,
            "comma": columns.comma if decimal_comma is None else decimal_comma,
        }  # fmt: skip
        return columns.model_copy(update=more), known

    for file in files:
        if code == STOPPED:
            break
        try:
            if Path(file).suffix.lower() in SHEETS:
                sheet = read_sheet(Path(file), {"tab": "\t"}.get(delimiter, delimiter))
                columns, known = columns_of(sheet)
                done = _sheet(library, sheet, columns, base, manner, yes or known)
            else:
                done = _report(file, _take(library, manner, _read(file, base)), dry_run)
        except BadInput as error:
            tell(error.message())
            done = error.exit_code
        code = max(code, done)
    return code


def _read(file: str, base: RuleBase) -> Iterable[Read]:
    from diagnose.library.exchange_yaml import CASE_FILES, case_files, read_files
    from diagnose.library.lines import lines_of

    path = Path(file)
    if path.is_dir():
        return read_files(case_files(path), base)
    return read_files([path], base) if path.suffix.lower() in CASE_FILES else lines_of(path)


def _columns(
    library: Library, sheet: Sheet, base: RuleBase, meanings: list[tuple[str, str]], unit_of: list[tuple[str, str]]
) -> tuple[Columns, bool]:
    """Return how a sheet is read, and whether a person has said so before."""
    from diagnose.library.mapping import guess, refuse_meaningless, remembered, settled

    before = remembered(library, sheet.titles)
    columns = settled(before or guess(sheet.titles, base), meanings, unit_of, base)
    refuse_meaningless(columns, sheet.where)
    return columns, before is not None


def _sheet(library: Library, sheet: Sheet, columns: Columns, base: RuleBase, manner: Manner, sure: bool) -> int:
    """Show what the columns mean and what would come in; take it in once a person has said that it is right."""
    from dataclasses import replace

    from diagnose.library.exchange_csv import read_rows
    from diagnose.library.mapping import remember

    for line in _meanings(sheet, columns):
        say(line)
    if not sure or manner.dry:
        dry = _take(library, replace(manner, dry=True), read_rows(sheet, columns, base))
        code = _report(sheet.where, dry, True)
        if manner.dry or dry.stopped:
            return code
        if not sys.stdin.isatty():
            say(f"{NOTHING} Say --yes when the columns are right, or --map 'TITLE=FACT'.")
            return 2
        try:
            right = click.confirm("Are the columns right, and shall these cases be taken in?")
        except click.Abort:
            say(f"\n{NOTHING}")
            raise
        if not right:
            say(f"{NOTHING} --map 'TITLE=FACT' says what a column means, --unit 'TITLE=UNIT' its unit.")
            return 0
    report = _take(library, manner, read_rows(sheet, columns, base))
    if not report.stopped:
        remember(library, sheet.titles, columns)
    return _report(sheet.where, report, False)


def _meanings(sheet: Sheet, columns: Columns) -> Iterator[str]:
    from diagnose.library.mapping import IGNORED

    encoding = ENCODINGS.get(sheet.encoding, sheet.encoding)
    between = BETWEEN.get(sheet.delimiter, repr(sheet.delimiter))
    rows = len(sheet.rows) + len(sheet.broken)
    yield f"{sheet.where}: {rows} row{'s' * (rows != 1)}, {encoding}, {between} between the cells"
    for i, column in enumerate(columns.columns):
        sample = next((cells[i] for _, cells in sheet.rows if i < len(cells) and cells[i]), "")
        meaning = "left out" if column.to == IGNORED else column.to + (f" in {column.unit}" if column.unit else "")
        doubt = "" if column.sure or column.to == IGNORED else "   (a guess)"
        yield f"  {column.title} -> {meaning}{doubt}" + (f"   e.g. {sample[:40]}" if sample else "")
    yield from (f"  in every row: {name} = {value}" for name, value in columns.every.items())
    yield from (f"  '{cell}' means {meaning}" for cell, meaning in columns.values.items())
    if columns.dates:
        yield f"  dates: {', '.join({'d': 'day', 'm': 'month', 'y': 'year'}[letter] for letter in columns.dates)}"
    if columns.comma:
        yield "  1,5 is one and a half, 1.500 fifteen hundred (--decimal-point for the other way)"
    left = sum(c.to == IGNORED for c in columns.columns)
    if left:
        yield f"{left} column{'s' * (left != 1)} left out; --map 'TITLE=FACT' says what a column means."
    if "defect" not in (*columns.every, *(c.to for c in columns.columns)):
        yield "No column says what is wrong: --map 'TITLE=defect', or --every 'defect=ID' for all rows."


def _take(library: Library, manner: Manner, read: Iterable[Read]) -> Report:
    from diagnose.cli.progress import progress
    from diagnose.library.intake import Intake

    with progress("Cases read", None) as more:
        return Intake(library, manner, more).take(read)


def _report(what: str, report: Report, dry: bool) -> int:
    """Say what came in and what did not; 0 when all could be read, 2 when something could not, 130 when stopped."""
    say(f"{what}: {report.taken} {'would come in' if dry else 'taken in'}")
    if report.updated:
        say(f"{report.updated} {'would take' if dry else 'took'} the other's state")
    other = "another state of {}, which stays as it is (--update takes the other's)"
    for items, words in ((report.same, "the same as {}"), (report.differing, other)):
        for where, name in items[:SHOWN]:
            say(f"{where}: {words.format(name)}")
        if len(items) > SHOWN:
            say(f"... and {len(items) - SHOWN} more like that")
    few = SHOWN if sys.stderr.isatty() else len(report.faults)
    for where, message in report.faults[:few]:
        at = "" if message.startswith(where) else f"{what}, {where}: "
        tell(f"{at}{message}")
    if len(report.faults) > few:
        tell(f"... and {len(report.faults) - few} more that cannot be used; 2> FILE writes all of them")
    if report.stopped:
        kept = not dry and (report.taken or report.updated)
        hint = "`diagnose library undo` takes out what came in; the same command again takes in the rest."
        say(f"Stopped before the end. {hint if kept else NOTHING}")
        return STOPPED
    return 2 if report.faults else 0


@click.command("merge")
@click.argument("other", metavar="PATH|URL")
@manners
@click.pass_obj
def merge_command(
    given: dict[str, str], /, other: str, dry_run: bool, again: bool, update: bool, shop: str
) -> int:  # fmt: skip
    """Take in every case of another library; of a case in both, the later state stays."""
    from diagnose.cli.progress import progress
    from diagnose.cli.shop import open_library, upgrading
    from diagnose.library import Library
    from diagnose.library.intake import Manner
    from diagnose.library.merge import merge

    library, source = open_library(given), Library(other, upgrading=upgrading)
    with progress("Cases read", None) as more:
        report = merge(library, source, Manner(dry=dry_run, again=again, update=update, shop=shop), more)
    return _report(source.shown, report, dry_run)
