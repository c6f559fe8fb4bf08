"""`diagnose teach`: lesson sheets and exercises."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from diagnose.consult import Consultant
    from diagnose.interview.quiz import Quiz
    from diagnose.model.exercise import Exercise, Marking

RESULT_COLUMNS = ("date", "student", "exercise", "defect", "level", "right", "minutes", "minutes enough", "score")


@click.group("teach")
def teach_command() -> None:
    """Lesson sheets and exercises for a class."""


@teach_command.command("sheet")
@click.argument("name", metavar="DEFECT|CAUSE|STAGE")
@click.option("--answers/--no-answers", default=True, help="With the answers to the tasks, on a page of their own.")
@click.option("--json", "as_json", is_flag=True, help="Print the sheet as JSON.")
@click.option("--html", "page", type=click.Path(), metavar="OUT", help="Write the sheet as a page to print.")
@click.pass_obj
def sheet_command(given: dict[str, str], name: str, answers: bool, as_json: bool, page: str | None) -> int:
    """A lesson sheet on a defect, a cause (by id) or a stage."""
    from diagnose.cli.screen import put
    from diagnose.cli.setup import consultant
    from diagnose.consult.worded import worded
    from diagnose.report.lesson import sheet_lines
    from diagnose.teach.sheet import sheet

    if page:
        return _page(given, name, answers, Path(page))
    of = consultant(given.get("--rules"), given["--units"])
    made = sheet(of, name)
    if as_json:
        click.echo(made.model_dump_json(indent=2))
        return 0
    put(lambda width: sheet_lines(worded(made, of.show.system), width, answers))
    return 0


def _page(given: dict[str, str], name: str, answers: bool, out: Path) -> int:
    from diagnose.cli.setup import consultant
    from diagnose.consult.worded import worded
    from diagnose.model.clean import clean
    from diagnose.report.lesson_page import lesson_page
    from diagnose.report.page import check_place, write_page
    from diagnose.teach.sheet import sheet

    check_place(out)  # before any work is done
    of = consultant(given.get("--rules"), given["--units"])
    write_page(lesson_page(worded(sheet(of, name), of.show.system), answers), out)
    click.echo(clean(f"{out}: written"))
    return 0


@teach_command.command("quiz")
@click.argument("name", required=False)
@click.option("--list", "listing", is_flag=True, help="List the exercises that ship with the program.")
@click.option("--defect", help="An exercise on this defect.")
@click.option("--own-cases", is_flag=True, help="Take a confirmed case of this shop's library, its cause hidden.")
@click.option("--level", type=click.IntRange(1, 3), help="1 to 3: how much is told at the start.")
@click.option("--seed", type=int, default=1, show_default=True, help="The same seed makes the same exercise.")
@click.option("--student", default="", help="Whose attempt this is, for the class results.")
@click.option(
    "--results",
    type=click.Path(),
    multiple=True,
    metavar="FILE",
    help="Add the marks to this CSV file, of a student or of the class; can be repeated.",
)
@click.option("--json", "as_json", is_flag=True, help="Print the marking as JSON.")
@click.pass_obj
def quiz_command(
    given: dict[str, str], name: str | None, listing: bool, defect: str | None, own_cases: bool, level: int | None,
    seed: int, student: str, results: tuple[str, ...], as_json: bool,
) -> int:  # fmt: skip
    """Find the hidden cause of a bad part, with few and cheap questions.

    NAME is a number or words from --list. Without one, an exercise is made from the rules or, with --own-cases, taken
    from this shop's confirmed cases.
    """
    from diagnose.cli.setup import consultant

    of = consultant(given.get("--rules"), given["--units"])
    if listing:
        return _list(of, level, defect)
    for file in results:
        _check_results(Path(file))  # before any work is done
    if own_cases:
        exercise = _own(given, of, name, defect or "", level, seed)
    else:
        exercise = _exercise(of, name, defect, level, seed)
    marking = _hold(of, exercise)
    if marking is None:
        return 130
    if as_json:
        click.echo(marking.model_dump_json(indent=2))
    else:
        from diagnose.cli.screen import put
        from diagnose.consult.worded import worded
        from diagnose.report.marking import marking_lines

        said = worded(marking, of.show.system)
        named = {marking.named: of.show.says(of.base.cause_name(marking.named))}
        put(lambda width: marking_lines(said, width, named))
    for file in results:
        _note(Path(file), student, marking)
    return 0


def _list(of: Consultant, level: int | None, defect: str | None) -> int:
    from diagnose.rulebase.exercises import shipped_exercises

    click.echo("All parts here are invented.")
    for number, e in enumerate(shipped_exercises(of.base), 1):
        if level in (None, e.level) and defect in (None, e.case.defect):
            click.echo(f"{number:3}  level {e.level}  {of.base.defect(e.case.defect).name}: {e.title}")
    return 0


def _exercise(of: Consultant, name: str | None, defect: str | None, level: int | None, seed: int) -> Exercise:
    from diagnose.consult.world import written_settings
    from diagnose.rulebase.exercises import named_exercise
    from diagnose.teach.made import make

    if name:
        return named_exercise(of.base, name)
    choose = Random(seed)
    if defect is None:
        defect = choose.choice(sorted(of.base.defect_files))
    else:
        of.base.defect(defect)  # an unknown one is named here, before anything is drawn

    def dice(stream: str) -> Callable[[], float]:
        return Random(f"{seed}/{stream}").random

    chosen: Any = level or choose.choice((1, 2, 3))
    return make(of, defect, chosen, dice, written_settings(of.base))


def _own(
    given: dict[str, str], of: Consultant, name: str | None, defect: str, level: int | None, seed: int
) -> Exercise:
    """Return an exercise from the shop's confirmed cases; the seed says in which order they are tried."""
    from diagnose.cli.shop import open_library
    from diagnose.errors import BadInput
    from diagnose.library.at_hand import something_kept
    from diagnose.library.find import Wanted
    from diagnose.teach.own_cases import from_cases

    if name:
        raise BadInput(
            f"'{name:.40}' names a shipped exercise.", where="--own-cases", next_step="Leave out one of the two."
        )
    if defect:
        of.base.defect(defect)
    if not something_kept(given.get("--library")):
        raise BadInput(
            "there is no case library yet.", where="--own-cases",
            next_step="Keep and confirm cases first, or leave the option out.",
        )  # fmt: skip
    library = open_library(given)
    lines, _ = library.find(Wanted(defect=defect))
    names = sorted(line.name for line in lines if line.causes)
    choose = Random(f"{seed}/own cases")
    choose.shuffle(names)
    chosen: Any = level or choose.choice((1, 2, 3))
    return from_cases(of, ((one, library.get(one, of.base)) for one in names), chosen, defect)


def _hold(of: Consultant, exercise: Exercise) -> Marking | None:
    from diagnose.cli.talk import say
    from diagnose.interview.quiz import Quiz
    from diagnose.model.clean import clean
    from diagnose.teach.bench import Bench

    quiz = Quiz(Bench(of, exercise))
    for line in quiz.opening():
        say(line)
    for typed in _typed(quiz):
        said = quiz.hear(clean(typed))
        for line in said.lines:
            say(line)
        if said.over:
            return said.marking
    say("Nothing was marked: it ended before hand in.")
    return None


def _typed(quiz: Quiz) -> Iterator[str]:
    """Yield what is typed, or the lines that come through a pipe, until they end."""
    if not sys.stdin.isatty():
        yield from sys.stdin
        return
    while True:
        try:
            yield input("> ")
        except (EOFError, KeyboardInterrupt):
            return


def _check_results(path: Path) -> None:
    """Raise BadInput where marks could not be added, or where a file is of something else."""
    import csv

    from diagnose.errors import BadInput

    if path.is_dir() or not path.parent.is_dir():
        what = "this is a folder." if path.is_dir() else f"there is no folder '{path.parent}'."
        raise BadInput(what, where=str(path), next_step="Name a CSV file with --results.")
    try:
        text = path.read_bytes()[:400].decode("utf-8-sig", "replace") if path.exists() else ""
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        raise BadInput(f"cannot be read ({why}).", where=str(path), next_step="Name another.") from None
    if text and tuple(next(csv.reader(text.splitlines()), ())) != RESULT_COLUMNS:
        raise BadInput(
            "this file holds something other than marks.", where=str(path), next_step="Name another with --results."
        )


def _note(path: Path, student: str, m: Marking) -> None:
    """Add a line to the class results; the file is made with its head when it is not there."""
    import csv
    from datetime import date

    from diagnose.errors import BadInput
    from diagnose.model.clean import clean, harmless_cell

    try:
        new = not path.exists() or path.stat().st_size == 0
        with path.open("a", newline="", encoding="utf-8") as file:
            writer = csv.writer(file)
            if new:
                writer.writerow(RESULT_COLUMNS)
            row = (
                f"{date.today():%Y-%m-%d}", clean(student), m.exercise, m.defect, m.level, "yes" if m.right else "no",
                f"{m.minutes:.0f}", f"{m.minutes_enough:.0f}", m.score,
            )  # fmt: skip
            writer.writerow([harmless_cell(str(cell)) for cell in row])
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise BadInput(
            f"the marks cannot be added ({reason}).", where=str(path), next_step="Name another file with --results."
        ) from None
